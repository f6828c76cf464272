"""The minutes of a session against a walk through it with a clock in hand, written without `check.minutes`.

The walk goes through what is printed, event by event: get ready, each repetition, change sides, rest, go to the next
exercise, walk to the next block. Rests are those of the page's own timers where the text states one.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.deliver.page import page_view
from ferrule.fit.runner import fit_runner
from ferrule.fit.verify.amounts import session_min
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.squad import Anchor, KitItem, Runner
from ferrule.programme.reader import read_programme

Event = tuple[str, float]
"""What is done, and its seconds."""

LINES = (
    "Squat, half: 8-10", "Squat, half: 6, tempo 3-1-2", "Squat, half: 8, pause 2 s", "Press-up: 8-12, 3 RIR",
    "Press-up, knees: sets 10, 8, 6", "Split squat: 6-8/side", "Split squat: 8/side, side rest 20 s",
    "Step-up: left 10, right 8", "Front plank: 30 s", "Side plank: 20-30 s/side", "Skip, low: 20 contacts",
    "Lateral lunge: 10 total", "Lateral lunge: 12 alternating", "Bridge, one leg: 6/side, tempo 2-0-x",
    "Squat, half: 8, rest 45 s", "Press-up: 3+3+3", "Bird dog: 6/side", "Squat, half: 10, drop 6",
)  # fmt: skip
HEADS = (
    "Warm-up, 1 round", "Straight, 3 sets, rest 60-75 s", "Straight, 2 sets", "Pair {}, 3 rounds, rest 75-90 s",
    "Pair {}, 2 rounds", "Circuit {}, 3 rounds, between 10 s, rest 90 s", "Circuit {}, 2 rounds",
)  # fmt: skip
PLAIN_REST_S = {"warm-up": 0.0, "cool-down": 0.0, "straight": 90.0, "pair": 60.0, "circuit": 60.0}
PLAIN_NEXT_S = {"warm-up": 5.0, "cool-down": 5.0, "straight": 60.0, "pair": 10.0, "circuit": 10.0}
"""What stands in docs/fit.md for a rest the text does not state."""


PLACE = Span("squad.csv", 2, 1)
MONDAY = date(2026, 1, 19)
LIBRARY, HOUSE = load_library()[0], House()
RUNNER = Runner(
    "T01", "Tess U", "some", (KitItem("mat"), KitItem("step", height_cm=30), KitItem("chair")), (0, 2, 4), (),
    Anchor("from", date(2026, 1, 5), PLACE), PLACE, birth_year=1990, sex="female", mass_kg=60.0, minutes=90,
)  # fmt: skip


@st.composite
def texts(draw: st.DrawFn) -> str:
    """A session of two or three blocks of lines of every kind of amount."""
    blocks = []
    for n in range(draw(st.integers(2, 3))):
        head = draw(st.sampled_from(HEADS if n else HEADS[1:]))
        many = 2 if head.startswith("Pair") else draw(st.integers(2, 3))
        lines = draw(
            st.lists(st.sampled_from(LINES), min_size=many, max_size=many, unique_by=lambda x: x.split(":")[0])
        )
        if not head.startswith("Straight"):
            lines = [x for x in lines if "sets" not in x] or ["Squat, half: 8"]
        blocks.append(head.format("ABC"[n]) + "\n\n" + "\n".join(f"- {x}" for x in lines))
    body = "\n\n".join(blocks)
    return (
        f"---\nprogramme: Clock\nweeks: 6\n---\n\n## Cycle 1, weeks 1-6: One\n\n### Session 1: all, 90 min\n\n{body}\n"
    )


def walk(session: FittedSession, library: Library) -> Iterator[Event]:
    for n, block in enumerate(session.blocks):
        if n:
            yield "walk to the next block", 60.0
        yield from _block(block, library)


def _block(block: FittedBlock, library: Library) -> Iterator[Event]:
    rest = PLAIN_REST_S[block.kind] if block.rest_s is None else (block.rest_s.low + block.rest_s.high) / 2
    to_next = PLAIN_NEXT_S[block.kind] if block.between_s is None else (block.between_s.low + block.between_s.high) / 2
    last = block.items[-1]
    if block.kind == "straight":
        for item in block.items:
            yield "get ready", _ready(item, library)
            for number in range(item.sets):
                yield from _set(item, number, library)
                if number + 1 < item.sets:
                    yield "rest", rest if item.rest_s is None else item.rest_s.middle
            if item is not last:
                yield "go to the next", to_next
        return
    if block.rest_s is None and last.rest_s is not None:
        rest = last.rest_s.middle
    for number in range(block.rounds):
        for item in block.items:
            if number == 0:
                yield "get ready", _ready(item, library)
            yield from _set(item, number, library)
            if item is not last:
                yield "go to the next", to_next if item.rest_s is None else item.rest_s.middle
        if number + 1 < block.rounds:
            yield "rest", rest


def _ready(item: FittedItem, library: Library) -> float:
    return library.variants[item.variant_id].setup_s


def _set(item: FittedItem, number: int, library: Library) -> Iterator[Event]:
    variant = library.variants[item.variant_id]
    rep_s = variant.rep_s
    if item.tempo is not None:
        phases = (item.tempo.down, item.tempo.pause, item.tempo.up, item.tempo.top or 0.0)
        rep_s = sum(0.5 if p == "x" else float(p) for p in phases)
    rep_s += item.pause_s or 0.0
    change = 5.0 if item.side_rest_s is None else item.side_rest_s
    if item.left_right is not None:
        yield "left", item.left_right[0] * rep_s
        yield "change sides", change
        yield "right", item.left_right[1] * rep_s
        return
    for side in range(2 if item.per_side else 1):
        if side:
            yield "change sides", change
        yield from _one_side(item, number, rep_s)


def _one_side(item: FittedItem, number: int, rep_s: float) -> Iterator[Event]:
    if item.hold_s is not None:
        yield "hold", (item.hold_s.low + item.hold_s.high) / 2
    elif item.contacts is not None:
        yield "land", item.contacts.middle * rep_s
    elif item.per_set:
        yield "repetitions", item.per_set[number] * rep_s
    elif item.reps is not None:
        more = next((int(e.split()[1]) for e in item.extra if e.startswith("then ")), 0)
        yield "repetitions", (item.reps.middle + more) * rep_s
        parts = next((e for e in item.extra if e.startswith("in parts of")), "")
        for _ in range(parts.count("+")):
            yield "rest inside the set", 15.0


@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(text=texts())
def test_the_minutes_are_those_of_a_walk_with_a_clock(text: str) -> None:
    programme, findings = read_programme(text, "p.md", LIBRARY)
    assert not [f for f in findings if f.level == "error"], (text, findings)
    week = fit_runner(programme, RUNNER, LIBRARY, HOUSE, MONDAY)
    assert isinstance(week, FittedWeek)
    session = week.sessions[0]
    walked = sum(seconds for _, seconds in walk(session, LIBRARY)) / 60
    assert session.minutes == pytest.approx(walked, abs=0.051), text  # printed to a tenth of a minute
    assert session_min(session, LIBRARY) == pytest.approx(walked, abs=1e-9)
    _timers_agree(week)


def _timers_agree(week: FittedWeek) -> None:
    """Each timer of the page runs for the rest that the walk takes; without a stated rest there is none."""
    shown = page_view(week, LIBRARY, HOUSE, draft=False).sessions[0]
    for block, view in zip(week.sessions[0].blocks, shown.blocks, strict=True):
        if block.kind == "straight":
            pairs = [
                (item.rest_s or block.rest_s, exercise.tracks)
                for item, exercise in zip(block.items, view.exercises, strict=True)
            ]
        else:
            pairs = [(block.rest_s or block.items[-1].rest_s, view.tracks)]
        for rest, tracks in pairs:
            for track in tracks:
                middle = 0.0 if rest is None else rest.middle
                assert (float(track.rest_low) + float(track.rest_high)) / 2 == pytest.approx(middle)


@pytest.mark.parametrize(
    "blocks",
    [
        "Pair A, 2 rounds\n\n- Press-up: 8-12\n- Squat, half: 8, rest 45 s",
        "Pair A, 3 rounds, rest 75-90 s\n\n- Squat, half: 8, rest 45 s\n- Press-up: 8-12",
        "Straight, 3 sets\n\n- Squat, half: 8, rest 45 s\n- Press-up: sets 10, 8, 6",
        "Circuit A, 4 rounds, between 10 s, rest 90 s\n\n- Squat, half: 8\n- Press-up: 8\n- Side plank: 20 s/side",
        "Straight, rest 60 s\n\n- Squat, half: 8, 2 sets\n- Press-up: 8, 4 sets, rest 30 s",
    ],
)
def test_rests_of_lines_and_blocks(blocks: str) -> None:
    head = "---\nprogramme: Clock\nweeks: 6\n---\n\n## Cycle 1, weeks 1-6: One\n\n### Session 1: all, 90 min\n\n"
    programme, findings = read_programme(head + blocks + "\n", "p.md", LIBRARY)
    assert not [f for f in findings if f.level == "error"], findings
    week = fit_runner(programme, RUNNER, LIBRARY, HOUSE, MONDAY)
    assert isinstance(week, FittedWeek)
    walked = sum(seconds for _, seconds in walk(week.sessions[0], LIBRARY)) / 60
    assert session_min(week.sessions[0], LIBRARY) == pytest.approx(walked, abs=1e-9)
    _timers_agree(week)
