"""A load on one side in one-leg stance, against the reference table (docs/body.md: 0.858, +3.43, -1.72, +0.86 N m/kg)."""

from __future__ import annotations

import pytest

from ferrule.library.reader import load_library
from ferrule.library.stance import SHARE, stance_change, stance_words, stands_on_one_leg
from ferrule.model.words import Place

LIBRARY = load_library()[0]


@pytest.mark.parametrize(
    ("place", "slope"), [("opposite hand", 3.43), ("same hand", -1.72), ("hands", 0.86), ("hips", 0.86)]
)
def test_the_change_is_that_of_the_table(place: Place, slope: float) -> None:
    assert stance_change(place) == pytest.approx(slope * SHARE / 0.858, abs=0.01)


def test_only_one_foot_on_the_ground_counts() -> None:
    assert stands_on_one_leg(LIBRARY.variants["one-leg-squat-leg-back"])
    assert not stands_on_one_leg(LIBRARY.variants["split-squat"])
    assert not stands_on_one_leg(LIBRARY.variants["squat"])
    assert not stands_on_one_leg(LIBRARY.variants["clam"])


def test_what_is_said() -> None:
    words = stance_words(LIBRARY.variants["hinge-one-leg"])
    assert len(words) == 2
    assert "40 % more" in words[0]
    assert "20 % less" in words[1]
    assert stance_words(LIBRARY.variants["squat"]) == ()
