from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from ferrule.capacity.state import DAY_LEGS, FIXED, RACE_CALF, RACE_THIGH, first_state
from ferrule.capacity.working import Context, Working, own_offset_var, squad_offset_var
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.squad import Runner

LIBRARY, _ = load_library()
RUNNER = Runner("R01", "Ana T", "some", (), (0,), (), None, Span("squad.csv", 2, 1), sex="female")


def working(context: Context | None = None) -> Working:
    return Working(first_state(RUNNER, 2026, 60.0, 6.0), LIBRARY, context or Context())


def test_a_row_holds_the_group_the_day_and_what_is_met() -> None:
    work = working()
    places, factors = work.row("calf straight", "heel-raise-two-legs", "left")
    names = [work.names[p] for p in places]
    assert names[0] == "group:calf straight"
    assert {DAY_LEGS, RACE_CALF} <= set(places)
    assert RACE_THIGH not in places
    assert dict(zip(names, factors, strict=True))["half:calf straight"] == 1
    assert dict(zip(names, factors, strict=True))["offset:heel-raise-two-legs"] == -1
    assert work.row("calf straight", None, "right")[1][-1] == -1


def test_anchors_gauge_the_scale() -> None:
    work = working()
    for group, anchor in LIBRARY.anchors.items():
        work.row(group, anchor, "both")
    assert tuple(work.names) == FIXED


def test_an_offset_joins_with_its_prior_and_once() -> None:
    work = working()
    variant = LIBRARY.variants["step-up"]
    at = work.offset(variant)
    assert work.P[at, at] == pytest.approx(squad_offset_var(variant) + own_offset_var(variant, LIBRARY))
    assert work.offset(variant) == at
    placed = replace(variant, spread_log=0.3)
    assert squad_offset_var(placed) == pytest.approx(squad_offset_var(variant) + 0.09)


def test_an_offset_the_squad_ties_to_another_joins_moved_with_it() -> None:
    names = ("split-squat", "step-up")
    cov = np.array([[0.04, 0.03], [0.03, 0.04]])
    work = working(Context(names, np.array([0.1, 0.0]), cov))
    first = work.offset(LIBRARY.variants["split-squat"])
    work.m[first] += 0.2  # as if sets had said so
    second = work.offset(LIBRARY.variants["step-up"])
    assert work.m[second] > 0
    assert work.P[first, second] > 0
    work.join_shared()
    assert len(work.names) == len(FIXED) + 2


def test_frozen_values_cannot_be_written_to() -> None:
    work = working()
    state = work.frozen("x")
    with pytest.raises(ValueError, match="read-only"):
        state.mean[0] = 1.0
    work.m[0] += 1
    assert state.mean[0] != work.m[0]
