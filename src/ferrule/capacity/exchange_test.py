"""The prior of the offsets exchanged afterwards, against readings taken under it from the start: equal where all is linear."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity.dense_test import DAY, LIBRARY, TOLD, Told, folded
from ferrule.capacity.exchange import exchanged
from ferrule.capacity.offsets import share_offsets
from ferrule.capacity.state import State
from ferrule.capacity.working import Context


def shared(told: list[Told]) -> Context:
    """What two others' readings say of the offsets."""
    states = {r: folded(r, told[n::2], Context())[0] for n, r in enumerate(("R02", "R03"))}
    return share_offsets(states, LIBRARY, 1, DAY).context("R01")


def by_name(state: State) -> tuple[list[str], np.ndarray, np.ndarray]:
    order = sorted(range(len(state.names)), key=lambda i: state.names[i])
    return [state.names[i] for i in order], state.mean[order], state.cov[np.ix_(order, order)]


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.lists(TOLD, min_size=1, max_size=8), st.lists(TOLD, min_size=2, max_size=8))
def test_exchanged_afterwards_is_as_begun_with(own: list[Told], others: list[Told]) -> None:
    context = shared(others)
    begun, _ = folded("R01", own, context)
    after = exchanged(folded("R01", own, Context())[0], context, LIBRARY, ())
    (names, mean, cov), (same, m, p) = by_name(begun), by_name(after)
    assert names == same
    assert np.abs(mean - m).max() < 1e-9
    assert np.abs(cov - p).max() < 1e-9


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.lists(TOLD, min_size=2, max_size=8), st.lists(TOLD, max_size=4))
def test_what_the_squad_knows_of_other_exercises_joins(others: list[Told], own: list[Told]) -> None:
    """With all the squad knows asked for, the state is what it is with those joined first."""
    context = shared(others)
    known = [n for n in context.names if n in LIBRARY.variants]
    begun, _ = folded("R01", own, context)
    after = exchanged(folded("R01", own, Context())[0], context, LIBRARY, known)
    again = exchanged(begun, Context(), LIBRARY, known)
    assert again is begun
    assert {f"offset:{n}" for n in known} - set(after.names) == set()
    joined = exchanged(after, context, LIBRARY, known)
    assert np.abs(joined.mean - after.mean).max() < 1e-9


def test_without_a_squad_nothing_changes() -> None:
    state, _ = folded("R01", [(0, "both", 0.5, 0.1)], Context())
    assert exchanged(state, Context(), LIBRARY, ("press-up",)) is state
