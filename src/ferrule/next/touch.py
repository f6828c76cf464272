"""Which lines of a week load a region, on the way to something else included."""

from __future__ import annotations

from collections.abc import Iterable

from ferrule.fit.screen import SECONDARY_FLOOR
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import LIGHT, Named, ProgrammeWeek
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Region
from ferrule.next.ruling import Key


def loads(variant: Variant | None, region: Region, *, touching: bool = False) -> bool:
    """Does the exercise load the region, or land on it? One the library does not know might.

    touching   what only involves the region counts too
    """
    if variant is None:
        return True
    groups = REGION_GROUPS[region]
    asked = any(a.group in groups and a.base > SECONDARY_FLOOR for a in variant.asks)
    return asked or (touching and region in variant.regions) or (variant.impact > 0 and region in IMPACT_REGIONS)


def lines_on(
    week: ProgrammeWeek,
    last: FittedWeek | None,
    library: Library,
    regions: Iterable[Region],
    *,
    touching: bool = False,
) -> frozenset[Key]:
    """Lines whose written exercise, or what was sent for them last week, loads one of the regions (or `touching`: involves)."""
    places = tuple(regions)
    sent: dict[Key, str] = {}
    if last is not None and last.cycle_name == week.cycle_name:
        sent = {
            (s.key.split(" (")[0], i.item_key): i.variant_id for s in last.sessions for b in s.blocks for i in b.items
        }
    out = set()
    for session in week.sessions:
        for item in (i for b in session.blocks for i in b.items):
            key = (session.key, item.key)
            ids = [sent[key]] if key in sent else []
            if isinstance(item.exercise, Named):
                ids.append(item.exercise.variant_id or "")
            if any(loads(library.variants.get(v), region, touching=touching) for v in ids for region in places):
                out.add(key)
    return frozenset(out)


def work_lines(week: ProgrammeWeek) -> frozenset[Key]:
    """Lines outside warm-up and cool-down."""
    return frozenset((s.key, i.key) for s in week.sessions for b in s.blocks if b.kind not in LIGHT for i in b.items)
