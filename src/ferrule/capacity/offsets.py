"""What the squad shares: how far each variant lies off its computed demand, re-estimated between cycles, frozen within.

Each runner's sets say of the shared offsets b what is left when the runner's own part e (variance E) is averaged over:
    message precision (I + Lam E)^-1 Lam, and the same for its mean;  Lam = inv(P_uu) - inv(C_uu)  (what the sets added)
The total is the prior plus all messages. A runner is handed the total less the own message, so that nobody's sets count
twice, and taking a runner out is leaving out one message. In the linear Gaussian case all this is exact (dense.py).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from ferrule.capacity.state import NORM, NORM_SD, Array, State
from ferrule.capacity.working import Context, squad_offset_var
from ferrule.model.exercise import Library


@dataclass(frozen=True, slots=True)
class Message:
    """What one runner's sets say of the shared offsets of `names`: precision (k, k) and precision times mean (k,)."""

    names: tuple[str, ...]
    precision: Array
    weighted: Array


@dataclass(frozen=True, slots=True)
class Offsets:
    """Shared offsets, log units; above 0 the variant is harder than computed.

    version, made_on   which estimate this is, and the day up to which logs went in
    mean, sd           by variant id, for variants that somebody has logged
    names, prior_var   those variants and "norm:GROUP", how far the squad lies below a group's norm, and their variance before any log (n,)
    messages           by runner id
    """

    version: int
    made_on: date | None
    mean: Mapping[str, float]
    sd: Mapping[str, float]
    names: tuple[str, ...] = ()
    prior_var: Array = field(default_factory=lambda: np.zeros(0))
    messages: Mapping[str, Message] = field(default_factory=dict)

    def context(self, runner_id: str | None = None) -> Context:
        """What everybody but `runner_id` says of the shared offsets."""
        if not self.names:
            return Context()
        mean, cov = self.joint({r: m for r, m in self.messages.items() if r != runner_id})
        return Context(self.names, mean, cov)

    def without(self, runner_id: str, version: int) -> Offsets:
        """The same estimate as if `runner_id` had never logged."""
        left = {r: m for r, m in self.messages.items() if r != runner_id}
        kept = tuple(n for n in self.names if any(n in m.names for m in left.values()))
        places = [self.names.index(n) for n in kept]
        return _told(replace(self, version=version, names=kept, prior_var=self.prior_var[places], messages=left))

    def joint(self, messages: Mapping[str, Message]) -> tuple[Array, Array]:
        """(mean (n,), cov (n, n)) of the shared offsets from the prior and these messages."""
        at = {name: i for i, name in enumerate(self.names)}
        precision, weighted = np.diag(1 / self.prior_var), np.zeros(len(self.names))
        for runner_id in sorted(messages):
            message = messages[runner_id]
            places = [at[n] for n in message.names]
            precision[np.ix_(places, places)] += message.precision
            weighted[places] += message.weighted
        cov = np.linalg.inv(precision)
        cov = (cov + cov.T) / 2
        return cov @ weighted, cov


NO_OFFSETS = Offsets(0, None, {}, {})
"""Before anybody has logged: every offset has its prior."""


def share_offsets(states: Mapping[str, State], library: Library, version: int, day: date) -> Offsets:
    """The offsets that the squad shares, from the state of each runner at the end of `day`.

    The states may have been folded with any earlier Offsets: what those said is taken out again.
    """
    messages = {r: m for r, s in sorted(states.items()) if (m := message_of(s)) is not None}
    names = tuple(sorted({n for m in messages.values() for n in m.names}))
    prior_var = np.array([NORM_SD**2 if n.startswith(NORM) else squad_offset_var(library.variants[n]) for n in names])
    return _told(Offsets(version, day, {}, {}, names, prior_var, messages))


def message_of(state: State) -> Message | None:
    """What the sets in `state` say of the shared offsets of the variants logged; None where they say nothing."""
    names = tuple(n for n in state.offsets if n in state.seen or n.removeprefix(NORM) in state.group_days)
    if not names:
        return None
    k = [state.offsets.index(n) for n in names]
    at = [state.names.index(f"offset:{n}") for n in names]
    after, before = np.linalg.inv(state.cov[np.ix_(at, at)]), np.linalg.inv(state.offset_cov[np.ix_(k, k)])
    told = after - before
    weighted = after @ state.mean[at] - before @ state.offset_mean[k]
    share = np.linalg.inv(np.eye(len(names)) + told @ np.diag(state.own_var[k]))
    precision = share @ told
    return Message(names, (precision + precision.T) / 2, share @ weighted)


def _told(offsets: Offsets) -> Offsets:
    """With mean and sd by variant filled in."""
    if not offsets.names:
        return replace(offsets, mean={}, sd={})
    mean, cov = offsets.joint(offsets.messages)
    at = {name: i for i, name in enumerate(offsets.names) if not name.startswith(NORM)}
    return replace(
        offsets,
        mean={name: float(mean[i]) for name, i in at.items()},
        sd={name: float(np.sqrt(cov[i, i])) for name, i in at.items()},
    )
