"""The cost of a choice: expected asymmetric loss on reserve over what we do not know, with the two lines of recourse.

Nodes      the belief is cut into slices of equal chance of log capacity (group and day together) x steepness of the
           runner's own curve; slice q has capacity C_q and steepness k_q, the same q for every choice (one runner).
Possible   n = 1 + (C/(D e^{0.018 (sets-1)}) - 1) / k   repetitions on the last set; holds in tenths of the seconds
Loss       3 x f(low - n) too hard, 1 x f(n - high) too easy, f(x) = 12 (1 - e^{-x/12}): each side flattens by itself,
           so that however wide the belief, failing stays three times as dear as an easy set
Recourse   with the printed lines the loss of a slice is the least of its own, the easier line's + 5, the harder's + 1
Expected   the mean over the slices, in repetitions. Error of the slices: below 0.1 repetitions (effort_test.py).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ferrule.capacity import curves
from ferrule.fit.intent import Intent
from ferrule.model.exercise import Variant
from ferrule.model.squad import Capacity
from ferrule.model.words import GROUPS, Group

Array = NDArray[np.float64]

TOO_HARD: Final = 3.0
TOO_EASY: Final = 1.0
FLAT_REPS: Final = 12.0
SWITCH_DOWN, SWITCH_UP = 5.0, 1.0
"""All five: common practice, no source. Turning to the easier line comes after a set that went badly; to the harder one,
after a set that went too well."""

_C_SLICES: Final = 17
_K_SLICES: Final = 5


def _normal_slices(n: int) -> Array:
    """Means of `n` slices of equal chance of a standard normal, scaled to SD 1."""
    from statistics import NormalDist

    edges = [NormalDist().inv_cdf(i / n) for i in range(1, n)]
    pdf = [0.0, *(NormalDist().pdf(e) for e in edges), 0.0]
    z = np.array([(pdf[i] - pdf[i + 1]) * n for i in range(n)])
    return np.asarray(z / np.sqrt(np.mean(z * z)))


_ZC: Final = np.repeat(_normal_slices(_C_SLICES), _K_SLICES)
_ZK: Final = np.tile(_normal_slices(_K_SLICES), _C_SLICES)


@dataclass(frozen=True, slots=True)
class Nodes:
    """The belief about one runner in slices: capacity (groups, q) in anchor units, steepness factor (q,), hold factor (q,)."""

    capacity: Array
    steepness: Array
    hold_log: Array

    @staticmethod
    def of(capacity: Capacity) -> Nodes:
        """Slices of `capacity`, day-to-day spread included."""
        mean = np.array([capacity.mean_log[g] for g in GROUPS])
        sd = np.sqrt(np.array([capacity.sd_log[g] for g in GROUPS]) ** 2 + curves.DAY_SD_LOG**2)
        return Nodes(
            np.exp(mean[:, None] + sd[:, None] * _ZC[None, :]),
            np.exp(curves.K_CV * _ZK - curves.K_CV**2 / 2),
            curves.HOLD_SD_LOG * _ZK,
        )


def possible(
    demand: Array, sets: int, intent: Intent, group: Group, nodes: Nodes, own: tuple[Array, Array] | None = None
) -> Array:
    """What is possible on the last of `sets` sets at each demand (n,): (n, q) repetitions, or tenths of the written hold.

    own   mean and SD (n,) of the log capacity to hold against each demand (`believed`), without the day-to-day spread;
          None takes the group's for all
    """
    if own is None:
        capacity = nodes.capacity[GROUPS.index(group)][None, :]
    else:
        mean, sd = own
        capacity = np.exp(mean[:, None] + np.hypot(sd, curves.DAY_SD_LOG)[:, None] * _ZC[None, :])
    share = demand[:, None] * np.exp(curves.SET_FATIGUE_LOG * (sets - 1)) / capacity
    if intent.unit == "hold":
        b0, b1 = curves.hold_curve(group)
        return np.asarray(10 * b0 * np.clip(share * np.exp(nodes.hold_log), 0.10, None) ** b1 / intent.hold_s)
    return np.asarray(1 + (1 / share - 1) / (curves.k_of(group) * nodes.steepness))


def believed(capacity: Capacity, variant: Variant) -> tuple[float, float]:
    """(mean, SD) of the log capacity to hold against the computed demand of a dosed variant.

    `Capacity.of`; a demand inferred from neighbours (`spread_log`) widens it until sets of the variant itself are known.
    """
    mean, sd = capacity.of(variant)
    return mean, sd if variant.id in capacity.variants else math.hypot(sd, variant.spread_log)


def loss(n: Array, intent: Intent) -> Array:
    """Asymmetric loss of being able to do `n`, in repetitions; 0 inside the band."""
    hard = np.maximum(0.0, intent.low - n)
    easy = np.maximum(0.0, n - intent.high)
    return np.asarray(FLAT_REPS * (TOO_HARD * -np.expm1(-hard / FLAT_REPS) + TOO_EASY * -np.expm1(-easy / FLAT_REPS)))


def with_recourse(own: Array, easier: Array, harder: Array) -> Array:
    """Expected losses (n,) of choices whose losses by slice are `own` (n, q), with the recourses' own losses (n, q)."""
    return np.asarray(np.minimum(own, np.minimum(easier + SWITCH_DOWN, harder + SWITCH_UP)).mean(axis=1))
