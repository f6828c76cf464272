"""Shares and chances, by another integration: a fine grid over the normal, not equal slices."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ferrule.fit.verify.corrected import (
    DAY,
    FATIGUE,
    HOLD,
    HOLD_ELSE,
    HOLD_SPREAD,
    K_ELSE,
    K_SPREAD,
    Asked,
    K,
    chance_in,
    corrected_in,
    says_chance,
)
from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Group

SHARE_OFF, CHANCE_OFF = 1e-6, 0.06
_Z = np.linspace(-3.5, 3.5, 141)
_W = np.exp(-_Z * _Z / 2) / np.exp(-_Z * _Z / 2).sum()
_Z3 = np.array([-math.sqrt(1.5), 0.0, math.sqrt(1.5)])


def check_effort(week: FittedWeek, runner: Runner, library: Library, capacity: Capacity) -> tuple[Finding, ...]:
    """Shares to 1e-6; chances of completing within 0.06 (the slices are coarse in the tails)."""
    out = []
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    for session in week.sessions:
        for item in (i for b in session.blocks for i in b.items):
            said = item.prediction
            if said is None:
                continue
            group, demand = demand_of(item.variant_id, item.load, library, mass)
            if group is None:
                out.append(refused("prediction", week, f"{item.name} is never a dose and has a prediction"))
                continue
            plain = Asked(item.variant_id, group, demand, item.hold_s is not None, item.load is not None)
            mean, sd = corrected_in(plain, library, capacity)
            demand *= math.exp(FATIGUE * (item.sets - 1))
            share = demand / math.exp(mean)
            if abs(share - said.share) > SHARE_OFF:
                out.append(refused("share", week, f"{item.name}: share {said.share:.3f}, worked out again {share:.3f}"))
            chance = _chance(item, group, demand, mean, sd)
            if says_chance(plain, library, capacity):
                just = _least(item) if item.hold_s is None else item.hold_s.high
                chance = chance_in(plain, just, library, capacity)
            if abs(chance - said.p_complete) > CHANCE_OFF:
                out.append(
                    refused("chance", week, f"{item.name}: {said.p_complete:.2f} said, {chance:.2f} worked out again")
                )
    return tuple(out)


def demand_of(variant_id: str, load: LoadChoice | None, library: Library, mass: float) -> tuple[Group | None, float]:
    """(main group, demand on it in anchor units) of a variant with a load; (None, 0) when it is never a dose."""
    variant = library.variants.get(variant_id)
    for ask in () if variant is None else variant.asks:
        if ask.main:
            slope = 0.0 if load is None else ask.per_kg.get(load.place, max(ask.per_kg.values(), default=0.0))
            return ask.group, ask.base + (0.0 if load is None else slope * load.kg / mass)
    return None, 0.0


def _chance(item: FittedItem, group: Group, demand: float, mean: float, spread: float) -> float:
    """Chance that the least of the written amount is possible on the last set."""
    sd = math.hypot(spread, DAY)
    share: NDArray[np.float64] = demand / np.exp(mean + sd * _Z)
    if item.hold_s is not None:
        b0, b1 = HOLD.get(group, HOLD_ELSE)
        chance = [
            float(_W @ (b0 * np.maximum(share * math.exp(HOLD_SPREAD * z), 0.1) ** b1 >= item.hold_s.high)) for z in _Z3
        ]
        return sum(chance) / 3
    least = _least(item)
    k = K.get(group, K_ELSE)
    chance = [float(_W @ (1 + (1 / share - 1) / (k * math.exp(K_SPREAD * z - K_SPREAD**2 / 2)) >= least)) for z in _Z3]
    return sum(chance) / 3


def _least(item: FittedItem) -> float:
    if item.per_set:
        return max(item.per_set)
    if item.left_right is not None:
        return max(item.left_right)
    if item.reps is None:
        return 0.0
    return item.reps.low / 2 if item.alternating else item.reps.low
