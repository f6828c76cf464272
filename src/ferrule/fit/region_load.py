"""The hidden load of a week: what it asks of each region and side, exercises dosed on something else included.

Each exercise weighs on a region by the largest share of best it asks of a group of that region, load included:

    hard set = sets x weight,   weight 1 from 60 % of best, 1/2 from 30 %, 1/4 below (and where a region is named but has
                                no demand);  demands under 5 % of the anchor's are none
    landings = contacts / 40 x (1, 2, 4, 6)/4 for impact levels 1 to 4, on every region from foot to back

and the week's sum is said in words: none, light (below the house's fewest hard sets a week), some, much (above its most).
Common practice, no source: the weights and landings are ours; they order weeks, they are no dose. Runs are not counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal, get_args

from ferrule.fit.screen import SECONDARY_FLOOR, demands
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedItem, FittedWeek, RegionLoad
from ferrule.model.house import House
from ferrule.model.squad import Capacity
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Region

LEVELS = ("none", "light", "some", "much")
HARD_SHARE, MIDDLE_SHARE = 0.6, 0.3
FULL, HALF, QUARTER = 1.0, 0.5, 0.25
CONTACTS_A_SET = 40.0
IMPACT_WEIGHT = (0.0, 0.25, 0.5, 1.0, 1.5)
SIDES: tuple[Literal["left", "right"], ...] = ("left", "right")


@dataclass(slots=True)
class _Sum:
    """What is added up for one region and side."""

    sets: float = 0.0
    hidden: float = 0.0
    days: set[int] = field(default_factory=set)


def region_loads(
    week: FittedWeek, library: Library, house: House, capacity: Capacity, mass_kg: float
) -> tuple[RegionLoad, ...]:
    """Every region and side that the week touches, in the order of the body's words, left before right.

    capacity, mass_kg   what the fit rested on
    """
    sums: dict[tuple[Region, Literal["left", "right"]], _Sum] = {}
    for session in week.sessions:
        for item in (i for b in session.blocks for i in b.items):
            variant = library.variants.get(item.variant_id)
            if variant is None:
                continue
            for region, sets, hidden in _touched(item, variant, capacity, mass_kg):
                for side, part in zip(SIDES, _parts(item), strict=True):
                    if part:
                        one = sums.setdefault((region, side), _Sum())
                        one.sets += sets * part
                        one.hidden += sets * part * hidden
                        one.days.add(session.day.weekday())
    return tuple(
        RegionLoad(r, s, _level(x.sets, house), round(x.sets, 2), round(x.hidden, 2), tuple(sorted(x.days)), _row(x.days))
        for r in get_args(Region)
        for s in SIDES
        if (x := sums.get((r, s))) is not None
    )  # fmt: skip


def _parts(item: FittedItem) -> tuple[float, float]:
    """How much of the line each side does, of the side that does more."""
    if item.left_right is None:
        return 1.0, 1.0
    left, right = item.left_right
    most = max(left, right, 1)
    return left / most, right / most


def _touched(
    item: FittedItem, variant: Variant, capacity: Capacity, mass_kg: float
) -> Iterator[tuple[Region, float, bool]]:
    """(region, hard sets, hidden) of one line done once. hidden: the region has no group it is dosed on."""
    asked = {g: d for g, d in demands(variant, item.load, mass_kg).items() if d > SECONDARY_FLOOR}
    main = None if variant.main is None else variant.main.group
    landings = _contacts(item, variant) / CONTACTS_A_SET * IMPACT_WEIGHT[min(variant.impact, 4)]
    for region in get_args(Region):
        groups = REGION_GROUPS.get(region, ())
        shares = [asked[g] / math.exp(capacity.mean_log[g]) for g in groups if g in asked]
        sets = item.sets * _weight(max(shares)) if shares else item.sets * QUARTER * (region in variant.regions)
        if region in IMPACT_REGIONS:
            sets = max(sets, landings) if landings else sets
        if sets > 0:
            yield region, sets, main not in groups


def _weight(share: float) -> float:
    return FULL if share >= HARD_SHARE else HALF if share >= MIDDLE_SHARE else QUARTER


def _contacts(item: FittedItem, variant: Variant) -> float:
    """Foot contacts of one side in the whole line."""
    if not variant.impact:
        return 0.0
    each = item.contacts or item.reps
    per_rep = 1 if item.contacts is not None else max(1, variant.contacts_per_rep)
    return 0.0 if each is None else item.sets * each.high * per_rep


def _level(sets: float, house: House) -> int:
    if sets <= 0:
        return 0
    return 1 if sets < house.value("weekly-sets-low") else 2 if sets <= house.value("weekly-sets-high") else 3


def _row(days: set[int]) -> int:
    """Most days running, Monday to Sunday."""
    best = now = 0
    for day in range(7):
        now = now + 1 if day in days else 0
        best = max(best, now)
    return best
