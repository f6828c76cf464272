"""What differs in meaning is told, once, where it stands; what means the same is not."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from ferrule.model.programme import Named, Programme, Slot
from ferrule.model.quantity import Range, Tempo
from ferrule.programme.change import Change, Where, changes_text, weeks_text
from ferrule.programme.compare import compare, weeks_there
from ferrule.programme.meaning import dose_changes, field_changes, field_word, meaning, value_text
from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies import programmes, texts
from ferrule.programme.tidy import tidy
from ferrule.programme.weeks import cycle_of, week_of

NO_SHRINK = (Phase.explicit, Phase.generate)

TEXT = """\
---
programme: Short
weeks: 3
---

Every rep clean.

## Cycle 1, weeks 1-3: One

### Session 1: legs, 30 min

Warm-up, 1 round

- Ankle rock: 8/side
- Squat: 8, no weight

Pair A, 3 rounds, rest 75-90 s

- Step-up: 8/side, 2 RIR, tempo 2-0-1
  note: Push through the whole foot.
  - or Step-up, low
  - or Split squat: 10/side
- Heel raise: 12, pause 2 s

| week          | 1 | 2 | 3  |
|---------------|---|---|----|
| rounds        |   |   | 2  |
| Step-up: reps |   |   | 10 |

Straight, 3 sets, rest 60 s

- Press-up: 10, 3 RIR

### Session 2: trunk

Circuit A, 2 rounds

