"""Each line in the words a runner follows."""

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.deliver import sample
from ferrule.deliver.wording import item_words
from ferrule.model.fitted import FittedBlock, FittedItem, LoadChoice, Recourse
from ferrule.model.quantity import Range, Tempo

LIBRARY = sample.library()
TWO = Range.of(2)


def _block(kind: Any = "pair", rounds: int = 4, *items: FittedItem) -> FittedBlock:
    return FittedBlock(kind, "A", rounds, Range(75, 90), None, items)


def _line(**changes: Any) -> FittedItem:
    return replace(sample.item("A1", "step-up", "Step-up", sets=4), **changes)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"reps": Range(5, 7), "rir": TWO, "per_side": True}, "4 rounds: stop at 7 each side, sooner if only 2 good ones are left"),
        ({"reps": Range(5, 7), "rir": Range(1, 2)}, "4 rounds: stop at 7, sooner if only 1 or 2 good ones are left"),
        ({"reps": Range.of(8), "rir": Range.of(1)}, "4 rounds: stop at 8, sooner if only 1 good one is left"),
        ({"reps": Range.of(8), "rir": Range.of(0)}, "4 rounds: stop at 8, sooner if you have no good one left"),
        ({"reps": Range.of(12)}, "4 rounds of 12 reps"),
        ({"reps": Range(12, 15), "per_side": True}, "4 rounds of 12 to 15 each side"),
        ({"reps": Range.of(12), "alternating": True}, "4 rounds of 12 in all"),
        ({"reps": Range.of(8), "open_reps": "at least", "rir": TWO}, "4 rounds: at least 8; go on until only 2 good ones are left"),
        ({"reps": Range.of(8), "open_reps": "at least"}, "4 rounds: at least 8, more if they are good ones"),
        ({"reps": Range.of(8), "open_reps": "up to"}, "4 rounds: up to 8 reps"),
        ({"open_reps": "max"}, "4 rounds: as many good ones as you can; stop when the form goes"),
        ({"open_reps": "max", "rir": TWO}, "4 rounds: as many good ones as you can, until only 2 good ones are left"),
        ({"hold_s": Range.of(30), "per_side": True}, "4 rounds: hold 30 s each side"),
        ({"hold_s": Range(30, 40), "rir": TWO}, "4 rounds: hold 30 to 40 s, sooner if the position starts to go"),
        ({"hold_s": Range.of(30), "open_reps": "max"}, "4 rounds: hold as long as you keep the position"),
        ({"distance_m": Range.of(20)}, "4 rounds of 20 m"),
        ({"contacts": Range.of(20)}, "4 rounds of 20 landings; stop sooner if they get loud or heavy"),
        ({"per_set": (12, 10, 8, 8)}, "4 rounds: 12, then 10, then 8, then 8"),
        ({"left_right": (10, 8)}, "4 rounds: left 10, right 8"),
    ],
)  # fmt: skip
def test_what_to_do(changes: dict[str, Any], said: str) -> None:
    line = _line(**changes)
    assert item_words(line, _block("pair", 4, line), LIBRARY.variants["step-up"]).dose == said


def test_sets_and_rounds_are_not_mixed_up() -> None:
    line = _line(reps=Range.of(12), sets=3)
    assert item_words(line, _block("straight", 3), None).dose == "3 sets of 12 reps"
    assert item_words(line, _block("pair", 4), None).dose == "in 3 of the 4 rounds: 12 reps"
    once = replace(line, sets=1)
    assert item_words(once, _block("warm-up", 1), None).dose == "12 reps"
    assert item_words(once, _block("straight", 1), None).dose == "1 set of 12 reps"


def test_effort_and_written_numbers_are_never_said_alike() -> None:
    effort = item_words(_line(reps=Range(5, 7), rir=TWO), _block(), None).dose
    number = item_words(_line(reps=Range(5, 7)), _block(), None).dose
    assert "sooner if" in effort
    assert "sooner" not in number
    assert "good" not in number


def test_how_it_is_done() -> None:
    line = _line(reps=Range.of(8), per_side=True, tempo=Tempo(2, 0, 1), pause_s=2, side_rest_s=20)
    how = item_words(line, _block(), None).how
    assert how == ("left, all reps, rest 20 s, then right", "2 s down, no pause, 1 s up", "wait 2 s in every rep")
    held = _line(hold_s=Range.of(30), per_side=True)
    assert item_words(held, _block(), None).how == ("left, then right",)
    turn = _line(reps=Range.of(8), per_side=True, alternating=True)
    assert item_words(turn, _block(), None).how == ("left and right in turn",)


