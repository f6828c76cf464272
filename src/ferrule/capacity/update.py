"""Fold one observation into the belief.

With h = H m the log capacity expected to show, y the one read, S = H P H' + R:
    exact      z = (y - h) / sqrt S; beyond 4 (8 downward) it is set aside; else R <- R max(1, (4 + z^2) / 5), the
               weight of Student's t with 4 degrees
               m += P H' (y - h) / S,   P -= P H' H P / S
    at least   z = (h - y) / sqrt S;  lam = phi(z) / Phi(z)
               m += P H' lam / sqrt S,  P -= P H' H P lam (lam + z) / S        (moments of the cut Gaussian)
The reporting bias is carried but not moved by what a report says (its row and column are worked out as always, its own
mean and variance are put back): logs do not tell bias from capacity. A set to failure moves it.
Slopes of the curve are taken at the repetitions believed after the set, not at the told ones.
"""

from __future__ import annotations

import math
from typing import Final, Literal, NamedTuple

import numpy as np

from ferrule.capacity import curves, slopes
from ferrule.capacity.observation import CURVE_SD, HOLD_OUTSIDE_SD, Observation
from ferrule.capacity.state import BIAS, Array
from ferrule.capacity.working import Row, Working

GATE: Final = 4.0
"""|z| beyond which a set is set aside and asked about (estimator trial)."""
LOW_GATE: Final = 8.0
"""The same downward: slips of the keyboard make a set larger, and a set that fell short is news to be careful with; it is
weighted, not set aside (simulated squads: holds that had been believed too long stayed so)."""
T_DEGREES: Final = 4.0
BELIEVED_STEP: Final = 0.5
"""The most log units by which a set may move where its slope is taken (estimator trial)."""

SET_SD: Final = 0.05
"""Spread of log capacity from set to set beyond fatigue (estimator trial; assumption, no data)."""

BOUND_GATE: Final = 2.5
"""The same for a bound: one so far above is a slip, not news (estimator trial)."""
OLD_NEWS: Final = -0.5
"""A bound this many standard deviations below what is believed says nothing (simulated squads: repeated, such bounds
lengthened holds by 5 %)."""

Result = Literal["folded", "aside", "nothing"]


class Step(NamedTuple):
    """What became of a set: z of the surprise, the weight it was given (1 full), expected and read log capacity."""

    result: Result
    z: float
    weight: float
    expected: float
    read: float


class Linear(NamedTuple):
    """An observation made linear: read = row . latents + noise of variance `var`; `bias_at` factor of the bias."""

    row: Row
    expected: float
    read: float
    var: float


def linear(work: Working, o: Observation) -> Linear:
    """`o` (not of kind nothing) around what is believed now."""
    assert o.group is not None
    assert o.amount is not None
    row = work.row_of(o)
    fatigue = -curves.SET_FATIGUE_LOG * o.sets_before
    expected = dot(row, work.m) + fatigue
    noise = SET_SD**2 + o.log_demand_sd**2
    if o.hold:
        read = o.log_demand - slopes.log_share_hold(o.amount, o.group)
        outside = HOLD_OUTSIDE_SD**2 if slopes.hold_outside(o.amount, o.group) else 0.0
        return Linear(row, expected, read, noise + (slopes.hold_slope(o.group) * o.amount_sd) ** 2 + outside)
    k = curves.k_of(o.group)
    reps = o.amount + o.bias_weight * float(work.m[BIAS])
    read = o.log_demand - slopes.log_share_reps(reps, k)
    by_reps, _ = slopes.reps_slopes(reps, k)
    spread = quadratic(row, work.P)
    share = spread / (spread + noise + (by_reps * o.amount_sd) ** 2)
    believed = expected + share * max(-BELIEVED_STEP, min(BELIEVED_STEP, read - expected))
    by_reps, by_steep = slopes.reps_slopes(slopes.reps_at_log_share(o.log_demand - believed, k), k)
    if o.bias_weight:
        row = ([*row[0], BIAS], [*row[1], by_reps * o.bias_weight])
    return Linear(row, expected, read, noise + (by_reps * o.amount_sd) ** 2 + (CURVE_SD * by_steep) ** 2)


def fold_one(work: Working, o: Observation) -> Step:
    """Fold `o` into `work`, in place. A set aside or of kind `nothing` changes nothing but what joined the state."""
    if o.kind == "nothing":
        return Step("nothing", 0.0, 0.0, 0.0, 0.0)
    seen = linear(work, o)
    gains = spread_of(seen.row, work.P)
    total = dot(seen.row, gains) + seen.var
    root = math.sqrt(total)
    z = (seen.read - seen.expected) / root
    bound = o.kind == "at least"
    if bound and z < OLD_NEWS:
        return Step("nothing", z, 0.0, seen.expected, seen.read)
    if z > (BOUND_GATE if bound else GATE) or z < -LOW_GATE:
        return Step("aside", z, 0.0, seen.expected, seen.read)
    kept = None if o.failed else (float(work.m[BIAS]), float(work.P[BIAS, BIAS]))
    if bound:
        lam = hazard(-z)
        work.m += gains * (lam / root)
        work.P -= np.multiply.outer(gains, gains * (lam * (lam - z) / total))
        weight = 1.0
    else:
        weight = min(1.0, (T_DEGREES + 1) / (T_DEGREES + z * z))
        plain(work, gains, seen.read - seen.expected, total + seen.var * (1 / weight - 1))
    if kept is not None:
        work.m[BIAS], work.P[BIAS, BIAS] = kept
    return Step("folded", z, weight, seen.expected, seen.read)


def fold_reading(work: Working, row: Row, read: float, var: float) -> float:
    """Fold a linear Gaussian reading (a test), weighted as sets are; returns z. Beyond the gate nothing changes."""
    gains = spread_of(row, work.P)
    total = dot(row, gains) + var
    z = (read - dot(row, work.m)) / math.sqrt(total)
    if abs(z) <= GATE:
        total += var * (max(1.0, (T_DEGREES + z * z) / (T_DEGREES + 1)) - 1)
        plain(work, gains, read - dot(row, work.m), total)
    return z


def plain(work: Working, gains: Array, surprise: float, total: float) -> None:
    """The linear Gaussian update: gains P H' (n,), surprise y - h, total S. dense.py gives the same from all at once."""
    work.m += gains * (surprise / total)
    work.P -= np.multiply.outer(gains, gains / total)


def hazard(z: float) -> float:
    """phi(z) / Phi(z): by how many SD a Gaussian cut at -z lies higher; below -30 by -z - 1/z (off by less than 1e-4)."""
    if z < -30.0:
        return -z - 1 / z
    return math.exp(-0.5 * z * z) / math.sqrt(2 * math.pi) / (0.5 * math.erfc(-z / math.sqrt(2)))


def dot(row: Row, values: Array) -> float:
    """H x for a sparse row."""
    total = 0.0
    for place, factor in zip(*row, strict=True):
        total += factor * float(values[place])
    return total


def spread_of(row: Row, cov: Array) -> Array:
    """P H' (n,) for a sparse row."""
    result: Array = np.asarray(row[1]) @ cov[row[0], :]
    return result


def quadratic(row: Row, cov: Array) -> float:
    """H P H' for a sparse row."""
    return dot(row, spread_of(row, cov))
