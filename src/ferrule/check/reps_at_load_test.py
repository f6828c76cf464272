"""Against the pooled means and spread of Nuzzo 2024 (seen, transcribed)."""

from __future__ import annotations

import pytest

from ferrule.check.reps_at_load import mean_reps, sd_reps

A_REP_AND_A_HALF = 1.5


@pytest.mark.parametrize(("percent", "reps"), [(70, 14.1), (80, 8.8), (90, 4)])
def test_bench_press(percent: float, reps: float) -> None:
    assert mean_reps(percent, "push") == pytest.approx(reps, abs=A_REP_AND_A_HALF)


@pytest.mark.parametrize(("percent", "reps"), [(70, 15), (90, 5), (95, 2)])
def test_general_model(percent: float, reps: float) -> None:
    assert mean_reps(percent, "hinge") == pytest.approx(reps, abs=2 * A_REP_AND_A_HALF if percent == 70 else 1)


def test_squats_lie_between_the_leg_press_and_the_others() -> None:
    """Leg press 13.1 at 80 %, general about 10; only the leg press was measured."""
    assert mean_reps(80, "hinge") < mean_reps(80, "knee and hip") < 13.1


@pytest.mark.parametrize(("percent", "sd"), [(80, 2.51), (60, 4.36), (70, 3.44), (90, 1.59)])
def test_spread(percent: float, sd: float) -> None:
    assert sd_reps(percent) == pytest.approx(sd, abs=0.01)
