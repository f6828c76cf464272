"""How repetitions and holds fall as the share of best rises.

Repetitions   share(n) = 1 / (1 + k (n - 1)),   n(share) = 1 + (1/share - 1) / k
              k is fitted to published mean repetitions to failure (Nuzzo 2024, seen); one repetition at share 1
              returns itself. k differs between people with a coefficient of variation of about 0.27.
Holds         T(share) = b0 * share^b1 seconds (Frey Law and Avin 2010, table 2, seen); a person may lie 29-47 %
              off the mean curve (Frey-Law 2012, seen). Used from share 0.10 to 1.00.
"""

from __future__ import annotations

from typing import Final

from ferrule.model.words import Group

K_PRESS: Final = 0.0328
K_LEG_PRESS: Final = 0.0227
K_GENERAL: Final = 0.0305
K_SQUAT: Final = (K_LEG_PRESS + K_GENERAL) / 2
"""Squats, steps and lunges: the leg-press curve pulled half-way to the general one (only leg press was measured)."""

K_CV: Final = 0.27
"""Between-person spread of k (from the SD of repetitions, Nuzzo 2024, seen; the conversion is ours)."""

SET_FATIGUE_LOG: Final = 0.018
"""Loss of log capacity for each set done before (estimator trial on simulated runners; assumption, no data)."""

DAY_SD_LOG: Final = 0.042
"""Day-to-day spread of a true best (Grgic 2020, median CV 4.2 %, seen)."""

HOLD_SD_LOG: Final = 0.17
"""Spread of log share of a hold: a 38 % band on T (Frey-Law 2012, 29-47 %) over an exponent of about 2."""

_K: Final[dict[Group, float]] = {
    "knee and hip": K_SQUAT,
    "push": K_PRESS,
    "pull": K_PRESS,
}

_HOLD: Final[dict[str, tuple[float, float]]] = {
    "general": (21.92, -1.98),
    "ankle": (34.71, -2.06),
    "trunk": (22.69, -2.27),
    "knee": (19.38, -1.88),
    "shoulder": (14.86, -1.83),
}

_JOINT: Final[dict[Group, str]] = {
    "calf straight": "ankle",
    "calf bent": "ankle",
    "knee and hip": "knee",
    "trunk front": "trunk",
    "trunk side": "trunk",
    "trunk back": "trunk",
    "push": "shoulder",
    "pull": "shoulder",
}


def k_of(group: Group) -> float:
    """Steepness of the repetition curve of `group`, per repetition."""
    return _K.get(group, K_GENERAL)


def reps_at(share: float, k: float) -> float:
    """Repetitions possible at `share` of best; below 1 when the share is above 1. Raises ValueError for share <= 0."""
    if share <= 0:
        raise ValueError("a share of best is above zero")
    return 1 + (1 / share - 1) / k


def share_at(reps: float, k: float) -> float:
    """Share of best at which `reps` (>= 1) are just possible: the inverse of `reps_at`."""
    return 1 / (1 + k * (reps - 1))


def hold_curve(group: Group) -> tuple[float, float]:
    """(b0 seconds, b1) of the endurance power law of the joint that `group` tires."""
    return _HOLD[_JOINT.get(group, "general")]


def hold_s_at(share: float, group: Group) -> float:
    """Seconds a hold at `share` of best can last; the share is taken within 0.10 to 1.00, where the law was measured.

    >>> round(hold_s_at(0.5, "trunk front"), 1)
    109.4
    """
    b0, b1 = hold_curve(group)
    return float(b0 * min(1.0, max(0.10, share)) ** b1)


def share_at_hold(hold_s: float, group: Group) -> float:
    """Share of best at which a hold of `hold_s` seconds (> 0) is just possible, within 0.10 to 1.00."""
    b0, b1 = hold_curve(group)
    return float(min(1.0, max(0.10, (hold_s / b0) ** (1 / b1))))
