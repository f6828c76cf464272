"""What is believed of one way to do a line, worked out again from the belief's fields and the squad's calibration."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from ferrule.model.calibration import Correction, Known, Stratum, Way
from ferrule.model.exercise import Library
from ferrule.model.squad import Capacity
from ferrule.model.words import Group

K = {"knee and hip": 0.0266, "push": 0.0328, "pull": 0.0328}
K_ELSE = 0.0305
HOLD = {
    "calf straight": (34.71, -2.06),
    "calf bent": (34.71, -2.06),
    "knee and hip": (19.38, -1.88),
    "trunk front": (22.69, -2.27),
    "trunk side": (22.69, -2.27),
    "trunk back": (22.69, -2.27),
    "push": (14.86, -1.83),
    "pull": (14.86, -1.83),
}
HOLD_ELSE = (21.92, -1.98)
DAY, K_SPREAD, HOLD_SPREAD, FATIGUE = 0.042, 0.27, 0.17, 0.018
KNOWN_SETS, KNOWN_K_SPREAD, LEGS_DAY, SET = 3, 0.10, 0.03, 0.015
ARMS_AND_TRUNK = ("push", "pull", "trunk front", "trunk side", "trunk back")


@dataclass(frozen=True, slots=True)
class Asked:
    """A first set: demand on the main group in anchor units; hold: seconds are asked; loaded: with a load."""

    variant_id: str
    group: Group
    demand: float
    hold: bool
    loaded: bool


def capacity_in(variant_id: str, group: Group, library: Library, capacity: Capacity) -> tuple[float, float]:
    """Mean and SD of the log capacity that shows in a variant, worked out from the belief's fields.

    Sets of the variant itself tell all there is to its own offset and to a demand that was inferred; without them the
    group's belief of the weaker side holds, wider by both.
    """
    told = capacity.variants.get(variant_id)
    if told is not None:
        return told.mean_log, told.sd_log
    variant = library.variants[variant_id]
    trust = next(a.trust for a in variant.asks if a.main)
    mean = capacity.mean_log[group] - (abs(capacity.half_log.get(group, 0.0)) if variant.sided else 0.0)
    unseen = capacity.offset_sd.get(trust, 0.0)
    return mean, math.sqrt(capacity.sd_log[group] ** 2 + unseen**2 + variant.spread_log**2)


def corrected_in(asked: Asked, library: Library, capacity: Capacity) -> tuple[float, float]:
    """`capacity_in`, moved and widened as the calibration says of the reserve."""
    mean, sd = capacity_in(asked.variant_id, asked.group, library, capacity)
    by = _correction(asked, library, capacity)
    if by is None:
        return mean, sd
    spread = _foretold_sd(asked, mean, sd, capacity)
    return mean + by.shift * spread, math.sqrt(sd**2 + (by.factor**2 - 1) * spread**2)


def chance_in(asked: Asked, least: float, library: Library, capacity: Capacity) -> float:
    """The chance of `least` in the first set, on the log share axis, where it is normal; its odds corrected."""
    if least <= 0:
        return 1.0
    by = _correction(asked, library, capacity)
    mean, sd = capacity_in(asked.variant_id, asked.group, library, capacity)
    if asked.hold:
        b0, b1 = HOLD.get(asked.group, HOLD_ELSE)
        just = math.log(least / b0) / b1
    else:
        just = -math.log(1 + K.get(asked.group, K_ELSE) * max(least - 1, -0.9))
    middle = math.log(asked.demand) - mean
    stated = NormalDist(middle, _foretold_sd(asked, mean, sd, capacity)).cdf(just)
    if by is None or (by.level, by.slope) == (0.0, 1.0):
        return stated
    stated = min(0.9999, max(0.0001, stated))
    odds = math.exp(by.level + by.slope * math.log(stated / (1 - stated)))
    return odds / (1 + odds)


def _correction(asked: Asked, library: Library, capacity: Capacity) -> Correction | None:
    """What corrects this set, by the days its exercise was done on and how it is counted; None without a calibration,
    and where seconds are asked of what is counted."""
    holds = library.variants[asked.variant_id].dose_kind == "hold"
    if not capacity.calibration.version or holds != asked.hold:
        return None
    told = capacity.variants.get(asked.variant_id)
    days = 0 if told is None else told.days
    way: Way = "hold" if asked.hold else "with load" if asked.loaded else "without load"
    known: tuple[Known, Known, Known] = ("first go", "second go", "known")
    return capacity.calibration.of(Stratum(known[min(2, days)], way))


def _foretold_sd(asked: Asked, mean: float, sd: float, capacity: Capacity) -> float:
    """Spread of log share: capacity, day, legs, set and curve."""
    told = capacity.variants.get(asked.variant_id)
    known = told is not None and told.sets >= KNOWN_SETS
    curve = 0.0 if known else HOLD_SPREAD
    if not asked.hold:
        curve = (KNOWN_K_SPREAD if known else K_SPREAD) * abs(1 - asked.demand / math.exp(mean))
    legs = 0.0 if asked.group in ARMS_AND_TRUNK else LEGS_DAY
    return math.sqrt(sd**2 + DAY**2 + legs**2 + SET**2 + curve**2)
