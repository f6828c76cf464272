from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ferrule.capacity import curves
from ferrule.model.words import Group


def test_one_repetition_at_the_best_returns_itself() -> None:
    assert curves.share_at(1, 0.03) == 1
    assert curves.reps_at(1, 0.03) == 1


# Frey Law and Avin 2010, table 2 (seen in a public copy): at half of the best, by the joint each group tires.
@pytest.mark.parametrize(
    ("group", "half_s"),
    [("calf straight", 144.7), ("trunk front", 109.4), ("knee and hip", 71.3), ("push", 52.8), ("hinge", 86.5)],
)
def test_each_group_holds_by_the_law_of_its_joint(group: Group, half_s: float) -> None:
    one_printed_digit_s = 0.1
    assert abs(curves.hold_s_at(0.5, group) - half_s) <= one_printed_digit_s


@given(st.floats(1, 100), st.floats(0.015, 0.06))
def test_reps_and_share_are_inverse(reps: float, k: float) -> None:
    assert curves.reps_at(curves.share_at(reps, k), k) == pytest.approx(reps)


@given(st.floats(25, 2000))
def test_hold_and_share_are_inverse_where_the_law_was_measured(hold_s: float) -> None:
    assert curves.hold_s_at(curves.share_at_hold(hold_s, "trunk side"), "trunk side") == pytest.approx(hold_s)


def test_a_share_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        curves.reps_at(0, 0.03)
    with pytest.raises(ValueError, match="above zero"):
        curves.hold_s_at(0, "push")
