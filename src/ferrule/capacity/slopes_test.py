from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ferrule.capacity import curves, slopes

REPS = st.floats(1, 60)
STEEP = st.floats(-0.5, 0.5)


@given(REPS, STEEP)
def test_reps_go_there_and_back(reps: float, steepness: float) -> None:
    k = curves.K_GENERAL
    assert slopes.reps_at_log_share(slopes.log_share_reps(reps, k, steepness), k, steepness) == pytest.approx(reps)


@given(REPS, STEEP)
def test_slopes_are_those_of_the_curve(reps: float, steepness: float) -> None:
    k, step = curves.K_PRESS, 1e-6
    by_reps, by_steepness = slopes.reps_slopes(reps, k, steepness)
    at = slopes.log_share_reps(reps, k, steepness)
    assert by_reps == pytest.approx((slopes.log_share_reps(reps + step, k, steepness) - at) / step, abs=1e-4)
    assert by_steepness == pytest.approx((slopes.log_share_reps(reps, k, steepness + step) - at) / step, abs=1e-4)


@pytest.mark.parametrize("reps", [1.0, 5.0, 12.0, 25.0])
def test_without_a_steepness_of_its_own_it_is_the_published_curve(reps: float) -> None:
    share = math.exp(slopes.log_share_reps(reps, curves.K_LEG_PRESS))
    assert share == pytest.approx(curves.share_at(reps, curves.K_LEG_PRESS))


def test_holds_follow_the_published_law() -> None:
    # Frey Law and Avin 2010, table 2 (seen): the trunk at half of its best lasts 109.4 s.
    assert math.exp(slopes.log_share_hold(109.4, "trunk front")) == pytest.approx(0.5, abs=1e-3)
    assert slopes.hold_slope("trunk front") < 0
    assert slopes.hold_outside(5, "trunk front")
    assert not slopes.hold_outside(60, "trunk front")