def test_the_ways_out_are_printed_with_when_to_take_them() -> None:
    words = item_words(sample.step_up(), _block(), LIBRARY.variants["step-up"])
    assert words.too_hard == "Too hard today (under 5 each side): low step-up, 12 kg at the chest."
    assert words.too_easy == "Too easy: high step-up, 12 kg at the chest."
    assert words.title == "Step-up, 12 kg at the chest (12 kg dumbbell)"
    assert words.cues == LIBRARY.variants["step-up"].cues[:3]


def test_effort_is_asked_only_where_it_is_wanted() -> None:
    assert (
        "how many more good ones? 0, 1, 2, 3, 4 or more, don't know" in item_words(sample.step_up(), _block(), None).ask
    )
    assert item_words(sample.heel_raise(), _block(), None).ask == ""
    held = _line(hold_s=Range.of(30), ask_effort=True)
    assert "how many more seconds" in item_words(held, _block(), None).ask


def test_a_variant_the_library_lost_is_still_printed() -> None:
    words = item_words(sample.step_up(), _block(), None)
    assert words.name == "Step-up"
    assert words.load.startswith("12 kg")
    assert words.cues == ()


_RANGES = st.tuples(st.integers(0, 40), st.integers(0, 20)).map(lambda p: Range(p[0], p[0] + p[1]))
_COUNTS = _RANGES.map(lambda r: Range(r.low + 1, r.high + 1))
_LINES = st.builds(
    _line,
    reps=st.none() | _COUNTS,
    hold_s=st.none() | _COUNTS,
    rir=st.none() | st.tuples(st.integers(0, 4), st.integers(0, 2)).map(lambda p: Range(p[0], p[0] + p[1])),
    per_side=st.booleans(),
    alternating=st.booleans(),
    open_reps=st.sampled_from([None, "at least", "up to", "max"]),
    per_set=st.sampled_from([(), (12, 10, 8)]),
    left_right=st.sampled_from([None, (10, 8)]),
    tempo=st.sampled_from([None, Tempo(2, 0, 1), Tempo("x", 2, "x", 1)]),
    pause_s=st.sampled_from([None, 0, 1.5]),
    load=st.sampled_from([None, LoadChoice(7.5, "hands", ("7.5 kg dumbbell",)), LoadChoice(0, "ankle", (), "thin")]),
    too_hard=st.sampled_from([None, Recourse("step-up-low", "Low step-up", None, "")]),
    sets=st.integers(1, 5),
    rest_s=st.none() | _RANGES,
    ask_effort=st.booleans(),
)


@settings(derandomize=True, max_examples=300)
@given(_LINES, st.sampled_from(["warm-up", "straight", "pair", "circuit"]), st.integers(1, 5))
def test_whatever_the_line_the_words_are_whole(line: FittedItem, kind: Any, rounds: int) -> None:
    words = item_words(line, _block(kind, rounds), LIBRARY.variants["step-up"])
    parts = [words.dose, words.each, words.load, *words.how, words.rest, words.too_hard, words.ask]
    every = "\n".join(p for p in parts if p)
    assert words.dose.endswith(words.each)
    assert not re.search(r"None|nan|Range|  |\.0\b|%|\bN·m\b|share|: :|,,", every)
    if line.rir is not None and line.reps is not None and line.hold_s is None and not line.per_set:
        assert "left" in words.dose
    if line.rir is None:
        assert "sooner" not in words.dose


def test_no_weight_is_said_only_where_a_way_out_has_one() -> None:
    same = Recourse("step-up", "Step-up", LoadChoice(8, "chest", ("8 kg dumbbell",)), "8 kg")
    other = replace(same, variant_id="step-up-high", text="high step-up, 8 kg")
    for way, said in ((same, "no weight"), (other, ""), (None, "")):
        line = _line(reps=Range.of(8), variant_id="step-up", too_easy=way)
        assert item_words(line, _block("pair", 4, line), LIBRARY.variants["step-up"]).load == said
    line = _line(reps=Range.of(8), variant_id="step-up", too_easy=same)
    assert item_words(line, _block("pair", 4, line), None).too_easy == "Too easy: with 8 kg."
