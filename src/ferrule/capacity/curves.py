"""How repetitions and holds fall as the share of best rises.

Repetitions   share(n) = 1 / (1 + k (n - 1)),   n(share) = 1 + (1/share - 1) / k
              k is the least-squares fit (of log share) to published mean repetitions to failure (Nuzzo 2024, seen): within
              0.4 repetitions for the press, 1.1 for the leg press, 0.8 for the general curve at every published mean
              (curves_published_test.py, docs/decisions/0011). One repetition at share 1 returns itself.
Holds         T(share) = b0 * share^b1 seconds by the joint that tires (Frey Law and Avin 2010, table 2, seen); 95 % of
              what was measured lies within 29-47 % of the mean curve (Frey-Law 2012, seen). From share 0.10 to 1.00.
"""

from __future__ import annotations

from typing import Final, Literal

from ferrule.model.words import Group

K_PRESS: Final = 0.0328
K_LEG_PRESS: Final = 0.0227
K_GENERAL: Final = 0.0305
K_SQUAT: Final = (K_LEG_PRESS + K_GENERAL) / 2
"""Squats, steps and lunges: the leg-press curve pulled half-way to the general one (only leg press was measured)."""

K_CV: Final = 0.27
"""Between-person spread of k (from the SD of repetitions, Nuzzo 2024, seen; the conversion is ours). On the wide side: with
the day-to-day spread beside it the SD of repetitions comes out 4-45 % above the published one at 80-60 %."""

K_CV_DAY_APART: Final = 0.19
"""The same where the day-to-day spread (DAY_SD_LOG) is counted beside it: least squares on the published SD of
repetitions at 90-60 % (2.51 at 80 %, 4.36 at 60 %, linear: Nuzzo 2024, seen) for the general curve; within 8 %."""

SET_FATIGUE_LOG: Final = 0.018
"""Loss of log capacity for each set done before (estimator trial on simulated runners; assumption, no data)."""

DAY_SD_LOG: Final = 0.042
"""Day-to-day spread of a true best (Grgic 2020, median CV 4.2 %, seen)."""

HOLD_BAND: Final = (0.29, 0.47)
"""Half-width of the 95 % prediction interval of an endurance time, as a part of the mean: least and most by joint
(Frey-Law 2012, seen; which joint has which was not seen). A hold that is prescribed carries at least the lesser one."""

HOLD_SD_LOG: Final = 0.17
"""Spread of log share of one person's hold. On an exponent of about 2 it moves the time by -29 to +40 %: the published
band is for means of studies, so for a person it is taken as one SD (ours)."""

_K: Final[dict[Group, float]] = {
    "knee and hip": K_SQUAT,
    "push": K_PRESS,
    "pull": K_PRESS,
}

Joint = Literal["general", "ankle", "trunk", "grip", "elbow", "knee", "shoulder"]
"""The joints with an endurance law of their own; grip and elbow are published and dosed by no group."""

HOLD_LAWS: Final[dict[Joint, tuple[float, float]]] = {
    "general": (21.92, -1.98),
    "ankle": (34.71, -2.06),
    "trunk": (22.69, -2.27),
    "grip": (33.55, -1.61),
    "elbow": (17.98, -2.21),
    "knee": (19.38, -1.88),
    "shoulder": (14.86, -1.83),
}
"""(b0 seconds, b1) of T = b0 share^b1: Frey Law and Avin 2010, table 2 (seen in a public copy)."""

LEAST_SHARE: Final = 0.10
"""Below it nothing was measured; most points lie above 0.25."""

_JOINT: Final[dict[Group, Joint]] = {
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
    return HOLD_LAWS[_JOINT.get(group, "general")]


def law_s(share: float, joint: Joint) -> float:
    """Mean seconds that `share` of the best can be held at `joint`.

    Raises ValueError outside 0.10 to 1.00: no force, more than the best, or a percentage given for a share.
    """
    if not LEAST_SHARE <= share <= 1:
        raise ValueError(f"the endurance laws reach from {LEAST_SHARE} to 1 of the best, not {share}")
    b0, b1 = HOLD_LAWS[joint]
    return float(b0 * share**b1)


def hold_s_at(share: float, group: Group) -> float:
    """Seconds a hold at `share` of best can last; the share is taken within 0.10 to 1.00, where the law was measured.

    Raises ValueError for share <= 0.

    >>> round(hold_s_at(0.5, "trunk front"), 1)
    109.4
    """
    if share <= 0:
        raise ValueError("a share of best is above zero")
    return law_s(min(1.0, max(LEAST_SHARE, share)), _JOINT.get(group, "general"))


def hold_band_s(share: float, group: Group) -> tuple[float, float]:
    """Ends of the published 95 % band round `hold_s_at(share, group)`, seconds: the wider one, as no joint's own was seen."""
    mean = hold_s_at(share, group)
    return mean * (1 - HOLD_BAND[1]), mean * (1 + HOLD_BAND[1])


def share_at_hold(hold_s: float, group: Group) -> float:
    """Share of best at which a hold of `hold_s` seconds (> 0) is just possible, within 0.10 to 1.00."""
    b0, b1 = hold_curve(group)
    return float(min(1.0, max(LEAST_SHARE, (hold_s / b0) ** (1 / b1))))
