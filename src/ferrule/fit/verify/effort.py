"""Shares and chances of completing, worked out again."""

from __future__ import annotations

import math

from ferrule.fit.verify.corrected import FATIGUE, Asked, chance_in, corrected_in
from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Group

SHARE_OFF, CHANCE_OFF = 1e-6, 1e-6


def check_effort(week: FittedWeek, runner: Runner, library: Library, capacity: Capacity) -> tuple[Finding, ...]:
    """Shares and chances of completing to 1e-6."""
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
            mean, _ = corrected_in(plain, library, capacity)
            share = demand * math.exp(FATIGUE * (item.sets - 1)) / math.exp(mean)
            if abs(share - said.share) > SHARE_OFF:
                out.append(refused("share", week, f"{item.name}: share {said.share:.3f}, worked out again {share:.3f}"))
            least = _least(item) if item.hold_s is None else item.hold_s.high
            chance = chance_in(plain, least, library, capacity)
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


def _least(item: FittedItem) -> float:
    if item.per_set:
        return max(item.per_set)
    if item.left_right is not None:
        return max(item.left_right)
    if item.reps is None:
        return 0.0
    return item.reps.low / 2 if item.alternating else item.reps.low
