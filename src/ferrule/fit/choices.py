"""The choices of one line: what was written, its alternatives, its family, other loads; each with its cost."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import takewhile

import numpy as np

from ferrule.check import minutes
from ferrule.fit.effort import Array, Nodes, loss, possible, with_recourse
from ferrule.fit.intent import NONE, Intent, intent_of
from ferrule.fit.screen import screen_load, screen_variant
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.house import House
from ferrule.model.programme import Block, Dose, Item, Slot
from ferrule.model.quantity import Load
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Group, Place
from ferrule.squad.loads import load_choices

HALF_KG = 0.26
"""A written load is met within a quarter of a kilogram: nobody owns finer plates."""
LOADS_KEPT = 6
"""Loads of one variant kept for the solver: the best by expected loss, and the recourses of those."""
VARIANTS_KEPT = 8
"""Variants the text does not name that are kept for the solver: the best by expected loss (slots keep as many)."""
EASIER_BY, HARDER_BY = 0.87, 1.15
"""A recourse differs by about a seventh of the demand: less is not felt (ours)."""
NEAR_EASIER, NEAR_HARDER = 0.6, 1.6
"""Another load of the same variant is the recourse when it lies this near; else another variant may be nearer (ours)."""

HEAVY_SHARE = 0.1
"""A load above this share of body mass is heavy: failing with it can hurt (common practice, no source)."""
SAME_DEMAND = 0.05
"""Demands nearer than this are not told apart (docs/body.md: 5-10 % within a family)."""

OPEN_LOAD, OTHER_LOAD, ALTERNATIVE, FAMILY, PATTERN, GROUP = 1, 2, 3, 10, 30, 60
"""Prices of leaving the text, in the order the design gives: nearer the text is cheaper (ours).
A load the coach left open costs the least: nothing is carried unless that is nearer to the effort by the margin."""


@dataclass(frozen=True, slots=True)
class Step:
    """A printed way out: a variant with a load, and its own dose when it is one of the coach's alternatives."""

    variant: Variant
    load: LoadChoice | None
    dose: Dose


@dataclass(frozen=True, slots=True)
class Choice:
    """One way a runner may do a line.

    origin    `written` (loads the coach left open included), `alternative`, `slot`, `family`, `pattern` or `group`
    dose      the effective dose (an alternative brings its own)
    distance  price of leaving the text, before the effort is looked at
    barred    why it may not be done
    expected_loss  repetitions;  possible: what is possible, by slice (q,), None when it is never a dose
    set_s, setup_s seconds of one set with both sides, seconds to get ready
    group     the group it is dosed on;  easier, harder: the printed recourses
    """

    variant: Variant | None
    name: str
    load: LoadChoice | None
    origin: str
    dose: Dose
    distance: int
    intent: Intent
    demand: float
    barred: Reason | None
    possible: Array | None
    expected_loss: float
    set_s: float
    setup_s: float
    contacts: int
    group: Group | None = None
    easier: Step | None = None
    harder: Step | None = None

    @property
    def id(self) -> str:
        """Stable name inside its line: variant, load and place."""
        load = "" if self.load is None else f"+{self.load.kg:g}@{self.load.place}"
        return f"{'' if self.variant is None else self.variant.id}{load}"


@dataclass(frozen=True, slots=True)
class LineChoices:
    """Every choice of one line: `written` is the written one with the best open load (maybe barred), `choices` what may be done."""

    written: Choice
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """What a line's choices depend on besides the line; the dictionaries only remember what was worked out."""

    runner: Runner
    capacity: Capacity
    nodes: Nodes
    library: Library
    house: House
    monday: date
    mass_kg: float
    margin_rir: float
    _screened: dict[str, Reason | None] = field(default_factory=dict)
    _loads: dict[Place, tuple[LoadChoice, ...]] = field(default_factory=dict)

    def barred(self, variant: Variant) -> Reason | None:
        """Kit and wishes, remembered by variant."""
        if variant.id not in self._screened:
            self._screened[variant.id] = screen_variant(variant, self.runner)
        return self._screened[variant.id]

    def barred_load(self, variant: Variant, load: LoadChoice | None) -> Reason | None:
        """Limits and sore places."""
        r = self.runner
        if not r.limits and not r.sore:
            return None
        variants = self.library.variants
        return screen_load(variant, load, r, variants, self.house, self.capacity, self.monday, self.mass_kg)

    def loads(self, place: Place) -> tuple[LoadChoice, ...]:
        """Loads this runner's kit can make at a place, remembered."""
        if place not in self._loads:
            self._loads[place] = load_choices(self.runner.kit, place, self.mass_kg)
        return self._loads[place]


