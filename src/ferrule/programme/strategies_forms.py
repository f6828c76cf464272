"""Strategies for what goes beyond the ordinary line and head. `hypothesis` is needed only where this is imported: in tests."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from ferrule.model.finding import Span
from ferrule.model.programme import BlockKind, Condition
from ferrule.model.quantity import Percent, Range, SetLoads, Step, Tempo
from ferrule.programme.conditions import read_condition
from ferrule.programme.field_words import KIT_WORDS
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report

CONDITION_TEXTS = (
    "when all reps for 2 sessions: add 2.5 kg", "if pain above 3: stop", "when form is accepted: next variant",
    "when 1-2 reps over for 2 sessions: add 2-10 %", "when 18 reps: next band", "when no pain: add 5 kg a week, to 60 kg",
    "if pain worse next morning: less", "if pain above 5 during: stop", "limit: 20 % more a week", "if not able: easier",
)  # fmt: skip


def conditions() -> st.SearchStrategy[Condition]:
    """Conditions as they are read; every span is the same."""
    made = []
    for text in CONDITION_TEXTS:
        read = read_condition(Line(text, 1, 1), Report("p.md"))
        if read is not None:
            made.append(Condition(read.text, read.acts, Span("p.md", 1), read.when, read.number, read.sessions,
                                  read.moment, read.action, read.step))  # fmt: skip
    return st.sampled_from(made)


def whole(low: int, high: int) -> st.SearchStrategy[Range]:
    """Ranges of whole numbers."""
    numbers = st.integers(low, high).map(float)
    return st.one_of(numbers.map(Range.of), st.tuples(numbers, numbers).map(lambda p: Range(min(p), max(p))))


STEPS = st.builds(
    Step, whole(1, 9), st.sampled_from(["kg", "%", "reps", "s", "sets"]), st.sampled_from(["", "week", "2 weeks", "session"]),
    st.none() | st.just(60.0),
)  # fmt: skip
FORMS: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "max sets": st.just({"max_sets": True}),
    "sore side": st.just({"sore_side_only": True}),
    "lead-in": whole(1, 4).map(lambda r: {"lead_in": r}),
    "rest-pause": st.tuples(whole(10, 40), st.none() | st.integers(1, 4)).map(
        lambda p: {"rest_pause_s": p[0], "rest_pause_times": p[1]}
    ),
    "part rest": whole(10, 60).map(lambda r: {"part_rest_s": r}),
    "loads": st.builds(
        SetLoads, st.lists(st.integers(5, 90).map(float), min_size=2, max_size=4).map(tuple),
        st.sampled_from(["kg", "% 1RM", "% body mass"]),
    ).map(lambda x: {"loads": x}),
    "step": STEPS.map(lambda x: {"step": x}),
    "load days": whole(1, 6).map(lambda r: {"load_days": r}),
    "inertia": st.sampled_from([0.06, 0.0355, 1.0]).map(lambda x: {"inertia_kg_m2": Range.of(x)}),
    "height": st.tuples(whole(10, 60), st.sampled_from([None, "box", "step", "hurdle", "bench", "drop"])).map(
        lambda p: {"height_cm": p[0], "height_of": p[1]}
    ),
    "kit": st.sampled_from(sorted(set(KIT_WORDS.values()))).map(lambda k: {"kit": k}),
    "intensity": st.builds(Percent, whole(50, 95), st.sampled_from(["HRmax", "top speed", "effort"]), st.booleans()).map(
        lambda x: {"intensity": x}
    ),
    "about": whole(50, 95).map(lambda r: {"percent": Percent(r, "1RM", False, True)}),
    "max force": whole(50, 95).map(lambda r: {"percent": Percent(r, "max force")}),
}  # fmt: skip
"""Fields of a dose that the fit does not model, by name."""


@st.composite
def forms(draw: st.DrawFn) -> dict[str, Any]:
    """Up to two such fields."""
    found: dict[str, Any] = {}
    for name in draw(st.lists(st.sampled_from(sorted(FORMS)), max_size=2, unique=True)):
        found |= draw(FORMS[name])
    return found


@st.composite
def block_more(draw: st.DrawFn, kind: BlockKind) -> dict[str, Any]:
    """What a block head says beyond sets and rests."""
    every: dict[str, st.SearchStrategy[Any]] = {
        "name": st.sampled_from(["Sprints", "Jumps, with or without a bar"]), "minutes": st.integers(1, 20),
        "every_s": st.sampled_from([60, 90, 120]), "on_s": whole(10, 60), "off_s": whole(10, 60), "max_sets": st.just(True),
        "exercises": whole(1, 8), "reps_in_all": whole(20, 200), "tempo": st.just(Tempo(2, 0, 2)),
        "intensity": st.just(Percent(Range.of(80), "HRmax", True)),
    }  # fmt: skip
    names = draw(st.lists(st.sampled_from(sorted(every)), max_size=2, unique=True)) if kind else []
    return {n: draw(every[n]) for n in names}


@st.composite
def session_more(draw: st.DrawFn, weeks: tuple[int, int]) -> dict[str, Any]:
    """What a session head says beyond day, name and minutes."""
    found: dict[str, Any] = {}
    often = draw(st.sampled_from(["", "", "times", "every", "days"]))
    if often == "times":
        found |= {"times_a_week": draw(whole(1, 4)), "at_least": draw(st.booleans())}
    elif often == "every":
        found |= {"every_days": draw(st.integers(1, 3)), "twice_a_day": draw(st.booleans())}
    elif often == "days":
        found["days"] = tuple(sorted(draw(st.lists(st.integers(1, 7), min_size=2, max_size=3, unique=True))))
    every: dict[str, st.SearchStrategy[Any]] = {
        "hours_apart": st.sampled_from([24, 48, 72]), "weeks": st.sampled_from([(weeks[0], None), (weeks[0], weeks[1])]),
        "level": st.sampled_from(["beginner", "advanced"]), "choose": st.just(("2A", "2B")),
        "beside_run": st.sampled_from(["after", "before", "same day"]),
        "part_of_day": st.sampled_from(["morning", "afternoon", "evening"]), "supervised": st.booleans(),
    }  # fmt: skip
    found |= {n: draw(every[n]) for n in draw(st.lists(st.sampled_from(sorted(every)), max_size=2, unique=True))}
    if draw(st.integers(0, 5)) == 0:
        found |= {"contacts": draw(whole(40, 200)), "contacts_open": draw(st.sampled_from([None, "from", "up to"]))}
    return found


@st.composite
def cycle_more(draw: st.DrawFn, last: int) -> dict[str, Any]:
    """What a cycle head says beyond weeks and name; `repeat_to` is left to the caller."""
    found: dict[str, Any] = {}
    if draw(st.booleans()):
        found |= {"times_a_week": draw(whole(1, 4)), "at_least": draw(st.booleans())}
    if draw(st.integers(0, 4)) == 0:
        found["start"] = Range(last, last + 2)
    return found | ({"overlaps": True} if draw(st.integers(0, 4)) == 0 else {})