- Plank: 30 s
- Side plank: 20 s/side
- Dead bug: 6/side
"""


def read(text: str) -> Programme:
    programme, findings = read_programme(text, "p.md", SAMPLE)
    assert not [f for f in findings if f.level == "error"], findings
    return programme


def differs(*changes: tuple[str, str]) -> list[tuple[str, list[str]]]:
    """Weeks and lines told when each text is replaced once by another."""
    after = TEXT
    for was, now in changes:
        assert after.count(was) == 1, was
        after = after.replace(was, now)
    found = compare(read(TEXT), read(after))
    return [
        (weeks_text(part.weeks), [line.strip() for line in changes_text([part]).splitlines()[1:]]) for part in found
    ]


def test_a_line_put_in_does_not_make_what_follows_differ() -> None:
    assert differs(("- Ankle rock: 8/side\n", "- Ankle rock: 8/side\n- Skip, low: 20 contacts\n")) == [
        ("Weeks 1-3", ["Session 1: legs", "Warm-up: new line: Skip, low: 20 contacts"])
    ]


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ("8/side, 2 RIR", "9/side, 2 RIR", "reps 9 (was 8) (also or Step-up, low)"),
        ("8/side, 2 RIR", "8/side, 1-2 RIR", "RIR 1-2 (was 2) (also or Step-up, low, or Split squat)"),
        ("8/side, 2 RIR", "8/side", "RIR not stated (was 2) (also or Step-up, low, or Split squat)"),
        ("tempo 2-0-1", "tempo 3-0-x", "tempo 3-0-x (was 2-0-1) (also or Step-up, low, or Split squat)"),
        ("tempo 2-0-1", "tempo 2-0-1, 12 kg at chest", "load 12 kg at chest (was not stated) (also or Step-up, low, or Split squat)"),
        ("tempo 2-0-1", "tempo 2-0-1, side rest 10 s", "side rest 10 s (was not stated) (also or Step-up, low, or Split squat)"),
    ],
)  # fmt: skip
def test_a_dose_is_told_field_by_field_with_the_alternatives_that_follow(was: str, now: str, said: str) -> None:
    told = differs((was, now))
    weeks = "Weeks 1-2" if "reps" in said else "Weeks 1-3"  # the table says the reps of week 3
    assert told == [(weeks, ["Session 1: legs", f"Step-up: {said}"])]


def test_reps_that_become_a_hold_are_one_change() -> None:
    assert differs(("Heel raise: 12, pause 2 s", "Heel raise: 30 s, pause 2 s")) == [
        ("Weeks 1-3", ["Session 1: legs", "Heel raise: amount 30 s (was 12)"])
    ]


def test_pause_hold_and_sides() -> None:
    assert differs(("pause 2 s", "pause 3 s"), ("Plank: 30 s\n", "Plank: 30-40 s\n"), ("Dead bug: 6/side", "Dead bug: 6 alternating")) == [
        ("Weeks 1-3", ["Session 1: legs", "Heel raise: pause 3 s (was 2 s)", "Session 2: trunk",
                       "Plank: hold 30-40 s (was 30 s)", "Dead bug: sides alternating (was each)"])
    ]  # fmt: skip


def test_rounds_and_rests_of_a_block_in_the_weeks_they_hold_in() -> None:
    assert differs(("Pair A, 3 rounds, rest 75-90 s", "Pair A, 4 rounds, between 10 s, rest 2 min")) == [
        ("Weeks 1-3", ["Session 1: legs", "Pair A: rest 2 min (was 75-90 s)", "Pair A: between 10 s (was not stated)"]),
        ("Weeks 1-2", ["Session 1: legs", "Pair A: rounds 4 (was 3)"]),
    ]


def test_a_cell_of_a_table_is_told_in_its_week_alone() -> None:
    assert differs(("|   |   | 10 |", "|   | 9 | -  |")) == [
        ("Week 2", ["Session 1: legs", "Step-up: reps 9 (was 8) (also or Step-up, low)"]),
        ("Week 3", ["Session 1: legs", "Pair A: line gone: Step-up"]),
    ]


def test_the_same_change_in_weeks_apart_is_told_once() -> None:
    assert differs(("| rounds        |   |   | 2  |", "| rounds        | 4 |   | 4  |"))[0][0] == "Week 1"
    told = differs(
        ("| rounds        |   |   | 2  |", "| rounds        | 5 | 3 | 2  |"), ("- Plank: 30 s", "- Plank: 40 s")
    )
    assert [weeks for weeks, _ in told] == ["Weeks 1-3", "Week 1"]
    after = TEXT.replace("weeks: 3\n", "weeks: 4\n").replace("weeks 1-3", "weeks 1-4")
    head = "| week          | 1 | 2 | 3  |\n|---------------|---|---|----|\n| rounds        |   |   | 2  |\n"
    apart = after.replace(head, "| week | 1 | 2 | 3 | 4 |\n|---|---|---|---|---|\n| rounds | 3 | 5 | 2 | 5 |\n")
    same = after.replace(head, "| week | 1 | 2 | 3 | 4 |\n|---|---|---|---|---|\n| rounds | 3 | 3 | 2 | 3 |\n")
    found = compare(read(same), read(apart))
    assert [p.weeks for p in found] == [(2, 4)]
    assert weeks_text(found[0].weeks) == "Weeks 2, 4"


def test_a_line_that_moves_to_another_block_or_session() -> None:
    assert differs(("- Heel raise: 12, pause 2 s\n", ""), ("- Press-up: 10, 3 RIR\n", "- Press-up: 10, 3 RIR\n- Heel raise: 12, pause 2 s\n"))[0] == (
        "Weeks 1-3", ["Session 1: legs", "Heel raise: stands in Straight, Press-up (was in Pair A)"]
    )  # fmt: skip
    assert differs(("- Dead bug: 6/side\n", ""), ("- Ankle rock: 8/side\n", "- Ankle rock: 8/side\n- Dead bug: 8/side\n")) == [
        ("Weeks 1-3", ["Session 1: legs", "Dead bug: stands in Warm-up (was in Session 2: trunk, Circuit A)", "Dead bug: reps 8 (was 6)"])
    ]  # fmt: skip


def test_an_exercise_swapped_and_alternatives() -> None:
    assert differs(("- Heel raise: 12, pause 2 s", "- Heel raise, knee bent: 15, pause 2 s")) == [
        ("Weeks 1-3", ["Session 1: legs", "Heel raise, knee bent: 15, pause 2 s, instead of Heel raise: 12, pause 2 s"])
    ]
    assert differs(("  - or Step-up, low\n", ""), ("  - or Split squat: 10/side\n", "  - or Split squat: 10/side\n  - or Squat: 12\n"))[0][1] == [
        "Session 1: legs", "Step-up: new alternative: Squat: 12, 2 RIR, tempo 2-0-1", "Step-up: alternative gone: Step-up, low"
    ]  # fmt: skip
    assert differs(("  - or Step-up, low\n  - or Split squat: 10/side\n", "  - or Split squat: 10/side\n  - or Step-up, low\n")) == [
        ("Weeks 1-3", ["Session 1: legs", "Step-up: order of alternatives: Split squat; Step-up, low (was Step-up, low; Split squat)"])
    ]  # fmt: skip


def test_order_of_lines_blocks_and_sessions() -> None:
    assert differs(("- Plank: 30 s\n- Side plank: 20 s/side\n", "- Side plank: 20 s/side\n- Plank: 30 s\n")) == [
        ("Weeks 1-3", ["Session 2: trunk", "Circuit A: order of lines: Side plank; Plank; Dead bug (was Plank; Side plank; Dead bug)"])
    ]  # fmt: skip
    head, one, two = TEXT.partition("### Session 1")[0], *TEXT[TEXT.index("### Session 1") :].split("### Session 2")
    found = compare(read(TEXT), read(head + "### Session 2" + two + "\n" + one))
    assert [c.kind for p in found for c in p.changes] == ["order"]
    assert found[0].changes[0].new == "Session 2: trunk; Session 1: legs"
    warm, pair = TEXT.index("Warm-up, 1"), TEXT.index("Pair A, 3")
    straight = TEXT.index("Straight, 3")
    turned = TEXT[:warm] + TEXT[pair:straight] + TEXT[warm:pair] + TEXT[straight:]
    assert [c for p in compare(read(TEXT), read(turned)) for c in p.changes] == [
        Change("order", Where("Session 1: legs"), "blocks", "Warm-up; Pair A; Straight, Press-up", "Pair A; Warm-up; Straight, Press-up")
    ]  # fmt: skip


def test_sessions_added_gone_renamed_moved_and_longer() -> None:
    added = TEXT + "\n### Session 3: pull\n\nStraight, 3 sets\n\n- Towel row: 10\n"
    assert [c for p in compare(read(TEXT), read(added)) for c in p.changes] == [
        Change("added", Where("Session 3: pull"), "session", "", "Session 3: pull: Towel row")
    ]
    assert [c for p in compare(read(added), read(TEXT)) for c in p.changes] == [
        Change("gone", Where("Session 3: pull"), "session", "Session 3: pull: Towel row", "")
    ]
    assert differs(("### Session 1: legs, 30 min", "### Session 1, day 2: strong legs, 35 min")) == [
        ("Weeks 1-3", ["Session 1: strong legs", "called Session 1: strong legs (was Session 1: legs)",
                       "length 35 min (was 30 min)", "day Tue (was not stated)"])
    ]  # fmt: skip


def test_a_session_put_before_the_others_is_the_only_new_one() -> None:
    after = TEXT.replace("### Session 2: trunk", "### Session 3: trunk").replace(
        "### Session 1: legs", "### Session 2: legs"
    )
    after = after.replace(
        "### Session 2: legs", "### Session 1: pull\n\nStraight, 3 sets\n\n- Towel row: 10\n\n### Session 2: legs"
    )
    kinds = [(c.kind, c.what, c.where.session) for p in compare(read(TEXT), read(after)) for c in p.changes]
    assert kinds == [
        ("added", "session", "Session 1: pull"), ("changed", "called", "Session 2: legs"), ("changed", "called", "Session 3: trunk")
    ]  # fmt: skip


def test_notes_for_the_runner_and_conditions_but_not_the_coachs() -> None:
    assert differs(("whole foot.", "heel."), ("Every rep clean.", "Every rep clean.\n\nif pain above 3: stop")) == [
        ("Weeks 1-3", ["new condition: if pain above 3: stop", "Session 1: legs",
                       "Step-up: note Push through the heel. (was Push through the whole foot.)"])
    ]  # fmt: skip
    assert differs(("- Plank: 30 s\n", "- Plank: 30 s\n  coach: look at R07\n")) == []


def test_weeks_that_came_and_went() -> None:
    longer = TEXT.replace("weeks: 3\n", "weeks: 4\n").replace("weeks 1-3", "weeks 1-4")
    found = compare(read(TEXT), read(longer))
    assert [(p.weeks, p.changes[0].kind, p.changes[0].new) for p in found] == [
        ((4,), "added", "Session 1: legs; Session 2: trunk")
    ]
    assert compare(read(longer), read(TEXT))[0].changes[0].kind == "gone"


def test_the_list_is_as_the_golden_file(golden: Callable[[str, str], None]) -> None:
    after = TEXT
    for was, now in (
        ("8/side, 2 RIR, tempo", "10/side, 1-2 RIR, tempo"), ("- Ankle rock: 8/side\n", ""), ("- Heel raise: 12", "- Heel raise, knee bent: 12"),
        ("- Press-up: 10, 3 RIR\n", "- Press-up: 10, 3 RIR\n- Ankle rock: 6/side\n- Towel row: 10\n"), ("trunk\n", "trunk, 20 min\n"),
        ("|   |   | 2  |", "| 2 |   | 4  |"), ("- Side plank: 20 s/side\n- Dead bug: 6/side\n", "- Dead bug: 6/side\n- Side plank: 20 s/side\n"),
    ):  # fmt: skip
        assert after.count(was) == 1, was
        after = after.replace(was, now)
    golden("notation/compare.txt", changes_text(compare(read(TEXT), read(after))) + "\n")


def test_a_title_is_a_difference_and_the_name_of_a_file_is_none() -> None:
    bare = TEXT.replace("programme: Short\n", "")
    one, two = (read_programme(bare, name, SAMPLE)[0] for name in ("a/one.md", "b/two.md"))
    assert one.title != two.title
    assert compare(one, two) == ()
    assert [c.new for p in compare(one, read(TEXT)) for c in p.changes] == ["Short"]


def test_a_field_is_told_with_the_unit_its_name_ends_in() -> None:
    assert (field_word("height_cm"), value_text("height_cm", Range(30, 40))) == ("height", "30-40 cm")
    assert (field_word("every_s"), value_text("every_s", 90)) == ("every", "90 s")
    assert (field_word("times_a_week"), value_text("times_a_week", Range.of(2))) == ("times a week", "2")


def test_other_names_and_spellings_of_the_same_are_no_difference() -> None:
    after = TEXT.replace("Press-up: 10, 3 RIR", "press up  RPE 7; 10 reps").replace(
        "Plank: 30 s\n", "front plank 0:30\n", 1
    )
    assert compare(read(TEXT), read(after)) == ()


@settings(derandomize=True, max_examples=60, deadline=None, phases=NO_SHRINK)
@given(texts())
def test_tidying_is_no_difference(text: str) -> None:
    once, _ = tidy(text, "p.md", SAMPLE)
    assert compare(read_programme(text, "p.md", SAMPLE)[0], read_programme(once, "p.md", SAMPLE)[0]) == ()


PART = (
    "cycles", "sessions", "blocks", "items", "alternatives", "dose", "exercise", "notes", "conditions", "sets", "rest_s", "day",
    "minutes", "name", "kind", "reps", "load", "unfitted", "cluster", "table",
)  # fmt: skip


def _parts(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[tuple[Any, ...], Any]]:
    out = [(path, value)] if path and path[-1] in PART else []
    if isinstance(value, tuple):
        for k, v in enumerate(value):
            out += _parts(v, (*path, k))
    elif dataclasses.is_dataclass(value):
        for f in dataclasses.fields(value):
            out += _parts(getattr(value, f.name), (*path, f.name))
    return out


def _put(value: Any, path: tuple[Any, ...], part: Any) -> Any:
    if not path:
        return part
    head, *rest = path
    if isinstance(head, int):
        return (*value[:head], _put(value[head], tuple(rest), part), *value[head + 1 :])
    return dataclasses.replace(value, **{head: _put(getattr(value, head), tuple(rest), part)})


@dataclasses.dataclass(frozen=True, repr=False)
class Pair:
    """Two programmes; told by their differences when a test fails."""

    old: Programme
    new: Programme

    def __repr__(self) -> str:
        return f"Pair({changes_text(compare(self.old, self.new))[:2000]!r})"


def _fits(value: object, part: object, name: str) -> bool:
    """Whether a value may stand where `part` stands: its own kind, another exercise, or nothing where that is allowed."""
    if value is None or part is None:
        return name != "dose"
    return type(value) is type(part) or (isinstance(value, Named | Slot) and isinstance(part, Named | Slot))


@st.composite
def edited(draw: st.DrawFn) -> tuple[Pair, ...]:
    """A programme beside some edits of it: a part out of another place, or a part's own parts in another order."""
    old = draw(programmes())
    parts = _parts(old)
    pairs = []
    for _ in range(6):
        path, part = draw(st.sampled_from(parts))
        if isinstance(part, tuple) and len(part) > 1 and draw(st.booleans()):
            pairs.append(Pair(old, _put(old, path, tuple(draw(st.permutations(part))))))
        elif isinstance(part, tuple) and part and draw(st.booleans()):
            pairs.append(Pair(old, _put(old, path, part[1:])))
        else:
            fitting = [v for p, v in parts if p[-1] == path[-1] and _fits(v, part, path[-1])]
            pairs.append(Pair(old, _put(old, path, draw(st.sampled_from([part, *fitting])))))
    return tuple(pairs)