@dataclass(slots=True)
class _Draft:
    """A choice while its effort is worked out. possible, lost: by slice (q,), None when it is never a dose."""

    variant: Variant | None
    name: str
    load: LoadChoice | None
    origin: str
    dose: Dose
    distance: int
    barred: Reason | None
    group: Group | None = None
    intent: Intent = NONE
    demand: float = 0.0
    possible: Array | None = None
    lost: Array | None = None
    expected_loss: float = 0.0
    easier: _Draft | None = None
    harder: _Draft | None = None


def choices_of(item: Item, block: Block, setting: Setting) -> LineChoices:
    """All choices of `item`, the written ones first, each once, with expected losses and recourses filled in."""
    every = _drafted(_candidates(item, setting.library), item, block, setting)
    written = _written(every)
    free = [d for d in every if d.barred is None and not _pointless(d, written)]
    _add_recourse(free)
    return LineChoices(_choice(written), tuple(_choice(d) for d in _thin(free)))


def written_of(item: Item, block: Block, setting: Setting) -> Choice:
    """`choices_of(item, block, setting).written` alone: its recourses and what might be done instead are not looked at."""
    named = list(takewhile(lambda c: c[3] in ("written", "slot"), _candidates(item, setting.library)))
    return _choice(_written(_drafted(named or _candidates(item, setting.library), item, block, setting)))


_Candidate = tuple[Variant | None, str, Dose, str, int]


def _drafted(candidates: Iterable[_Candidate], item: Item, block: Block, setting: Setting) -> list[_Draft]:
    """The candidates with every load to try, each once, weighed."""
    drafts: dict[tuple[str, float, str], _Draft] = {}
    for variant, name, dose, origin, distance in candidates:
        for draft in _with_loads(variant, name, dose, origin, distance, setting):
            place = "" if draft.load is None else draft.load.place
            key = ("" if variant is None else variant.id, 0.0 if draft.load is None else draft.load.kg, place)
            drafts.setdefault(key, draft)
    every = list(drafts.values())
    _weigh(every, block, max(1, round(minutes.sets_of(item, block))), setting)
    return every


def _written(every: list[_Draft]) -> _Draft:
    """The written one: with the best open load, barred only when every way of it is."""
    named = [d for d in every if d.origin in ("written", "slot") and d.distance <= OPEN_LOAD] or every[:1]
    return min(named, key=lambda d: (d.barred is not None, d.distance > OPEN_LOAD, d.expected_loss, d.distance))


def _pointless(d: _Draft, written: _Draft) -> bool:
    """Another exercise that asks the same as the written one, to what the statics can tell, is no reason to leave it."""
    if d.origin not in ("family", "pattern", "group") or written.barred is not None or d.variant is None:
        return False
    mine, its = d.variant.main, None if written.variant is None else written.variant.main
    return mine is not None and its is not None and abs(mine.base / its.base - 1) < SAME_DEMAND


def _candidates(item: Item, library: Library) -> Iterator[_Candidate]:
    """(variant, name, dose, origin, distance) in the order of preference."""
    bases: list[tuple[Variant, Dose, int]] = []
    for n, line in enumerate((item, *item.alternatives)):
        distance = 0 if n == 0 or item.runner_picks else ALTERNATIVE + n - 1
        if isinstance(line.exercise, Slot):
            for variant in _of_slot(line.exercise, line.dose, library):
                yield variant, variant.name, line.dose, "slot" if n == 0 else "alternative", distance
            continue
        found = library.variants.get(line.exercise.variant_id or "")
        name = line.exercise.text if found is None else found.name
        yield found, name, line.dose, "written" if n == 0 else "alternative", distance
        if found is not None:
            bases.append((found, line.dose, distance))
    if isinstance(item.exercise, Slot):
        return
    for base, dose, start in bases:
        for variant_id in library.families[base.family].variant_ids:
            variant = library.variants[variant_id]
            if _alike(variant, base):
                yield variant, variant.name, dose, "family", start + FAMILY + 2 * abs(variant.rank - base.rank)
    for base, dose, start in bases[:1]:
        for variant in library.variants.values():
            if variant.family != base.family and _alike(variant, base):
                if variant.pattern == base.pattern:
                    yield variant, variant.name, dose, "pattern", start + PATTERN
                elif base.main is not None and variant.main is not None:
                    yield variant, variant.name, dose, "group", start + GROUP


