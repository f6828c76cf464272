"""A state as if it had begun with what the squad shares: the prior of its offsets exchanged, without folding again.

With b the offsets in the state, prior N(a0, C0), and N(a1, C1) in its place:
    D = inv(C1) - inv(C0);   P' = P - P_b D inv(I + P_bb D) P_b';   m' = m + P'_b (inv(C1) a1 - inv(C0) a0 - D m_b)
Exact for the readings as they were taken. Folding anew also takes the curve's slope, and decides what is set aside, where
the new prior believes a set to lie: so the week that is fitted is folded anew, and past weeks are exchanged.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from ferrule.capacity.state import NORM, NORM_SD, Array, State
from ferrule.capacity.working import Context, Working, squad_offset_var
from ferrule.model.exercise import Library


def exchanged(state: State, context: Context, library: Library, variant_ids: Iterable[str]) -> State:
    """`state`, folded without a context, as what the rest of the squad says makes it; O(m^2 k).

    variant_ids   of which something will be foretold: what the squad knows of them joins the state
    """
    if not context.names:
        return state
    if state.offsets:
        mean, cov = _prior(state, context, library)
        state = _exchanged(state, mean, cov)
    work = Working(state, library, context)
    for name in sorted(set(variant_ids) & set(context.names) - work.anchors):
        work.offset(library.variants[name])
    return work.frozen(state.made_from)


def _prior(state: State, context: Context, library: Library) -> tuple[Array, Array]:
    """(mean (k,), cov (k, k)) of the offsets in `state` as they begin under `context`, the runner's own part in it."""
    norm = NORM_SD**2
    shared = np.array([norm if o.startswith(NORM) else squad_offset_var(library.variants[o]) for o in state.offsets])
    mean, cov = np.zeros(len(shared)), np.diag(shared)
    at = {name: i for i, name in enumerate(context.names)}
    here = [i for i, o in enumerate(state.offsets) if o in at]
    there = [at[state.offsets[i]] for i in here]
    mean[here] = context.mean[there]
    cov[np.ix_(here, here)] = context.cov[np.ix_(there, there)]
    return mean, cov + np.diag(state.own_var)


def _exchanged(state: State, mean: Array, cov: Array) -> State:
    at = [state.names.index(f"offset:{o}") for o in state.offsets]
    new, old = np.linalg.inv(cov), np.linalg.inv(state.offset_cov)
    more = new - old
    columns = state.cov[:, at]
    p = state.cov - columns @ more @ np.linalg.solve(np.eye(len(at)) + columns[at] @ more, columns.T)
    p = (p + p.T) / 2
    m = state.mean + p[:, at] @ (new @ mean - old @ state.offset_mean - more @ state.mean[at])
    return replace(state, mean=m, cov=p, offset_mean=mean, offset_cov=cov)
