from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from ferrule.capacity.prior import prior_capacity
from ferrule.capacity.state import BIAS, FIXED, GROUP_AT, REGION_OF, correlation, first_state
from ferrule.model.finding import Span
from ferrule.model.squad import Runner
from ferrule.model.words import GROUPS

RUNNER = Runner("R01", "Ana T", "regular", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1975, sex="male")


def test_the_first_state_has_the_spread_of_the_prior() -> None:
    state, prior = first_state(RUNNER, 2026, 70.0, 26.0), prior_capacity(RUNNER, 2026)
    for group in GROUPS:
        at = GROUP_AT[group]
        assert state.mean[at] == pytest.approx(prior.mean_log[group])
        assert state.cov[at, at] ** 0.5 == pytest.approx(prior.sd_log[group])
    assert np.linalg.eigvalsh(state.cov).min() > -1e-12
    assert state.names == FIXED


def test_groups_of_a_region_go_together_more_than_others() -> None:
    table = correlation()
    assert np.allclose(np.diag(table), 1)
    for a in GROUPS:
        for b in GROUPS:
            if a != b:
                same = REGION_OF[a] == REGION_OF[b]
                # 0.16, 0.09, 0.13: parts of the spread between people (estimator trial).
                assert table[GROUP_AT[a], GROUP_AT[b]] == pytest.approx(
                    (0.16**2 + 0.09**2 * same) / (0.16**2 + 0.09**2 + 0.13**2)
                )


def test_the_bias_of_reports_is_the_published_mean_held_tight() -> None:
    state = first_state(RUNNER, 2026, 70.0, 26.0)
    published = 0.95  # Halperin 2022, abstract seen
    assert abs(state.mean[BIAS] - published) < 0.1
    assert state.cov[BIAS, BIAS] ** 0.5 < 0.5


def test_states_are_equal_number_for_number() -> None:
    one, two = first_state(RUNNER, 2026, 70.0, 26.0), first_state(RUNNER, 2026, 70.0, 26.0)
    assert one == two
    assert hash(one) == hash(two)
    assert one != first_state(replace(RUNNER, level="some"), 2026, 70.0, 26.0)
    assert one != "a state"
    assert one.at("group:push") == GROUP_AT["push"]
    assert one.at("offset:step-up") is None