def _alike(variant: Variant, base: Variant) -> bool:
    """May stand in: counted the same way, dosed on the same group (or never dosed, like the base), no more impact."""
    same_group = (variant.main.group if variant.main else None) == (base.main.group if base.main else None)
    return variant.dose_kind == base.dose_kind and same_group and variant.impact <= base.impact


def _of_slot(slot: Slot, dose: Dose, library: Library) -> Iterator[Variant]:
    kind = "hold" if dose.hold_s else "distance" if dose.distance_m else "contacts" if dose.contacts else "reps"
    for variant in library.variants.values():
        legs = slot.legs is None or variant.one_leg == (slot.legs == 1)
        if variant.pattern == slot.pattern and legs and variant.dose_kind == kind:
            yield variant


def _with_loads(
    variant: Variant | None, name: str, dose: Dose, origin: str, distance: int, setting: Setting
) -> Iterator[_Draft]:
    """The candidate with each load to try: the written one is free; an open one is free where an effort is stated."""
    written = dose.load
    if variant is None:
        yield _Draft(None, name, None, origin, dose, distance, None)
        return
    barred = setting.barred(variant)
    open_load = written is None and (dose.rir is not None or dose.rm is not None or dose.percent is not None)
    no_load_extra = 0 if written is None or written.none else OTHER_LOAD
    yield _Draft(
        variant, name, None, origin, dose, distance + no_load_extra, barred or setting.barred_load(variant, None)
    )
    if barred is not None or (written is None and not open_load) or (written is not None and written.none):
        return
    for place in variant.loading:
        for load in setting.loads(place):
            extra = OPEN_LOAD if written is None else 0 if as_written(load, written) else OTHER_LOAD
            yield _Draft(variant, name, load, origin, dose, distance + extra, setting.barred_load(variant, load))


def as_written(load: LoadChoice, written: Load) -> bool:
    """True when a load the runner can make is the one the coach wrote, to a quarter of a kilogram."""
    if written.place is not None and load.place != written.place:
        return False
    if written.band is not None:
        return load.band == written.band
    total = written.total_kg
    return total is None or total.low - HALF_KG <= load.kg <= total.high + HALF_KG


def _weigh(drafts: Sequence[_Draft], block: Block, sets: int, setting: Setting) -> None:
    """Effort of all drafts, worked out together for those that share a group and an intent; fills the drafts in."""
    intents: dict[tuple[int, Group], Intent] = {}
    batches: dict[tuple[Group, Intent], list[_Draft]] = {}
    for d in drafts:
        main = None if d.variant is None else d.variant.main
        if main is None:
            continue
        key = (id(d.dose), main.group)
        if key not in intents:
            intents[key] = intent_of(d.dose, block, main.group, setting.margin_rir)
        d.group, d.intent = main.group, intents[key]
        if d.intent.unit != "none":
            kg, place = (0.0, None) if d.load is None else (d.load.kg, d.load.place)
            d.demand = main.demand(kg, place, setting.mass_kg)
            batches.setdefault((main.group, d.intent), []).append(d)
    for (group, intent), members in batches.items():
        n = possible(np.array([d.demand for d in members]), sets, intent, group, setting.nodes)
        lost = loss(n, intent)
        means = lost.mean(axis=1)
        for d, n_row, lost_row, mean in zip(members, n, lost, means, strict=True):
            d.possible, d.lost, d.expected_loss = n_row, lost_row, float(mean)
            if d.barred is None and d.load is not None and _may_hurt(d.load, setting.mass_kg):
                d.barred = _risk(d.load, intent, n_row, setting.house)


def _choice(d: _Draft) -> Choice:
    setup_s = minutes.SETUP_S if d.variant is None else d.variant.setup_s
    return Choice(
        d.variant, d.name, d.load, d.origin, d.dose, d.distance, d.intent, d.demand, d.barred, d.possible,
        d.expected_loss, minutes.dose_seconds(d.dose, d.variant), setup_s, contacts_of(d.dose, d.variant), d.group,
        _step(d.easier), _step(d.harder),
    )  # fmt: skip


def _step(d: _Draft | None) -> Step | None:
    return None if d is None or d.variant is None else Step(d.variant, d.load, d.dose)


def contacts_of(dose: Dose, variant: Variant | None) -> int:
    """Foot contacts of one set, both sides, at the top of the range; 0 for a variant without landings."""
    if variant is None or not variant.contacts_per_rep:
        return 0
    amount = dose.contacts or dose.reps
    each = dose.sides == "each" or (dose.sides is None and variant.sided)
    per_rep = 1 if dose.contacts else variant.contacts_per_rep
    return 0 if amount is None else round(amount.high * per_rep * (2 if each else 1))


