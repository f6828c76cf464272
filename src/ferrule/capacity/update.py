"""Fold one observation into the belief.

With h = H m the log capacity expected to show, y the one read, S = H P H' + R:
    exact      z = (y - h) / sqrt S; |z| > 4 is set aside; else S <- S max(1, (4 + z^2) / 5)   (Student t, 4 degrees)
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
from ferrule.capacity.state import BIAS, STEEPNESS, Array
from ferrule.capacity.working import Row, Working

GATE: Final = 4.0
"""|z| beyond which a set is set aside and asked about (estimator trial)."""
T_DEGREES: Final = 4.0
BELIEVED_STEP: Final = 0.5
"""The most log units by which a set may move where its slope is taken (estimator trial)."""

SET_SD: Final = 0.03
"""Spread of log capacity from set to set beyond fatigue (estimator trial; assumption, no data)."""

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
    k, steep = curves.k_of(o.group), float(work.m[STEEPNESS])
    reps = o.amount + o.bias_weight * float(work.m[BIAS])
    read = o.log_demand - slopes.log_share_reps(reps, k, steep)
    by_reps, _ = slopes.reps_slopes(reps, k, steep)
    spread = quadratic(row, work.P)
    share = spread / (spread + noise + (by_reps * o.amount_sd) ** 2)
    believed = expected + share * max(-BELIEVED_STEP, min(BELIEVED_STEP, read - expected))
    by_reps, by_steep = slopes.reps_slopes(slopes.reps_at_log_share(o.log_demand - believed, k, steep), k, steep)
    places, factors = row
    full = ([*places, STEEPNESS], [*factors, by_steep])
    if o.bias_weight:
        full = ([*full[0], BIAS], [*full[1], by_reps * o.bias_weight])
    return Linear(full, expected, read, noise + (by_reps * o.amount_sd) ** 2 + (CURVE_SD * by_steep) ** 2)


def fold_one(work: Working, o: Observation) -> Step:
    """Fold `o` into `work`, in place. A set aside or of kind `nothing` changes nothing but what joined the state."""
    if o.kind == "nothing":
        return Step("nothing", 0.0, 0.0, 0.0, 0.0)
    seen = linear(work, o)
    gains = spread_of(seen.row, work.P)
    total = dot(seen.row, gains) + seen.var
    root = math.sqrt(total)
    z = (seen.read - seen.expected) / root
    if z > GATE if o.kind == "at least" else abs(z) > GATE:
        return Step("aside", z, 0.0, seen.expected, seen.read)
    kept = None if o.failed else (float(work.m[BIAS]), float(work.P[BIAS, BIAS]))
    if o.kind == "at least":
        lam = hazard(-z)
        work.m += gains * (lam / root)
        work.P -= np.multiply.outer(gains, gains * (lam * (lam - z) / total))
        weight = 1.0
    else:
        weight = min(1.0, (T_DEGREES + 1) / (T_DEGREES + z * z))
        total /= weight
        work.m += gains * ((seen.read - seen.expected) / total)
        work.P -= np.multiply.outer(gains, gains / total)
    if kept is not None:
        work.m[BIAS], work.P[BIAS, BIAS] = kept
    return Step("folded", z, weight, seen.expected, seen.read)


def fold_reading(work: Working, row: Row, read: float, var: float) -> float:
    """Fold a linear Gaussian reading (a test), weighted as sets are; returns z. Beyond the gate nothing changes."""
    gains = spread_of(row, work.P)
    total = dot(row, gains) + var
    z = (read - dot(row, work.m)) / math.sqrt(total)
    if abs(z) <= GATE:
        total *= max(1.0, (T_DEGREES + z * z) / (T_DEGREES + 1))
        work.m += gains * ((read - dot(row, work.m)) / total)
        work.P -= np.multiply.outer(gains, gains / total)
    return z


def hazard(z: float) -> float:
    """phi(z) / Phi(z), the mean of a standard Gaussian cut below -z; by its asymptote below -8 (error under 1e-4)."""
    if z < -8.0:
        return -z - 1 / z
    return math.exp(-0.5 * z * z) / math.sqrt(2 * math.pi) / (0.5 * math.erfc(-z / math.sqrt(2)))


def dot(row: Row, values: Array) -> float:
    """H x for a sparse row."""
    return sum(f * float(values[p]) for p, f in zip(*row, strict=True))


def spread_of(row: Row, cov: Array) -> Array:
    """P H' (n,) for a sparse row."""
    result: Array = np.asarray(row[1]) @ cov[row[0], :]
    return result


def quadratic(row: Row, cov: Array) -> float:
    """H P H' for a sparse row."""
    return dot(row, spread_of(row, cov))
