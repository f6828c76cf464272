"""A state being worked on: the same numbers as a State, in arrays that may be written to while a record is folded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from ferrule.capacity.observation import Observation
from ferrule.capacity.state import (
    DAY,
    DAY_LEGS,
    GROUP_AT,
    HALF_SD,
    LEGS,
    NORM,
    NORM_SD,
    OTHER_CURVE_SD,
    OWN_OFFSET_SD,
    RACE_CALF,
    RACE_THIGH,
    REGION_OF,
    SQUAD_OFFSET_SD,
    Array,
    Seen,
    State,
)
from ferrule.model.exercise import Library, Variant
from ferrule.model.words import Group, Side

Row = tuple[list[int], list[float]]
"""Places in the state and their factors; everywhere else the factor is 0."""


@dataclass(frozen=True, slots=True)
class Context:
    """What the rest of the squad says of offsets before this runner's own sets: names, mean (k,), cov (k, k)."""

    names: tuple[str, ...] = ()
    mean: Array = field(default_factory=lambda: np.zeros(0))
    cov: Array = field(default_factory=lambda: np.zeros((0, 0)))


def own_offset_var(variant: Variant, library: Library) -> float:
    """Variance of one runner's own part of an offset: by trust, wider where reps and holds are held against each other."""
    main = variant.main
    if main is None:
        return 0.0
    anchor = library.variants.get(library.anchors.get(main.group, ""))
    other = anchor is not None and anchor.dose_kind != variant.dose_kind
    spread = OTHER_CURVE_SD if other else 0.0
    return OWN_OFFSET_SD[main.trust] ** 2 + spread**2


def squad_offset_var(variant: Variant) -> float:
    """Variance of the part of an offset that the squad shares, before any log: by trust, and by what placed it."""
    main = variant.main
    return 0.0 if main is None else SQUAD_OFFSET_SD[main.trust] ** 2 + variant.spread_log**2


