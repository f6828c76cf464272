"""What is believed of one way to do a line, corrected by the squad's own past (`ferrule.capacity.calibration`).

Without a calibration everything is as it is believed. With one
    reserve   the slices move up by `shift` foretold spreads, and are as much wider as `factor` says
    chance    the foretold chance of the first set, log odds' = level + slope * log odds
Chances are corrected by what was asked before: they are printed of the choice that was made, and choose nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ferrule.capacity.foretell import foretell_at
from ferrule.fit.choice import Choice
from ferrule.fit.draft import Draft
from ferrule.model.calibration import SAME, Correction, stratum_of
from ferrule.model.exercise import Variant
from ferrule.model.squad import Capacity


@dataclass(frozen=True, slots=True)
class Way:
    """One dosed variant at a demand, in anchor units; hold: seconds are asked; loaded: with a load."""

    variant: Variant
    demand: float
    hold: bool
    loaded: bool


def way_of(choice: Draft | Choice) -> Way:
    """The way a dosed choice is done."""
    assert choice.variant is not None  # it has a main group
    assert choice.intent is not None
    return Way(choice.variant, choice.demand, choice.intent.unit == "hold", choice.load is not None)


def correction_of(capacity: Capacity, way: Way) -> Correction:
    """What corrects one set, by how well this runner is known in the exercise; nothing where a count is asked in seconds."""
    if way.hold != (way.variant.dose_kind == "hold"):
        return SAME
    own = capacity.variants.get(way.variant.id)
    return capacity.calibration.of(stratum_of(0 if own is None else own.days, hold=way.hold, loaded=way.loaded))


def calibrated(capacity: Capacity, way: Way, plain: tuple[float, float]) -> tuple[float, float]:
    """(mean, SD) of the log capacity to hold against a demand; `plain`: as believed, given back where nothing corrects."""
    by = correction_of(capacity, way)
    if (by.shift, by.factor) == (0.0, 1.0):
        return plain
    spread = foretell_at(capacity, way.variant, way.demand).sd
    mean, sd = plain
    return mean + by.shift * spread, math.sqrt(max(0.0, sd**2 + (by.factor**2 - 1) * spread**2))


def stated_chance(capacity: Capacity, way: Way, least: float) -> float:
    """Chance that `least` (repetitions or seconds) is possible in the first set."""
    if least <= 0:
        return 1.0
    foretold = foretell_at(capacity, way.variant, way.demand, hold=way.hold).chance(least)
    by = correction_of(capacity, way)
    return foretold if (by.level, by.slope) == (0.0, 1.0) else by.chance(foretold)
