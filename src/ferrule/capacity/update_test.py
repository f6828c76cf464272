from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from ferrule.capacity import curves
from ferrule.capacity.observation import Observation, observe
from ferrule.capacity.state import BIAS, GROUP_AT, first_state
from ferrule.capacity.update import BOUND_GATE, GATE, fold_one, fold_reading, hazard, linear
from ferrule.capacity.working import Context, Working
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

LIBRARY, _ = load_library()
RUNNER = Runner("R01", "Ana T", "some", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1990, sex="female")
PLAIN = LoggedSet("a", "R01", date(2026, 1, 5), "s1", "i1", "press-up", 1, "counted", asked=8, done=8)
PUSH = GROUP_AT["push"]


def working() -> Working:
    return Working(first_state(RUNNER, 2026, 60.0, 6.0), LIBRARY, Context())


def read(**changes: object) -> Observation:
    return observe(replace(PLAIN, **changes), LIBRARY, 60.0)  # type: ignore[arg-type]


def test_a_count_is_read_off_the_published_curve() -> None:
    # 8 done, 2 told, half a one begun, and one more than is told (Halperin 2022, abstract seen: 0.95).
    seen = linear(working(), read(reserve=Reserve(2, 2)))
    assert seen.read == pytest.approx(-math.log(curves.share_at(11.5, curves.K_PRESS)))


def test_later_sets_are_expected_to_be_a_little_harder() -> None:
    first, third = (linear(working(), read(reserve=Reserve(2, 2), number=n)).expected for n in (1, 3))
    assert first - third == pytest.approx(2 * curves.SET_FATIGUE_LOG)


def test_a_better_set_moves_the_belief_up_and_every_set_narrows_it() -> None:
    means, spreads = [], []
    for done in (6, 9, 12, 15):
        work = working()
        before = work.P[PUSH, PUSH]
        assert fold_one(work, read(done=done, reserve=Reserve(1, 1))).result == "folded"
        means.append(work.m[PUSH])
        spreads.append(work.P[PUSH, PUSH] < before)
    assert means == sorted(means)
    assert all(spreads)


def test_a_bound_never_lowers_and_says_nothing_far_below_the_belief() -> None:
    base = working().m[PUSH]
    for done in (1, 4, 8, 12, 16, 20):
        work = working()
        fold_one(work, read(done=done))
        assert work.m[PUSH] >= base
    work = working()
    assert fold_one(work, read(done=1)).result == "nothing"
    assert np.array_equal(work.P, working().P)


def test_a_bound_has_the_moments_of_the_cut_gaussian() -> None:
    """Against a sum over the belief and the noise, on a fine grid."""
    work, o = working(), read(done=12)
    seen = linear(work, o)
    prior_var = float(seen.row[1] @ work.P[np.ix_(seen.row[0], seen.row[0])] @ np.array(seen.row[1]))
    x = np.linspace(-6, 6, 20001) * math.sqrt(prior_var) + seen.expected
    chance = np.array([0.5 * math.erfc(-(v - seen.read) / math.sqrt(2 * seen.var)) for v in x])
    weight = np.exp(-0.5 * (x - seen.expected) ** 2 / prior_var) * chance
    mean = (weight * x).sum() / weight.sum()
    var = (weight * (x - mean) ** 2).sum() / weight.sum()
    fold_one(work, o)
    after = np.array(seen.row[1]) @ work.m[seen.row[0]]
    after_var = np.array(seen.row[1]) @ work.P[np.ix_(seen.row[0], seen.row[0])] @ np.array(seen.row[1])
    assert after == pytest.approx(mean, abs=1e-6)
    assert after_var == pytest.approx(var, abs=1e-6)


def test_a_slip_is_set_aside_and_changes_nothing() -> None:
    for changes, gate in (({"done": 800, "reserve": Reserve(1, 1)}, GATE), ({"done": 800}, BOUND_GATE)):
        work = working()
        before = work.m.copy()
        step = fold_one(work, read(**changes))
        assert step.result == "aside"
        assert step.z > gate
        assert np.array_equal(work.m, before)


def test_a_surprise_counts_less_than_its_number() -> None:
    """Twice as far off moves the belief by less than twice: the weight of Student's t."""
    moved = []
    for done in (8, 40):
        work = working()
        for number in range(1, 9):
            fold_one(work, read(done=8, reserve=Reserve(1, 1), number=1, entry_id=str(number)))
        at = work.m[PUSH]
        step = fold_one(work, read(done=done, reserve=Reserve(1, 1)))
        moved.append((abs(work.m[PUSH] - at), abs(step.read - step.expected), step.weight))
    assert moved[1][2] < moved[0][2] <= 1


def test_a_report_does_not_move_the_bias_and_a_failed_set_may() -> None:
    work = working()
    for number in (1, 2, 3):
        fold_one(work, read(done=8, reserve=Reserve(3, 3), number=number))
    assert work.m[BIAS] == 1.0
    assert work.P[BIAS, BIAS] == pytest.approx(0.3**2)
    fold_one(work, read(outcome="failed", done=16))
    assert work.m[BIAS] != 1.0
    assert work.P[BIAS, BIAS] < 0.3**2


def test_a_test_is_a_reading_without_an_offset() -> None:
    work = working()
    z = fold_reading(work, work.row("push", None, "both"), work.m[PUSH] + 0.2, 0.1**2)
    assert z > 0
    assert 0 < work.m[PUSH] - working().m[PUSH] < 0.2


@pytest.mark.parametrize(("z", "tail"), [(0.0, 0.5), (-1.6449, 0.05), (-2.3263, 0.01), (-3.0902, 0.001)])
def test_the_hazard_by_the_tables_of_the_normal_distribution(z: float, tail: float) -> None:
    assert hazard(z) == pytest.approx(math.exp(-0.5 * z * z) / math.sqrt(2 * math.pi) / tail, rel=3e-4)


def test_the_hazard_joins_its_asymptote() -> None:
    assert hazard(-29.999) == pytest.approx(hazard(-30.001), abs=5e-3)
