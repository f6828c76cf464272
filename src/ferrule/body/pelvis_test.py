"""The effect of a load on the standing hip: mechanics study, section 8 (d0 0.858; +3.43 / -1.72 / +0.86 / +0.86)."""

from __future__ import annotations

import pytest

from ferrule.body.golden_test import movement
from ferrule.body.pelvis import STANCE, pelvis_moment, pelvis_slope, pelvis_times
from ferrule.body.statics import solve
from ferrule.model.words import Place


def test_the_stance_is_that_of_the_reference() -> None:
    assert solve(STANCE).moments == pytest.approx(solve(movement("single_leg_stance")).moments, abs=1e-9)
    assert pelvis_moment() == pytest.approx(0.858, abs=0.0006)


@pytest.mark.parametrize(
    ("place", "slope"), [("opposite hand", 3.43), ("same hand", -1.72), ("hands", 0.86), ("hips", 0.86)]
)
@pytest.mark.parametrize("kg", [5.0, 10.0, 20.0])
def test_the_table_of_slopes(place: Place, slope: float, kg: float) -> None:
    """Printed to 0.01; the study's arms hang 0.4 % differently."""
    assert pelvis_slope(place, kg) == pytest.approx(slope, rel=0.01)


def test_the_worked_example_of_the_table() -> None:
    """20 kg on 70 kg: 60 -> 129 N·m opposite, 77 in two hands, 26 on the same side."""
    worked: tuple[tuple[Place, int], ...] = (("opposite hand", 129), ("hands", 77), ("same hand", 26))
    for place, moment in worked:
        assert pelvis_times(place, 20, 70) == pytest.approx(moment / 60, rel=0.015)


def test_by_levers() -> None:
    """Two hands together are the mean of both sides, and a load on the pelvis is like two hands."""
    both = (pelvis_slope("opposite hand") + pelvis_slope("same hand")) / 2
    assert pelvis_slope("hands") == pytest.approx(both, abs=0.002)
    assert pelvis_slope("hips") == pytest.approx(pelvis_slope("hands"), rel=0.01)


def test_enough_weight_on_the_standing_side_turns_the_moment_round() -> None:
    assert pelvis_moment("same hand", 30) > 0 > pelvis_moment("same hand", 40)