def _asked(programme: Programme) -> dict[int, object]:
    """Each week in the normal form, with what its cycle and the programme say of every week."""
    out: dict[int, object] = {}
    whole = dataclasses.replace(programme, title="", weeks=0, front=(), cycles=(), notes=(), conditions=())
    for n in sorted(weeks_there(programme)):
        week, cycle = week_of(programme, n), cycle_of(programme, n)
        assert week is not None
        assert cycle is not None
        bare = dataclasses.replace(
            cycle, key="", name="", aim="", first_week=0, last_week=0, sessions=(), notes=(), conditions=()
        )
        said = (week.programme, week.cycle_name, week.aim, week.sessions, week.notes, week.conditions, bare, whole)
        out[n] = meaning(said)
    return out


@settings(derandomize=True, max_examples=12, deadline=None, phases=NO_SHRINK)
@given(edited())
def test_it_is_silent_exactly_where_every_week_asks_the_same_and_tells_each_change_once(
    pairs: tuple[Pair, ...],
) -> None:
    for pair in pairs:
        before, after = _asked(pair.old), _asked(pair.new)
        differing = {w for w in before.keys() | after.keys() if before.get(w) != after.get(w)}
        there, back = compare(pair.old, pair.new), compare(pair.new, pair.old)
        assert {w for part in there for w in part.weeks} == differing
        assert {w for part in back for w in part.weeks} == differing
        assert len({part.weeks for part in there}) == len(there)
        assert all(line.strip() for line in changes_text(there).splitlines() if line)


def test_a_field_the_model_may_get_is_compared_without_more_code() -> None:
    """Every field of the types is either compared by name, walked into, or known to change nothing."""

    @dataclasses.dataclass(frozen=True, slots=True)
    class More:
        span: int = 0
        times_a_week: int | None = None
        warm: bool = False

    assert list(field_changes(More(1), More(2, 3, True))) == [
        ("times a week", "not stated", "3"),
        ("warm", "no", "yes"),
    ]
    step = read(TEXT).cycles[0].sessions[0].blocks[1].items[0].dose
    told = dataclasses.replace(step, sets=Range.of(3), rest_s=Range(60, 90), tempo=Tempo(1, 0, 1), rir=Range.of(0))
    assert sorted(what for what, _, _ in dose_changes(step, told)) == ["RIR", "rest", "sets", "tempo"]