def _may_hurt(load: LoadChoice, mass_kg: float) -> bool:
    """Failing under a load on the back or hips can hurt, and under any that is heavy for the runner."""
    return load.place in ("back", "hips") or load.kg > HEAVY_SHARE * mass_kg


def _risk(load: LoadChoice, intent: Intent, n: Array, house: House) -> Reason | None:
    """The tail is limited where failing can hurt, and only there."""
    fails = float((n < intent.work).mean()) if intent.unit == "reps" else 0.0
    if fails <= house.value("fail-risk"):
        return None
    return Reason("risk", f"{load.kg:g} kg on the {load.place}: too likely to fail under it ({100 * fails:.0f} of 100)")


def _add_recourse(drafts: Sequence[_Draft]) -> None:
    """Every dosed draft gets its printed easier and harder line, and its expected loss with them.

    The nearest on the way: another load of the same variant, else one of the coach's own alternatives, else the family
    without a load, else anything without a load: nobody is sent to a strange exercise with a weight in hand.
    """
    groups: dict[Group, list[_Draft]] = {}
    for d in drafts:
        if d.group is not None and d.lost is not None:
            groups.setdefault(d.group, []).append(d)
    for members in groups.values():
        variants: dict[str, list[_Draft]] = {}
        families: dict[str, list[_Draft]] = {}
        for d in members:
            assert d.variant is not None  # it has a group
            variants.setdefault(d.variant.id, []).append(d)
            if d.load is None:
                families.setdefault(d.variant.family, []).append(d)
        listed = _Steps([d for d in members if d.origin in ("written", "alternative")])
        bare = _Steps([d for d in members if d.load is None])
        for same in variants.values():
            first = same[0].variant
            assert first is not None  # it has a group
            tiers = (_Steps(same), listed, _Steps(families.get(first.family, [])), bare)
            for d in same:
                near = (tiers[0].above(d, NEAR_HARDER * d.demand), tiers[0].below(d, NEAR_EASIER * d.demand))
                d.harder = near[0] or next((x for t in tiers[1:] if (x := t.above(d))), None)
                d.easier = near[1] or next((x for t in tiers[1:] if (x := t.below(d))), None)
        own = np.array([d.lost for d in members])
        easier = np.array([_lost(d.easier, d) for d in members])
        harder = np.array([_lost(d.harder, d) for d in members])
        for d, expected in zip(members, with_recourse(own, easier, harder), strict=True):
            d.expected_loss = float(expected)


class _Steps:
    """Drafts of one group in order of demand; among equals the nearest to the text is found first."""

    def __init__(self, drafts: Sequence[_Draft]) -> None:
        self.rising = sorted(drafts, key=lambda d: (d.demand, d.distance))
        self.falling = sorted(drafts, key=lambda d: (d.demand, -d.distance))
        self.up, self.down = [d.demand for d in self.rising], [d.demand for d in self.falling]

    def above(self, d: _Draft, most: float = float("inf")) -> _Draft | None:
        i = bisect_left(self.up, HARDER_BY * d.demand)
        return self.rising[i] if i < len(self.rising) and self.up[i] <= most else None

    def below(self, d: _Draft, least: float = 0.0) -> _Draft | None:
        i = bisect_right(self.down, EASIER_BY * d.demand) - 1
        return self.falling[i] if i >= 0 and self.down[i] >= least else None


def _lost(recourse: _Draft | None, own: _Draft) -> Array | None:
    return own.lost if recourse is None else recourse.lost


def _thin(drafts: Sequence[_Draft]) -> list[_Draft]:
    """Keep the best few loads of each variant (and none at all), and the best few variants the text does not name."""
    by_variant: dict[str, list[_Draft]] = {}
    for d in drafts:
        by_variant.setdefault("" if d.variant is None else d.variant.id, []).append(d)
    best = {v: sorted(m, key=lambda d: (d.expected_loss, d.distance))[:LOADS_KEPT] for v, m in by_variant.items()}
    named = {v for v, m in best.items() if any(d.origin in ("written", "alternative") for d in m)}
    rest = sorted((v for v in best if v not in named), key=lambda v: (best[v][0].expected_loss, best[v][0].distance, v))
    kept = named | set(rest[:VARIANTS_KEPT])
    ids = {id(d) for v in kept for d in best[v]} | {id(d) for v in kept for d in by_variant[v] if d.load is None}
    return [d for d in drafts if id(d) in ids]


def best_loss(choices: Iterable[Choice]) -> float:
    """The least expected loss among `choices`, repetitions; 0 when there are none."""
    return min((c.expected_loss for c in choices), default=0.0)
