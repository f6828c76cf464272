from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ferrule.capacity import curves
from ferrule.capacity.foretell import STEEP_KNOWN, curve_spread, foretell, log_share_of
from ferrule.capacity.prior import prior_capacity
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.squad import Belief, Capacity, Runner

LIBRARY, _ = load_library()
PRESS, PLANK, MOBILITY = (LIBRARY.variants[v] for v in ("press-up", "front-plank", "ankle-rock"))


def capacity() -> Capacity:
    runner = Runner("R01", "R01", "some", (), (0,), (), None, Span("squad.csv", 2, 1), sex="male", mass_kg=70.0)
    return prior_capacity(runner, 2026)


def test_the_middle_is_the_curve_at_the_share_of_best() -> None:
    said = foretell(capacity(), PRESS, 0.0, None, 70.0)
    share = 1.0 / math.exp(capacity().mean_log["push"])  # the anchor asks 1 of its group
    assert said.amount() == pytest.approx(curves.reps_at(share, curves.K_PRESS))
    assert said.chance(said.amount()) == pytest.approx(0.5)


def test_amounts_and_their_spreads_go_there_and_back() -> None:
    for variant in (PRESS, PLANK):
        said = foretell(capacity(), variant, 0.0, None, 70.0)
        for z in (-1.0, 0.0, 0.7):
            assert said.z_of(said.amount(z)) == pytest.approx(z)
        assert said.chance(said.amount(-1.2816)) == pytest.approx(0.9, abs=1e-4)


def test_a_hold_is_put_on_the_published_law() -> None:
    # Frey Law and Avin 2010 (seen): trunk, half the best, 109.4 s
    assert log_share_of(109.4, "trunk front", hold=True) == pytest.approx(math.log(0.5), abs=1e-3)


def test_sets_before_take_from_what_is_possible() -> None:
    first, third = (foretell(capacity(), PRESS, 0.0, None, 70.0, n) for n in (0, 2))
    assert third.log_share - first.log_share == pytest.approx(2 * curves.SET_FATIGUE_LOG)


def test_a_known_exercise_holds_most_of_the_curve_in_its_offset() -> None:
    known = replace(capacity(), variants={"press-up": Belief(0.5, 0.1, 3), "front-plank": Belief(0.5, 0.1, 2)})
    assert curve_spread(known, PRESS, hold=False) == STEEP_KNOWN
    assert curve_spread(known, PLANK, hold=True) == curves.HOLD_SD_LOG  # two sets only
    assert curve_spread(capacity(), PRESS, hold=False) == curves.K_CV
    legs = foretell(capacity(), LIBRARY.variants["squat"], 0.0, None, 70.0)
    assert legs.sd > capacity().sd_log["knee and hip"]


def test_what_is_never_dosed_is_not_foretold() -> None:
    with pytest.raises(ValueError, match="no main group"):
        foretell(capacity(), MOBILITY, 0.0, None, 70.0)
