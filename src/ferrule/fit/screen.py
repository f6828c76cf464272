"""What rules a choice out before anything is weighed: kit, limits, sore places, wishes, and risk under a load."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date

from ferrule.model.exercise import Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.house import House
from ferrule.model.quantity import number
from ferrule.model.squad import Capacity, Limit, Runner, Sore, Wish
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Group
from ferrule.squad.loads import missing_kit

TOLERANCE = 0.02
"""Two exercises within 2 % of demand are the same for a limit: the statics are no better (docs/body.md)."""
SECONDARY_FLOOR = 0.05
"""A demand below this share of the anchor's is not a load on the region (ours)."""


def screen_variant(variant: Variant, runner: Runner) -> Reason | None:
    """Why `runner` may not do `variant` with any load: kit that is missing, or a wish; None when nothing speaks against it."""
    missing = missing_kit(runner.kit, variant)
    if missing:
        return Reason("kit", f"needs {', '.join(missing)}")
    for wish in runner.wishes:
        if breaks_wish(variant, wish):
            return Reason("wish", wish.text)
    return None


def screen_load(
    variant: Variant,
    load: LoadChoice | None,
    runner: Runner,
    variants: Mapping[str, Variant],
    house: House,
    capacity: Capacity,
    monday: date,
    mass_kg: float,
) -> Reason | None:
    """Why a limit or a sore place of `runner` rules out `variant` with `load` in the week of `monday`; None when none does.

    Holds for every line, the warm-up included. A limit compares the demand in every group of its region with the
    demand of the example without load, and refuses more impact than the example has. A group of the region that the
    example does not load at all takes the example's largest: a limit on the calf given as a straight-knee raise holds
    for the bent knee too.
    """
    for limit in runner.limits:
        if limit.until is not None and limit.until < monday:
            continue
        ceiling = variants.get(limit.ceiling_id) if limit.ceiling_id else None
        if breaks_limit(variant, load, limit, ceiling, mass_kg):
            return Reason("limit", limit.text)
    for sore in runner.sore:
        why = _sore(variant, load, sore, house, capacity, mass_kg)
        if why:
            return Reason("sore", why)
    return None


def demands(variant: Variant, load: LoadChoice | None, mass_kg: float) -> dict[Group, float]:
    """Demand on every group the variant loads, anchor units, the load included."""
    kg, place = (0.0, None) if load is None else (load.kg, load.place)
    return {a.group: a.demand(kg, place, mass_kg) for a in variant.asks}


def breaks_limit(
    variant: Variant, load: LoadChoice | None, limit: Limit, ceiling: Variant | None, mass_kg: float
) -> bool:
    """True when the choice asks more of the limit's region than its example does (or anything, without an example)."""
    impact = ceiling.impact if ceiling else 0
    if variant.impact > impact and limit.region in IMPACT_REGIONS:
        return True
    asked = demands(variant, load, mass_kg)
    allowed = demands(ceiling, None, mass_kg) if ceiling else {}
    groups = REGION_GROUPS[limit.region]
    elsewhere = max((allowed.get(g, 0.0) for g in groups), default=0.0)
    for group in groups:
        most = max(SECONDARY_FLOOR, allowed.get(group, elsewhere))
        if asked.get(group, 0.0) > most * (1 + TOLERANCE):
            return True
    return ceiling is None and limit.region in variant.regions


def _sore(
    variant: Variant, load: LoadChoice | None, sore: Sore, house: House, capacity: Capacity, mass_kg: float
) -> str | None:
    where = f"{'' if sore.side == 'both' else sore.side + ' '}{sore.region} is sore"
    if variant.impact > 0 and sore.region in IMPACT_REGIONS:
        return f"{where}: no landings"
    groups = REGION_GROUPS[sore.region]
    if load is not None and load.kg > 0 and variant.main is not None and variant.main.group in groups:
        return f"{where}: no added weight"
    asked = {g: d for g, d in demands(variant, load, mass_kg).items() if g in groups and d > SECONDARY_FLOOR}
    if sore.worst is not None and sore.worst > house.value("pain-stop"):
        if asked or sore.region in variant.regions:
            return f"{where} ({sore.worst} of 10): nothing that loads it"
        return None
    most = house.value("sore-share")
    for group, demand in asked.items():
        share = demand / math.exp(capacity.mean_log[group])
        if share > most:
            return f"{where}: at most {number(100 * most)} % of best there"
    if (variant.end_range or variant.below_level) and sore.region in variant.regions and asked:
        return f"{where}: not to the end of the range"
    return None


def breaks_wish(variant: Variant, wish: Wish) -> bool:
    """True when the variant is what the note asks not to do."""
    if wish.kind == "no impact":
        return variant.impact > 0
    if wish.kind == "no pattern":
        return variant.pattern == wish.pattern
    if wish.kind == "no variant":
        return variant.id == wish.variant_id
    touches = set() if variant.movement is None else {c.at for c in variant.movement.contacts if c.on == "floor"}
    if wish.kind == "no kneeling":
        return "knee" in touches
    return bool(touches & {"lying", "upper back", "elbow", "forearm", "knee", "hand"}) or "mat" in variant.kit