class Working:
    """Latents m (n,), P (n, n) and the bookkeeping of one runner while entries are folded in. See State for the meaning."""

    def __init__(self, state: State, library: Library, context: Context) -> None:
        self.library, self.context = library, context
        self.anchors = frozenset(library.anchors.values())
        self.runner_id, self.mass_kg = state.runner_id, state.mass_kg
        self.names, self.at = list(state.names), {name: i for i, name in enumerate(state.names)}
        self.m, self.P = state.mean.copy(), state.cov.copy()
        self.offsets = list(state.offsets)
        self.offset_mean, self.offset_cov = state.offset_mean.copy(), state.offset_cov.copy()
        self.own_var = state.own_var.copy()
        self.day, self.trained, self.weeks = state.day, state.trained, state.weeks
        self.group_days: dict[Group, date] = dict(state.group_days)
        self.seen: dict[str, Seen] = dict(state.seen)
        self.shock, self.asides = state.shock, list(state.asides)
        self.prior_basis, self.prior_sd = state.prior_basis, state.prior_sd

    def frozen(self, made_from: str = "") -> State:
        """The state as a value, with arrays that nobody may write to."""
        arrays = [a.copy() for a in (self.m, self.P, self.offset_mean, self.offset_cov, self.own_var)]
        for a in arrays:
            a.flags.writeable = False
        return State(
            self.runner_id, tuple(self.names), arrays[0], arrays[1], self.day, self.mass_kg, self.weeks,
            tuple(self.offsets), arrays[2], arrays[3], arrays[4], self.trained, dict(self.group_days), dict(self.seen),
            self.shock, tuple(self.asides), self.prior_basis, self.prior_sd, made_from,
        )  # fmt: skip

    def join(self, name: str, mean: float, row: Array, var: float) -> int:
        """Add a latent with its covariance `row` (n,) to those there are."""
        n = len(self.m)
        m, cov = np.empty(n + 1), np.empty((n + 1, n + 1))
        m[:n], m[n] = self.m, mean
        cov[:n, :n], cov[n, :n], cov[:n, n], cov[n, n] = self.P, row, row, var
        self.m, self.P = m, cov
        self.names.append(name)
        self.at[name] = n
        return n

    def half(self, group: Group) -> int:
        """Place of the half-difference of the sides, joined when first asked for."""
        name = f"half:{group}"
        found = self.at.get(name)
        return self.join(name, 0.0, np.zeros(len(self.m)), HALF_SD**2) if found is None else found

    def offset(self, variant: Variant) -> int:
        """Place of a variant's offset, joined when first asked for, at what its neighbours in the state say of it.

        With u the offsets there are (prior mean a, cov C) and c the prior covariance of the new one with them:
        A = c C^-1, mean = prior + A (m_u - a), cov with x = A P_ux, var = v - A c' + A P_uu A'   (exact).
        """
        found = self.at.get(f"offset:{variant.id}")
        if found is not None:
            return found
        return self._join_shared(variant.id, squad_offset_var(variant), own_offset_var(variant, self.library))

    def join_norms(self) -> None:
        """Part the error of each group's norm, which the squad shares, from how this runner differs from it.

        The spread of a capacity stays what it was: the norm's part is taken from the group's and joined beside it.
        """
        for group, at in GROUP_AT.items():
            self.P[at, at] -= NORM_SD**2
            self._join_shared(f"{NORM}{group}", NORM_SD**2, 0.0)

    def _join_shared(self, key: str, squad_var: float, own: float) -> int:
        """Join a latent of which `squad_var` is shared before any log and `own` is this runner's."""
        mean, var, cross = self._shared_prior(key, squad_var)
        k = len(self.offsets)
        row, new_mean, new_var = np.zeros(len(self.m)), mean, var + own
        if k and cross.any():
            factor = np.linalg.solve(self.offset_cov, cross)
            places = [self.at[f"offset:{o}"] for o in self.offsets]
            row = factor @ self.P[places, :]
            new_mean += float(factor @ (self.m[places] - self.offset_mean))
            new_var += float(row[places] @ factor - factor @ cross)
        grown = np.empty((k + 1, k + 1))
        grown[:k, :k], grown[k, :k], grown[:k, k], grown[k, k] = self.offset_cov, cross, cross, var + own
        self.offset_cov, self.offset_mean = grown, np.append(self.offset_mean, mean)
        self.own_var = np.append(self.own_var, own)
        self.offsets.append(key)
        return self.join(f"offset:{key}", new_mean, row, new_var)

    def join_shared(self) -> None:
        """Join the offsets the squad knows and this runner has not met, so that a belief about them can be told."""
        for name in self.context.names:
            if name not in self.anchors and name in self.library.variants:
                self.offset(self.library.variants[name])

    def _shared_prior(self, key: str, squad_var: float) -> tuple[float, float, Array]:
        """(mean, variance without the own part, covariance (k,) with the offsets in the state)."""
        names = self.context.names
        if key not in names:
            return 0.0, squad_var, np.zeros(len(self.offsets))
        i = names.index(key)
        cross = np.array([self.context.cov[i, names.index(o)] if o in names else 0.0 for o in self.offsets])
        return float(self.context.mean[i]), float(self.context.cov[i, i]), cross

    def row(self, group: Group, variant_id: str | None, side: Side) -> Row:
        """What the log capacity shown in a variant is made of: the sum of `factor * latent`."""
        places, factors = [GROUP_AT[group], DAY], [1.0, 1.0]
        if group in LEGS:
            places += [DAY_LEGS, RACE_CALF if REGION_OF[group] == "calf" else RACE_THIGH]
            factors += [1.0, 1.0]
        norm = self.at.get(f"offset:{NORM}{group}")
        if norm is not None:
            places.append(norm)
            factors.append(-1.0)
        if side != "both":
            places.append(self.half(group))
            factors.append(1.0 if side == "left" else -1.0)
        if variant_id is not None and variant_id not in self.anchors:
            places.append(self.offset(self.library.variants[variant_id]))
            factors.append(-1.0)
        return places, factors

    def row_of(self, o: Observation) -> Row:
        """`row` of an observation that has a group."""
        assert o.group is not None
        return self.row(o.group, o.variant_id, o.side)

    def saw(self, o: Observation) -> None:
        """Note that a set of this variant said something."""
        old = self.seen.get(o.variant_id)
        self.seen[o.variant_id] = (
            Seen(1, o.day, o.day)
            if old is None
            else Seen(old.sets + 1, old.first, max(old.last, o.day), old.days + (o.day > old.last))
        )

    def widen(self, common_sd: float, own_sd: float, groups: Iterable[Group] | None = None) -> None:
        """Add variance to the capacities: one amount that moves them together, and one for each alone."""
        n = len(GROUP_AT)
        places = range(n) if groups is None else [GROUP_AT[g] for g in groups]
        self.P[:n, :n] += common_sd**2
        for i in places:
            self.P[i, i] += own_sd**2

    def clear(self, variances: Mapping[int, float]) -> None:
        """Start latents anew, independent of all others, at 0 with a variance: the states of a day."""
        for i, var in variances.items():
            self.m[i] = 0.0
            self.P[i, :] = 0.0
            self.P[:, i] = 0.0
            self.P[i, i] = var
