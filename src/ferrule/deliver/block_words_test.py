"""Blocks in words: titles, clocks and rests."""

from dataclasses import replace
from typing import Any

import pytest

from ferrule.deliver import sample, sample_many
from ferrule.deliver.block_words import block_notes, block_rest, block_title, counted_by_block
from ferrule.deliver.wording import item_words
from ferrule.model.fitted import FittedBlock
from ferrule.model.quantity import Range

A, B = sample.step_up(), sample.heel_raise()
PAIR = FittedBlock("pair", "A", 4, Range(75, 90), Range.of(15), (A, B))
CIRCUIT = replace(PAIR, kind="circuit", label="B", rounds=1, rest_s=None, between_s=None)
STRAIGHT = replace(PAIR, kind="straight", label="", rounds=4, between_s=None)


def test_rests_tell_unsaid_from_none() -> None:
    assert block_rest(PAIR) == "Rest 75 to 90 s after each round. 15 s between the exercises."
    assert block_rest(replace(PAIR, rest_s=None, between_s=None)) == ""
    assert block_rest(replace(PAIR, rest_s=Range.of(0), between_s=Range.of(0))) == (
        "No rest after a round. Straight from one exercise to the next."
    )


@pytest.mark.parametrize(
    ("block", "said"),
    [
        (PAIR, "Pair A, 4 rounds"),
        (replace(PAIR, name="hips"), "Pair A, 4 rounds: hips"),
        (replace(CIRCUIT, minutes=12), "Circuit B, go round for 12 minutes"),
        (replace(CIRCUIT, minutes=12, name="legs and trunk"), "Circuit B, go round for 12 minutes: legs and trunk"),
        (replace(CIRCUIT, minutes=1, items=(A,)), "Circuit B, go on for 1 minute"),
        (replace(CIRCUIT, minutes=12, rounds=3), "Circuit B, 3 rounds in 12 minutes"),
        (replace(CIRCUIT, max_sets=True), "Circuit B, as many rounds as you can"),
        (replace(CIRCUIT, max_sets=True, minutes=10), "Circuit B, as many rounds as you can in 10 minutes"),
        (replace(STRAIGHT, max_sets=True), "Straight, as many sets as you can"),
        (replace(STRAIGHT, minutes=5, rounds=1), "Straight, go on for 5 minutes"),
        (replace(PAIR, kind="cool-down", label="", rounds=1), "Cool-down"),
        (replace(PAIR, kind="cool-down", label="", rounds=2), "Cool-down, 2 rounds"),
    ],
)
def test_titles(block: FittedBlock, said: str) -> None:
    assert block_title(block) == said


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"on_s": Range.of(40), "off_s": Range.of(20)}, "40 s work, 20 s rest at each."),
        ({"on_s": Range.of(40), "off_s": Range.of(20), "between_s": Range.of(20)}, "40 s work, 20 s rest at each."),
        ({"on_s": Range(30, 40), "off_s": Range.of(0)}, "30 to 40 s work at each, then straight on."),
        ({"on_s": Range.of(40)}, "40 s work at each."),
        ({"on_s": Range.of(40), "items": (A,)}, "40 s work."),
        ({"every_s": 90}, "A round every 90 s: what is left of it is rest."),
        ({"every_s": 120, "kind": "straight"}, "A set every 2 min: what is left of it is rest."),
        ({"max_sets": True, "items": (A,), "rest_s": Range.of(60)}, "Rest 60 s after each round."),
    ],
)
def test_clocks(changes: dict[str, Any], said: str) -> None:
    assert block_rest(replace(CIRCUIT, **changes)) == said


def test_what_is_chosen_comes_first_and_the_head_is_not_said_again() -> None:
    block = replace(
        CIRCUIT, minutes=12, name="Legs", notes=("12 min", "legs", "6 exercises", "Keep moving"), exercises=Range.of(6)
    )
    assert block_notes(block) == ("Choose 6 of these.", "Keep moving.")
    assert block_notes(replace(block, exercises=Range(4, 5)))[0] == "Choose 4 or 5 of these."
    assert block_notes(replace(PAIR, notes=("12 min",))) == ("12 min.",), "nobody else says it"


def test_lines_of_a_block_without_a_count_give_none() -> None:
    line = sample.item("B1", "press-up", "Press-up", reps=Range.of(10))
    for block in (
        replace(CIRCUIT, minutes=12),
        replace(CIRCUIT, max_sets=True),
        replace(STRAIGHT, rounds=1, minutes=5),
    ):
        assert item_words(line, block, None).dose == "10 reps"
        assert counted_by_block(line, block)
    assert item_words(line, CIRCUIT, None).dose == "1 round of 10 reps"


def test_timed_work_is_no_hold() -> None:
    block = sample_many.stations()
    library = sample.library()
    said = [item_words(i, block, library.variants[i.variant_id]).each for i in block.items]
    assert said == ["work for 40 s", "work for 40 s", "hold 40 s", "work for 40 s"]
    line = sample_many.timed("C1", "step-up", "Step-up")
    most = replace(line, open_reps="max")
    assert item_words(most, PAIR, None).each == "as many good ones as you can in 40 s; stop when the form goes"
    asked = item_words(replace(line, ask_effort=True), PAIR, None).ask
    assert asked == "After the last set: how many more seconds could you have gone on?"


def test_a_line_without_a_number_never_asks_for_the_most() -> None:
    line = sample.item("Z1", "step-up", "Step-up")
    assert item_words(line, sample_many.cool_down(), None).each == "as long as it does you good"
    assert item_words(line, sample_many.stations(), None).each == "work for 40 s"
    assert item_words(line, PAIR, None).each == "your coach gave no number: stop when the form begins to go"
