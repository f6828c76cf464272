"""What the page knows of a line for its log."""

import json
from dataclasses import replace
from typing import get_args

import pytest

from ferrule.deliver import cautions, log_data, sample
from ferrule.model.fact import RedFlag
from ferrule.model.fitted import FittedBlock, FittedItem
from ferrule.model.quantity import Range

STEP = sample.library().variants["step-up"]


def _told(item: FittedItem, kind: str = "straight") -> dict[str, object]:
    block = FittedBlock(kind, "", 3, None, None, (item,))  # type: ignore[arg-type]
    found: dict[str, object] = json.loads(log_data.item_log(item, block, STEP))
    return found


def test_a_range_that_is_loaded_with_its_two_ways_out() -> None:
    assert _told(sample.step_up()) == {
        "k": "A1",
        "n": 4,
        "low": 5,
        "high": 7,
        "ask": True,
        "kg": 12,
        "ways": [
            ["step-up-low", "low step-up, 12 kg at the chest", 12, ""],
            ["step-up-high", "high step-up, 12 kg at the chest", 12, ""],
        ],
    }


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"reps": None, "hold_s": Range.of(30)}, {"low": 30, "high": 30, "hold": True}),
        ({"per_set": (10, 8, 6)}, {"per": [10, 8, 6], "n": 3}),
        ({"reps": None, "left_right": (10, 8)}, {"low": None}),
        ({"open_reps": "at least"}, {"more": True}),
        ({"reps": None, "contacts": Range.of(20)}, {"ask": None}),
    ],
)
def test_every_kind_of_amount(change: dict[str, object], said: dict[str, object]) -> None:
    told = _told(replace(sample.step_up(), **change))  # type: ignore[arg-type]
    assert {k: told.get(k) for k in said} == said


def test_no_effort_is_asked_in_a_warm_up() -> None:
    assert "ask" not in _told(sample.step_up(), "warm-up")


def test_every_red_flag_can_be_told_in_the_words_of_the_page() -> None:
    flags = log_data.red_flags()
    assert [kind for kind, _ in flags] == list(get_args(RedFlag))
    said = " ".join(words for _, words in flags)
    assert all(words in said for words in cautions.RED_FLAGS)
    by_kind = dict(flags)
    assert by_kind["chest or faint"] == "chest pain, or fainting, or feeling faint"
    assert by_kind["calf swelling"] == "a calf that is swollen or warm"


def test_ratings_are_eleven() -> None:
    assert log_data.ratings()[0] == "0 rest, no effort"
    assert log_data.ratings()[6] == "6"
    assert len(log_data.ratings()) == 11
