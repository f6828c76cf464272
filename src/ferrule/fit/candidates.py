"""What a line might be: what was written, its alternatives, its family, other loads - before anything is weighed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ferrule.fit.draft import Draft
from ferrule.fit.setting import Setting
from ferrule.fit.sides import on_exercise, says_own_sides
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.programme import Dose, Item, Slot
from ferrule.model.quantity import Load

HALF_KG = 0.26
"""A written load is met within a quarter of a kilogram: nobody owns finer plates."""
SAME_DEMAND = 0.05
"""Demands nearer than this are not told apart (docs/body.md: 5-10 % within a family)."""
OPEN_LOAD, OTHER_LOAD, ALTERNATIVE, FAMILY, PATTERN, GROUP = 1, 2, 3, 10, 30, 60
"""Prices of leaving the text, in the order the design gives: nearer the text is cheaper (ours).
A load the coach left open costs the least: nothing is carried unless that is nearer to the effort by the margin."""
Candidate = tuple[Variant | None, str, Dose, str, int]


def candidates(item: Item, library: Library) -> Iterator[Candidate]:
    """(variant, name, dose, origin, distance) in the order of preference.

    The written exercise has the dose as written; so has an alternative that says its own sides. The sides of every other
    dose follow the exercise (`on_exercise`).
    """
    without: dict[int, Dose] = {}

    def on(dose: Dose, variant: Variant) -> Dose:
        if variant.sided:
            return dose
        if id(dose) not in without:  # one value of each, that what is alike is weighed together
            without[id(dose)] = on_exercise(dose, variant)
        return without[id(dose)]

    bases: list[tuple[Variant, Dose, int]] = []
    for n, line in enumerate((item, *item.alternatives)):
        distance = 0 if n == 0 or item.runner_picks else ALTERNATIVE + n - 1
        if isinstance(line.exercise, Slot):
            for variant in _of_slot(line.exercise, line.dose, library):
                yield variant, variant.name, on(line.dose, variant), "slot" if n == 0 else "alternative", distance
            continue
        found = library.variants.get(line.exercise.variant_id or "")
        name = line.exercise.text if found is None else found.name
        stands = n == 0 or found is None or says_own_sides(line.dose, item.dose)
        own = line.dose if stands or found is None else on(line.dose, found)
        yield found, name, own, "written" if n == 0 else "alternative", distance
        if found is not None:
            bases.append((found, line.dose, distance))
    if isinstance(item.exercise, Slot):
        return
    for base, dose, start in bases:
        for variant_id in library.families[base.family].variant_ids:
            variant = library.variants[variant_id]
            if variant is not base and _alike(variant, base):
                far = start + FAMILY + 2 * abs(variant.rank - base.rank)
                yield variant, variant.name, on(dose, variant), "family", far
    for base, dose, start in bases[:1]:
        for variant in _counted_alike(base, library):
            if variant.family != base.family and variant.impact <= base.impact:
                if variant.pattern == base.pattern:
                    yield variant, variant.name, on(dose, variant), "pattern", start + PATTERN
                elif base.main is not None and variant.main is not None:
                    yield variant, variant.name, on(dose, variant), "group", start + GROUP


def _alike(variant: Variant, base: Variant) -> bool:
    """May stand in: counted the same way, dosed on the same group (or never dosed, like the base), no more impact."""
    return variant.impact <= base.impact and _counted(variant) == _counted(base)


NO_WEIGHT = Reason("kit", "it needs a weight, and none of those owned suits")
"""Of an exercise whose load is what is lifted, where a load or an effort is written."""

_index: tuple[Library, dict[tuple[str, str | None], tuple[Variant, ...]]] | None = None
"""The library last asked, and its variants by how they are counted and the group they are dosed on."""


def _counted_alike(base: Variant, library: Library) -> tuple[Variant, ...]:
    """Every variant counted as `base` and dosed on the same group, in the order of the library; looked up, not searched."""
    global _index
    if _index is None or _index[0] is not library:
        found: dict[tuple[str, str | None], list[Variant]] = {}
        for variant in library.variants.values():
            found.setdefault(_counted(variant), []).append(variant)
        _index = (library, {key: tuple(variants) for key, variants in found.items()})
    return _index[1].get(_counted(base), ())


def _counted(variant: Variant) -> tuple[str, str | None]:
    main = variant.main
    return variant.dose_kind, None if main is None else main.group


def _of_slot(slot: Slot, dose: Dose, library: Library) -> Iterator[Variant]:
    kind = "hold" if dose.hold_s else "distance" if dose.distance_m else "contacts" if dose.contacts else "reps"
    for variant in library.variants.values():
        legs = slot.legs is None or variant.one_leg == (slot.legs == 1)
        if variant.pattern == slot.pattern and legs and variant.dose_kind == kind:
            yield variant


def with_loads(
    variant: Variant | None, name: str, dose: Dose, origin: str, distance: int, bare: bool, setting: Setting
) -> Iterator[Draft]:
    """The candidate with each load to try: the written one is free; an open one is free where an effort is stated.

    bare   no open load: nobody is moved to an easier exercise and then given a weight to make it hard again
    """
    written = dose.load
    if variant is None:
        yield Draft(None, name, None, origin, dose, distance, setting.barred_unknown())
        return
    barred = setting.barred(variant)
    open_load = (
        not bare and written is None and (dose.rir is not None or dose.rm is not None or dose.percent is not None)
    )
    bands = setting.loads("band") if barred is None and takes_band(variant) else ()
    if bands:
        yield from _with_bands(Draft(variant, name, None, origin, dose, distance, None), bands, open_load, setting)
        return
    no_load_extra = 0 if written is None or written.none else OTHER_LOAD
    empty = barred or setting.barred_load(variant, None)
    if origin == "written" or not variant.lifts:
        if variant.lifts and (open_load or not (written is None or written.none)):
            empty = empty or NO_WEIGHT
        yield Draft(variant, name, None, origin, dose, distance + no_load_extra, empty)
    if barred is not None or (written is None and not open_load) or (written is not None and written.none):
        return
    for place in variant.loading:
        for load in setting.loads(place):
            if written is None and _not_felt(variant, load, setting.mass_kg):
                continue
            extra = OPEN_LOAD if written is None else 0 if as_written(load, written) else OTHER_LOAD
            yield Draft(variant, name, load, origin, dose, distance + extra, setting.barred_load(variant, load))


def takes_band(variant: Variant) -> bool:
    """True where the pull of a band is what the exercise is done against."""
    return variant.main is not None and "band" in variant.main.per_kg


def _with_bands(draft: Draft, bands: tuple[LoadChoice, ...], open_load: bool, setting: Setting) -> Iterator[Draft]:
    """The candidate with each band owned: some band is part of the exercise, so the thinnest is as written when none is
    named, and a thicker one is a load the coach left open."""
    assert draft.variant is not None  # it takes a band
    written = draft.dose.load
    for n, band in enumerate(bands):
        if written is not None and not written.none:
            extra = 0 if as_written(band, written) else OTHER_LOAD
        elif n and not open_load:
            return
        else:
            extra = OPEN_LOAD if n else 0
        barred = setting.barred_load(draft.variant, band)
        yield replace(draft, load=band, distance=draft.distance + extra, barred=barred)


def _not_felt(variant: Variant, load: LoadChoice, mass_kg: float) -> bool:
    """A load the coach left open is not worth fetching when it adds less than the statics can tell."""
    main = variant.main
    return main is not None and main.demand(load.kg, load.place, mass_kg) < (1 + SAME_DEMAND) * main.base


def as_written(load: LoadChoice, written: Load) -> bool:
    """True when a load the runner can make is the one the coach wrote, to a quarter of a kilogram."""
    if written.band is not None:
        return load.band == written.band
    if load.band is not None or (written.place is not None and load.place != written.place):
        return False
    total = written.total_kg
    return total is None or total.low - HALF_KG <= load.kg <= total.high + HALF_KG


def first_of(item: Item, setting: Setting) -> Variant | None:
    """The exercise of the line, when this runner may do it."""
    if isinstance(item.exercise, Slot):
        return None
    variant = setting.library.variants.get(item.exercise.variant_id or "")
    if variant is None or setting.barred(variant) is not None or setting.barred_load(variant, None) is not None:
        return None
    return variant


def is_easier(variant: Variant | None, first: Variant) -> bool:
    """Does the variant ask less of its main group, without a load, than the line's own?"""
    mine, its = None if variant is None else variant.main, first.main
    return mine is not None and its is not None and mine.base < its.base
