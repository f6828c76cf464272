"""The filter, and the squad's pass, against one dense joint Gaussian: equal to 1e-9 where all is linear."""

from __future__ import annotations

from datetime import date

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity.dense import Joint, Reading, posterior
from ferrule.capacity.offsets import share_offsets
from ferrule.capacity.state import FIXED, GROUP_AT, NORM, NORM_SD, Array, Seen, State, first_state
from ferrule.capacity.update import dot, plain, spread_of
from ferrule.capacity.working import Context, Working, own_offset_var, squad_offset_var
from ferrule.library.reader import load_library
from ferrule.model.finding import Span
from ferrule.model.squad import Runner
from ferrule.model.words import GROUPS, Side

LIBRARY, _ = load_library()
DAY = date(2026, 3, 2)
DOSED = [v for v in LIBRARY.variants.values() if v.main is not None and v.id not in LIBRARY.anchors.values()][:12]
DOSED += [LIBRARY.variants[a] for a in LIBRARY.anchors.values()][:3]
RUNNERS = ("R01", "R02", "R03")
CLOSE = 1e-9

Told = tuple[int, Side, float, float]
TOLD = st.tuples(
    st.integers(0, len(DOSED) - 1), st.sampled_from(["left", "right", "both"]), st.floats(-1, 2), st.floats(0.01, 0.5)
)


def runner(name: str) -> Runner:
    return Runner(name, name, "some", (), (0,), (), None, Span("squad.csv", 2, 1), birth_year=1990, sex="female")


def first(name: str) -> State:
    return first_state(runner(name), 2026, 60.0, 6.0)


def folded(name: str, told: list[Told], context: Context) -> tuple[State, list[Reading]]:
    """Readings through the filter one by one, and the same readings for the dense form."""
    work, readings = Working(first(name), LIBRARY, context), []
    work.join_norms()
    for place, side, read, var in told:
        variant = DOSED[place]
        assert variant.main is not None
        row = work.row(variant.main.group, variant.id, side)
        gains = spread_of(row, work.P)
        plain(work, gains, read - dot(row, work.m), dot(row, gains) + var)
        work.seen[variant.id] = Seen(1, DAY, DAY)
        work.group_days[variant.main.group] = DAY
        factors = {f"{name} {work.names[p]}": f for p, f in zip(*row, strict=True)}
        readings.append(Reading(factors, read, var))
    return work.frozen(), readings


def everybody() -> Joint:
    """All latents of all runners: own ones apart, offsets of a variant tied by what the squad shares."""
    names = [f"{r} {n}" for r in RUNNERS for n in FIXED]
    blocks = [first(r) for r in RUNNERS]
    mean = [float(x) for s in blocks for x in s.mean]
    extra = [f"half:{g}" for g in sorted({v.main.group for v in DOSED if v.main is not None})]
    extra += [f"offset:{v.id}" for v in DOSED] + [f"offset:{NORM}{g}" for g in GROUPS]
    names += [f"{r} {n}" for r in RUNNERS for n in extra]
    cov = np.zeros((len(names), len(names)))
    size = len(FIXED)
    for i, s in enumerate(blocks):
        cov[i * size : (i + 1) * size, i * size : (i + 1) * size] = s.cov
        for g in GROUPS:
            cov[i * size + GROUP_AT[g], i * size + GROUP_AT[g]] -= NORM_SD**2
    for a, one in enumerate(names):
        for b, other in enumerate(names):
            if a >= len(mean) and b >= len(mean):
                cov[a, b] = _tie(one, other)
    return Joint(tuple(names), np.array(mean + [0.0] * (len(names) - len(mean))), cov)


def _tie(one: str, other: str) -> float:
    kind = one.split(" ", 1)[1]
    if kind != other.split(" ", 1)[1]:
        return 0.0
    if kind.startswith(f"offset:{NORM}"):
        return NORM_SD**2
    if kind.startswith("half:"):
        return 0.04**2 if one == other else 0.0
    variant = LIBRARY.variants[kind.removeprefix("offset:")]
    return squad_offset_var(variant) + (own_offset_var(variant, LIBRARY) if one == other else 0.0)


def apart(state: State, joint: Joint) -> tuple[float, float]:
    """Largest difference of means and of covariances."""
    mean, cov = joint.of([f"{state.runner_id} {n}" for n in state.names])
    return _most(state.mean - mean), _most(state.cov - cov)


def _most(x: Array) -> float:
    return float(np.abs(x).max())


@settings(derandomize=True, max_examples=25, deadline=None)
@given(st.lists(TOLD, min_size=1, max_size=25))
def test_one_runner_is_the_dense_joint(told: list[Told]) -> None:
    state, readings = folded("R01", told, Context())
    means, covs = apart(state, posterior(everybody(), readings))
    assert means < CLOSE
    assert covs < CLOSE


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.lists(st.lists(TOLD, min_size=1, max_size=12), min_size=3, max_size=3), st.lists(TOLD, max_size=6))
def test_the_squad_pass_is_the_dense_joint(told: list[list[Told]], after: list[Told]) -> None:
    """Offsets from everybody's sets; then each runner's own record, with sets after the pass, in the others' context."""
    states, every = {}, []
    for name, mine in zip(RUNNERS, told, strict=True):
        states[name], readings = folded(name, mine, Context())
        every.append(readings)
    shared = share_offsets(states, LIBRARY, 1, DAY)
    for i, name in enumerate(RUNNERS):
        state, own = folded(name, [*told[i], *after], shared.context(name))
        others = [r for j, readings in enumerate(every) if j != i for r in readings]
        means, covs = apart(state, posterior(everybody(), [*own, *others]))
        assert means < CLOSE
        assert covs < CLOSE


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.lists(st.lists(TOLD, min_size=1, max_size=10), min_size=3, max_size=3))
def test_a_second_pass_takes_out_what_the_first_one_said(told: list[list[Told]]) -> None:
    states = {n: folded(n, mine, Context())[0] for n, mine in zip(RUNNERS, told, strict=True)}
    once = share_offsets(states, LIBRARY, 1, DAY)
    again = {n: folded(n, mine, once.context(n))[0] for n, mine in zip(RUNNERS, told, strict=True)}
    twice = share_offsets(again, LIBRARY, 2, DAY)
    assert once.names == twice.names
    for name in once.mean:
        assert abs(once.mean[name] - twice.mean[name]) < CLOSE
        assert abs(once.sd[name] - twice.sd[name]) < CLOSE


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.lists(st.lists(TOLD, min_size=1, max_size=10), min_size=3, max_size=3))
def test_to_erase_a_runner_is_to_leave_out_one_message(told: list[list[Told]]) -> None:
    states = {n: folded(n, mine, Context())[0] for n, mine in zip(RUNNERS, told, strict=True)}
    erased = share_offsets(states, LIBRARY, 1, DAY).without("R02", 2)
    never = share_offsets({n: s for n, s in states.items() if n != "R02"}, LIBRARY, 2, DAY)
    assert erased.names == never.names
    assert erased.messages.keys() == never.messages.keys()
    for name in never.mean:
        assert abs(erased.mean[name] - never.mean[name]) < CLOSE
        assert abs(erased.sd[name] - never.sd[name]) < CLOSE
