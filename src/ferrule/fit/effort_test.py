from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from ferrule.capacity import curves
from ferrule.fit.effort import (
    FLAT_REPS,
    SWITCH_DOWN,
    SWITCH_UP,
    TOO_EASY,
    TOO_HARD,
    Nodes,
    believed,
    loss,
    possible,
    with_recourse,
)
from ferrule.fit.intent import NO_CEILING, Intent
from ferrule.model.exercise import Ask, Variant
from ferrule.model.quantity import Range
from ferrule.model.squad import Belief, Capacity
from ferrule.model.words import GROUPS, Group

BAND = Intent("reps", 8, 10, 12, Range(2, 2), True)


def capacity(mean_log: float, sd_log: float) -> Capacity:
    every: dict[Group, float] = dict.fromkeys(GROUPS, mean_log)
    return Capacity("R01", every, dict.fromkeys(GROUPS, sd_log), {})


def belief(mean_log: float, sd_log: float) -> Nodes:
    return Nodes.of(capacity(mean_log, sd_log))


def variant(group: Group) -> Variant:
    ask = Ask(group, 1.0, {}, "ratio", main=True)
    return Variant(
        "made", "Made", "made", 0, "push", "reps", False, False, (), (), (), (), "", (ask,), (), "made",
    )  # fmt: skip


def test_inside_the_band_nothing_is_lost() -> None:
    assert loss(np.array([10.0, 11.0, 12.0]), BAND).tolist() == [0, 0, 0]


def test_too_hard_costs_more_than_too_easy_and_both_flatten() -> None:
    hard, easy = loss(np.array([9.0]), BAND)[0], loss(np.array([13.0]), BAND)[0]
    assert hard == pytest.approx(TOO_HARD * FLAT_REPS * (1 - math.exp(-1 / FLAT_REPS)))
    assert easy == pytest.approx(TOO_EASY * FLAT_REPS * (1 - math.exp(-1 / FLAT_REPS)))
    assert loss(np.array([-1000.0, 1000.0]), BAND) == pytest.approx([TOO_HARD * FLAT_REPS, TOO_EASY * FLAT_REPS])


def test_without_a_ceiling_nothing_is_too_easy() -> None:
    assert loss(np.array([1e5]), Intent("reps", 8, 9, NO_CEILING, Range(1, NO_CEILING), False))[0] == 0


@pytest.mark.parametrize(("mean", "sd", "demand"), [(0.5, 0.25, 1.0), (0.9, 0.4, 1.6), (0.3, 0.1, 1.2)])
def test_slices_agree_with_a_fine_integral(mean: float, sd: float, demand: float) -> None:
    """The expected loss over the slices against 400 x 60 points of the two normal distributions."""
    nodes = belief(mean, sd)
    sliced = float(loss(possible(np.array([demand]), 1, BAND, "push", nodes), BAND).mean())
    z = np.array([NormalDist().inv_cdf((i + 0.5) / 400) for i in range(400)])
    zk = np.array([NormalDist().inv_cdf((i + 0.5) / 60) for i in range(60)])
    capacity = np.exp(mean + math.hypot(sd, curves.DAY_SD_LOG) * z)[:, None]
    k = curves.K_PRESS * np.exp(curves.K_CV * zk - curves.K_CV**2 / 2)[None, :]
    fine = float(loss(1 + (capacity / demand - 1) / k, BAND).mean())
    a_tenth_of_a_rep = 0.10
    assert abs(sliced - fine) < a_tenth_of_a_rep


def test_a_demand_that_was_inferred_widens_the_belief_about_what_is_possible() -> None:
    """A demand known to 0.3 on the log axis is as a capacity known so much worse: variances add."""
    demand, nodes = np.array([1.0, 1.0]), belief(0.6, 0.4)
    known, inferred = variant("push"), replace(variant("push"), id="fence-press", spread_log=0.3)
    pairs = np.array([believed(capacity(0.6, 0.4), v) for v in (known, inferred)]).T
    n = possible(demand, 1, BAND, "push", nodes, (pairs[0], pairs[1]))
    wide = possible(demand[:1], 1, BAND, "push", belief(0.6, 0.5))
    assert n[0] == pytest.approx(possible(demand[:1], 1, BAND, "push", nodes)[0])
    assert n[1] == pytest.approx(wide[0], rel=1e-12)


def test_a_variant_with_sets_of_its_own_is_held_against_those_alone() -> None:
    """Its own sets tell its offset and an inferred demand too: neither widens the belief any more."""
    told = replace(capacity(0.6, 0.4), variants={"fence-press": Belief(0.8, 0.1, 5)}, offset_sd={"ratio": 0.3})
    seen, unseen = replace(variant("push"), id="fence-press", spread_log=0.3), variant("push")
    assert believed(told, seen) == (0.8, 0.1)
    assert believed(told, unseen) == pytest.approx((0.6, 0.5))
    assert believed(told, replace(unseen, spread_log=1.2)) == pytest.approx((0.6, 1.3))


def test_a_hold_at_half_the_best_lasts_as_published() -> None:
    # Frey Law and Avin 2010 (seen): trunk, half the best, 109.4 s; the middle slice has the mean capacity.
    intent = Intent("hold", 10, 11, NO_CEILING, Range(1, NO_CEILING), False, hold_s=60)
    tenths = possible(np.array([0.5]), 1, intent, "trunk front", belief(0.0, 1e-6))
    assert float(np.median(tenths)) == pytest.approx(10 * 109.4 / 60, rel=0.01)


def test_later_sets_leave_less() -> None:
    one, four = (possible(np.array([1.0]), n, BAND, "push", belief(0.6, 0.1)).mean() for n in (1, 4))
    assert four < one


def test_recourse_never_makes_a_choice_worse() -> None:
    own = np.array([[4.0, 0.0]])
    assert with_recourse(own, own, own).tolist() == [2.0]
    assert with_recourse(own, np.array([[0.0, 9.0]]), own).tolist() == [min(4.0, SWITCH_DOWN) / 2]
    assert with_recourse(own, own, np.array([[0.0, 9.0]])).tolist() == [SWITCH_UP / 2]


def test_a_wide_belief_keeps_failing_dear() -> None:
    """Of choices spread over the demand, the best leaves about one chance in four of being too hard, however wide."""
    for sd in (0.2, 0.4):
        demands = np.linspace(0.3, 1.6, 300)
        n = possible(demands, 1, BAND, "push", belief(0.5, sd))
        best = int(loss(n, BAND).mean(axis=1).argmin())
        assert 0.10 < float((n[best] < BAND.low).mean()) < 0.35
