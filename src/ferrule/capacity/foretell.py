"""What a belief foretells of one set before it is done: repetitions or seconds possible, how sure, and a chance.

log share of best = log demand - log capacity + 0.018 * sets before,   normal, with the spreads of capacity, day, set
and of the runner's own curve:  sd^2 = capacity^2 + day^2 (+ legs^2) + 0.015^2 + curve^2
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from ferrule.capacity import curves
from ferrule.capacity.state import DAY_LEGS_SD, LEGS
from ferrule.model.exercise import Variant
from ferrule.model.squad import Capacity
from ferrule.model.words import Group, Place

SET_SD: Final = 0.015
"""Log share from set to set of one day, in one exercise (ours)."""
STEEP_KNOWN: Final = 0.10
"""Spread of log steepness left over once an exercise is known: its offset has taken up most of it (ours)."""
KNOWN_SETS: Final = 3
"""Sets that said something, from which on an exercise counts as known (ours)."""
MOST_REPS: Final = 60.0
MOST_HOLD_S: Final = 400.0


@dataclass(frozen=True, slots=True)
class Foretold:
    """log_share, sd: of the share of best that the set takes, natural log; hold: seconds are asked, not repetitions."""

    log_share: float
    sd: float
    group: Group
    hold: bool

    def amount(self, z: float = 0.0) -> float:
        """Repetitions or seconds possible at `z` spreads above the middle; at most 60 and 400."""
        h = self.log_share - z * self.sd
        if self.hold:
            b0, b1 = curves.hold_curve(self.group)
            return float(min(MOST_HOLD_S, max(2.0, b0 * math.exp(h * b1))))
        return min(MOST_REPS, max(0.3, 1 + math.expm1(-h) / curves.k_of(self.group)))

    def z_of(self, amount: float) -> float:
        """How many spreads `amount` (> 0) lies above the middle."""
        return (self.log_share - log_share_of(amount, self.group, hold=self.hold)) / self.sd

    def chance(self, amount: float) -> float:
        """Chance that `amount` or more is possible."""
        return 0.5 * math.erfc(self.z_of(amount) / math.sqrt(2))


def log_share_of(amount: float, group: Group, *, hold: bool) -> float:
    """Log share of best at which `amount` (> 0) is just possible, on the mean curve."""
    if hold:
        b0, b1 = curves.hold_curve(group)
        return math.log(amount / b0) / b1
    return -math.log1p(curves.k_of(group) * max(amount - 1, -0.9))


def curve_spread(capacity: Capacity, variant: Variant, *, hold: bool) -> float:
    """Spread of this runner's own curve: of log steepness for repetitions, of log share for holds.

    Until an exercise is known it is that between people; then its own offset holds most of it, at the amounts usual for it.
    """
    own = capacity.variants.get(variant.id)
    known = own is not None and own.sets >= KNOWN_SETS
    if hold:
        return 0.0 if known else curves.HOLD_SD_LOG
    return STEEP_KNOWN if known else curves.K_CV


def foretell(
    capacity: Capacity, variant: Variant, load_kg: float, place: Place | None, mass_kg: float, sets_before: int = 0
) -> Foretold:
    """What is foretold of one set of a dosed variant. Raises ValueError where the variant is never dosed."""
    main = variant.main
    if main is None:
        raise ValueError(f"{variant.id} has no main group")
    return foretell_at(capacity, variant, main.demand(load_kg, place, mass_kg), sets_before)


def foretell_at(
    capacity: Capacity, variant: Variant, demand: float, sets_before: int = 0, *, hold: bool | None = None
) -> Foretold:
    """`foretell` where the demand is known, in units of the group's anchor. Raises ValueError as well.

    hold   seconds are asked of it; None: of what is usually held

    A demand that was inferred (`spread_log`) widens it until sets of the variant itself are known.
    """
    mean, sd = capacity.of(variant)
    if variant.id not in capacity.variants:
        sd = math.hypot(sd, variant.spread_log)
    main = variant.main
    assert main is not None  # Capacity.of has raised
    hold = variant.dose_kind == "hold" if hold is None else hold
    share = math.log(demand) - mean + curves.SET_FATIGUE_LOG * sets_before
    curve = curve_spread(capacity, variant, hold=hold)
    if not hold:  # d log share / d log k = k (n - 1) / (1 + k (n - 1)), at the middle
        curve *= abs(math.expm1(share))
    legs = DAY_LEGS_SD if main.group in LEGS else 0.0
    return Foretold(share, math.hypot(sd, curves.DAY_SD_LOG, legs, SET_SD, curve), main.group, hold)
