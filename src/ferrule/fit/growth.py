"""How much more than last week: which choices are more than one step above what was sent for the same line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ferrule.fit.candidates import SAME_DEMAND, as_written
from ferrule.fit.choice import Choice
from ferrule.fit.draft import Draft
from ferrule.fit.given import base_key as base_key
from ferrule.fit.setting import Setting
from ferrule.model.exercise import Variant
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice, Reason
from ferrule.model.programme import Item, Named

HAIR = 1e-9
NOTICED_REPS = 0.05
"""A choice nearer to the effort by less than this is not worth a word (ours)."""
STEP_COSTS_REPS = 0.25
"""A step towards the effort may be this much further from it than staying, in expected repetitions (ours)."""
NOTHING_LESS = "more than a step above last week, and nothing that may be done asks less"


@dataclass(frozen=True, slots=True)
class Before:
    """What was sent for a line the week before."""

    variant_id: str
    load: LoadChoice | None


def sent_before(last: FittedWeek | None, cycle_name: str, session: str, item: Item) -> Before | None:
    """The line of last week that `item` goes on from; None when there is none.

    In one cycle the same line; else, at a change-over, the heaviest line of last week with the variant that is written.
    """
    if last is None:
        return None
    lines = [(base_key(s.key), i) for s in last.sessions for b in s.blocks for i in b.items]
    if last.cycle_name == cycle_name:
        same = [i for key, i in lines if key == session and i.item_key == item.key]
        if same:
            return _heaviest(same)
    named = item.exercise.variant_id if isinstance(item.exercise, Named) else None
    again = [i for _, i in lines if named and i.variant_id == named]
    return _heaviest(again) if again else None


def _heaviest(items: Iterable[FittedItem]) -> Before:
    most = max(items, key=lambda i: 0.0 if i.load is None else i.load.kg)
    return Before(most.variant_id, most.load)


def ceiling(before: Before, setting: Setting) -> float | None:
    """The most demand one step above last week's, on the main group; None when last week's line was no dose.

    A step is the next load the runner's kit can make at that place, or the house's `load-step-percent` where that is
    more. A variant that takes no load grows by that share of its demand. From no load the step is to the lightest one that
    is felt: nobody is sent to fetch a lighter one.
    """
    variant = setting.library.variants.get(before.variant_id)
    if variant is None or variant.main is None:
        return None
    share = 1 + setting.house.value("load-step-percent") / 100
    kg = 0.0 if before.load is None else before.load.kg
    at = None if before.load is None else before.load.place
    own = variant.main.demand(kg, at, setting.mass_kg)
    places = variant.loading if before.load is None else (before.load.place,)
    steps = [
        _demand(variant, load, setting)
        for place in places
        if (load := _next(kg, felt(variant, before, setting.loads(place), setting)))
    ]
    more = variant.main.demand(kg * share, at, setting.mass_kg) if before.load is not None else own
    return max([more, *([min(steps)] if steps else [own * share])])


def felt(variant: Variant, before: Before, loads: Sequence[LoadChoice], setting: Setting) -> Sequence[LoadChoice]:
    """Loads that are worth fetching where none was carried; all of them where one was."""
    if before.load is not None:
        return loads
    assert variant.main is not None  # it has a ceiling
    return [x for x in loads if _demand(variant, x, setting) >= (1 + SAME_DEMAND) * variant.main.base]


def _next(kg: float, loads: Sequence[LoadChoice]) -> LoadChoice | None:
    return next((x for x in loads if x.kg > kg + HAIR), None)


def _demand(variant: Variant, load: LoadChoice, setting: Setting) -> float:
    assert variant.main is not None  # asked for dosed variants only
    return variant.main.demand(load.kg, load.place, setting.mass_kg)


def mark_grown(drafts: Sequence[Draft], before: Before | None, setting: Setting) -> None:
    """Set `grown` on the drafts that are ours to choose and ask more than one step above last week.

    What the coach wrote is the coach's: the written exercise, its `- or` lines and written loads are never marked.
    """
    most = None if before is None else ceiling(before, setting)
    if most is None or before is None:
        return
    group = setting.library.variants[before.variant_id].main
    for d in drafts:
        dosed = d.variant is not None and d.group is not None and group is not None and d.group == group.group
        own = d.origin not in ("written", "alternative")
        ours = own or (d.load is not None and (d.dose.load is None or not as_written(d.load, d.dose.load)))
        d.grown = dosed and ours and d.demand > most * (1 + HAIR)


def climb(drafts: Sequence[Draft], before: Before | None, setting: Setting) -> None:
    """Where the effort meant lies more than a step above last week, leave only the step towards it.

    A step alone is often no nearer to the effort by the margin, and a runner would stay where they are for good. Only
    for last week's exercise, and only where the step costs next to nothing.
    """
    if before is None:
        return
    mine = [d for d in drafts if d.variant is not None and d.variant.id == before.variant_id and d.group is not None]
    rest, grown = [d for d in mine if not d.grown], [d for d in mine if d.grown]
    if not rest or not grown or setting.library.variants[before.variant_id].main is None:
        return
    want, top = min(grown, key=lambda d: d.expected_loss), max(rest, key=lambda d: d.demand)
    best = min(d.expected_loss for d in rest)
    if want.expected_loss > best - NOTICED_REPS or top.expected_loss > best + STEP_COSTS_REPS:
        return
    kg = "" if want.load is None else f"{want.load.kg:g} kg"
    for d in rest:
        if d.demand < top.demand * (1 - HAIR):
            d.barred = Reason("load chosen", f"a step towards {kg}, which would be nearer to the effort")


def least_of(drafts: Sequence[Draft]) -> None:
    """Where everything is more than a step above last week, the least of it may be done: a line is not lost for it."""
    if drafts and all(d.grown for d in drafts):
        least = min(drafts, key=lambda d: d.demand)
        least.grown, least.least = False, True


def nearest_grown(drafts: Sequence[Draft]) -> list[Draft]:
    """Of what has grown too much the nearest to the effort of each variant that the text names: so the rule can be told."""
    best: dict[str, Draft] = {}
    for d in drafts:
        if d.grown and d.variant is not None and d.origin in ("written", "alternative"):
            now = best.setdefault(d.variant.id, d)
            if d.expected_loss < now.expected_loss:
                best[d.variant.id] = d
    return list(best.values())


def growth_reasons(chosen: Choice, choices: Sequence[Choice]) -> tuple[Reason, ...]:
    """A word on a line that was kept to a step above last week, or could not be."""
    if chosen.least:
        return (Reason("load chosen", NOTHING_LESS),)
    mine = "" if chosen.variant is None else chosen.variant.id
    same = [c for c in choices if c.grown and c.variant is not None and c.variant.id == mine and c.load is not None]
    nearer = min(same, key=lambda c: c.expected_loss, default=None)
    if nearer is None or nearer.load is None or nearer.expected_loss > chosen.expected_loss - NOTICED_REPS:
        return ()
    return (
        Reason("load chosen", f"a step above last week at most: {nearer.load.kg:g} kg would be nearer to the effort"),
    )
