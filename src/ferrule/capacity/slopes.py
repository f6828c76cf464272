"""The curves as the filter needs them: log share of best at a count, back again, and their slopes."""

from __future__ import annotations

import math

from ferrule.capacity import curves
from ferrule.model.words import Group

LEAST_REPS = 0.3
"""Below this the curve is not asked: a failed first repetition counts half a one."""


def log_share_reps(reps: float, k: float, steepness: float = 0.0) -> float:
    """log share(n) = -log(1 + k e^s (n - 1)); `steepness` s is the runner's own, 0 for the mean of people."""
    return -math.log1p(k * math.exp(steepness) * (max(reps, LEAST_REPS) - 1))


def reps_at_log_share(log_share: float, k: float, steepness: float = 0.0) -> float:
    """Repetitions at a log share of best: the inverse of `log_share_reps`, at least LEAST_REPS."""
    return max(LEAST_REPS, 1 + math.expm1(-log_share) / (k * math.exp(steepness)))


def reps_slopes(reps: float, k: float, steepness: float = 0.0) -> tuple[float, float]:
    """(d log share / d n, d log share / d s) at `reps`; both are zero or less from one repetition on."""
    steep = k * math.exp(steepness)
    more = max(reps, LEAST_REPS) - 1
    return -steep / (1 + steep * more), -steep * more / (1 + steep * more)


def log_share_hold(hold_s: float, group: Group) -> float:
    """log share = (log T - log b0) / b1 of the joint's endurance law; not clipped, see `hold_outside`."""
    b0, b1 = curves.hold_curve(group)
    return (math.log(hold_s) - math.log(b0)) / b1


def hold_slope(group: Group) -> float:
    """d log share / d log seconds, below zero."""
    return 1 / curves.hold_curve(group)[1]


def hold_outside(hold_s: float, group: Group) -> bool:
    """True where the share lies outside 0.10 to 1.00, beyond what the law was measured on."""
    return not math.log(0.10) <= log_share_hold(hold_s, group) <= 0.0
