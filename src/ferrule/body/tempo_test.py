from __future__ import annotations

import pytest

from ferrule.body.golden_test import movement
from ferrule.body.tempo import peak_factor, rise_of, tempo_factor
from ferrule.model.quantity import Tempo


# The table of the mechanics study, section 7; T = seconds a phase.
@pytest.mark.parametrize(
    ("rise_m", "factors"),
    [
        (0.41, {0.5: 1.67, 1.0: 1.17, 1.5: 1.075, 2.0: 1.04}),  # squat
        (0.18, {0.5: 1.30, 1.0: 1.07, 1.5: 1.03, 2.0: 1.02}),  # press-up
        (0.065, {0.5: 1.11, 1.0: 1.03, 1.5: 1.01, 2.0: 1.01}),  # heel raise
    ],
)
def test_the_table(rise_m: float, factors: dict[float, float]) -> None:
    for phase_s, factor in factors.items():
        assert peak_factor(rise_m, phase_s) == pytest.approx(factor, abs=0.007)  # the rises are printed rounded


@pytest.mark.parametrize(
    ("name", "rise_m"),
    [
        ("push_up_floor", 0.18),
        ("squat", 0.41),
        ("split_squat", 0.32),
        ("single_leg_squat_box", 0.38),
        ("hinge_one", 0.14),
        ("heel_rise_one", 0.065),
        ("side_plank_feet", 0.09),
    ],
)
def test_rises_of_the_study(name: str, rise_m: float) -> None:
    assert rise_of(movement(name)) == pytest.approx(rise_m, abs=0.005)


def test_measured_peaks_lie_in_the_formula_at_free_tempo() -> None:
    """Mier 2014: peak over static bottom, floor, men 97.7 / 74.6 = 1.31; women 80.0 / 70.3 = 1.14. Tempo not reported."""
    rise = rise_of(movement("push_up_floor"))
    assert peak_factor(rise, 0.7) < 97.7 / 74.6 < peak_factor(rise, 0.48)
    assert peak_factor(rise, 0.75) < 80.0 / 70.3 < peak_factor(rise, 0.7)


def test_the_faster_phase_counts() -> None:
    squat = movement("squat")
    assert tempo_factor(squat, Tempo(3, 0, 1)) == pytest.approx(1.17, abs=0.01)
    assert tempo_factor(squat, Tempo(3, 0, "x")) == pytest.approx(1.67, abs=0.01)
    assert tempo_factor(movement("front_plank"), Tempo(3, 0, 1)) == 1.0


def test_no_time_is_no_movement() -> None:
    with pytest.raises(ValueError, match="not a movement"):
        peak_factor(0.4, 0.0)
