"""Every written line accounted for; every chosen one allowed for this runner."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from ferrule.fit.verify.refused import refused
from ferrule.fit.verify.where import runner_there
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Dose, Item, Named, ProgrammeWeek, Session, Slot
from ferrule.model.quantity import Range
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Group
from ferrule.squad.loads import load_choices, missing_kit

LITTLE = 0.05
HAIR = 1e-6


def check_lines(
    week: FittedWeek, written: ProgrammeWeek, runner: Runner, library: Library, house: House, capacity: Capacity
) -> tuple[Finding, ...]:
    """Sessions and lines accounted for, doses kept, choices allowed, departures explained."""
    out: list[Finding] = []
    fitted = {s.key: s for s in week.sessions}
    if len(fitted) != len(week.sessions) or len(week.sessions) + len(week.rest_sessions) != len(written.sessions):
        out.append(refused("sessions", week, "a session is missing or stands twice"))
    for session in written.sessions:
        if session.key in fitted:
            out += [
                refused("line", week, f"session {session.key}: {w}")
                for w in _session(session, fitted[session.key], library)
            ]
    for s in week.sessions:
        there = runner_there(s, week, runner)
        for item in (i for b in s.blocks for i in b.items):
            variant = library.variants.get(item.variant_id)
            if variant is None:
                if (
                    runner.sore
                    or runner.wishes
                    or any(x.until is None or x.until >= week.monday for x in runner.limits)
                ):
                    out.append(refused("allowed", week, f"{item.name} is not in the library and cannot be screened"))
                continue
            for why in not_allowed(variant, item, week, there, library, house, capacity):
                out.append(refused("allowed", week, f"session {s.key}, {item.name}: {why}"))
    return tuple(out)


def _session(session: Session, fitted: FittedSession, library: Library) -> Iterator[str]:
    done = {i.item_key: i for b in fitted.blocks for i in b.items}
    if len(done) != sum(len(b.items) for b in fitted.blocks):
        yield "a line stands twice"
    lines = {i.key: i for b in session.blocks for i in b.items}
    for key in done:
        if key not in lines:
            yield f"line {key} is not in the text"
    left_out = sum("left out" in r.text for r in fitted.reasons)
    if len(lines) - len(set(lines) & set(done)) != left_out:
        yield "a line is missing without a reason"
    for key, item in done.items():
        if key in lines:
            yield from _kept(lines[key], item, library)


def _kept(line: Item, item: FittedItem, library: Library) -> Iterator[str]:
    """The dose is the line's or one of its alternatives'; another exercise carries its reason."""
    variant = library.variants.get(item.variant_id)
    doses = [as_taken(own, line, variant) for own in (line, *line.alternatives)]
    if not any(same_dose(d, item) for d in doses):
        yield f"{item.name}: the dose is not the written one"
    named = line.exercise.variant_id if isinstance(line.exercise, Named) else None
    other = isinstance(line.exercise, Slot) or (named is not None and named != item.variant_id)
    if other and not item.reasons and not line.runner_picks:
        yield f"{item.name} instead of the written exercise, without a reason"
    asked = line.dose.load
    if asked is not None and asked.band is not None and not other:
        took = None if item.load is None else item.load.band
        if took not in (None, asked.band) and not item.reasons:
            yield f"{item.name}: another band than the written one, without a reason"
    if asked is not None and asked.kg is not None and not other and asked.total_kg is not None:
        kg = 0.0 if item.load is None else item.load.kg
        if not asked.total_kg.low - 0.3 <= kg <= asked.total_kg.high + 0.3 and not item.reasons:
            yield f"{item.name}: {kg:g} kg instead of the written load, without a reason"


def as_taken(own: Item, line: Item, variant: Variant | None) -> Dose:
    """The dose of `own` (the line, or an alternative of it) as it is done with `variant`.

    What the coach wrote for that very exercise stands, in an alternative where it says sides of its own. Any other
    exercise that has no sides is done without: the same number, the larger one of two.
    """
    dose = own.dose
    if variant is None or variant.sided:
        return dose
    for_it = isinstance(own.exercise, Named) and own.exercise.variant_id == variant.id
    pair = [n for n in (dose.left, dose.right) if n is not None]
    if for_it and (own is line or ((dose.sides or pair) and _amount(dose) != _amount(line.dose))):
        return dose
    bare = replace(dose, sides=None, side_rest_s=None)
    return replace(bare, left=None, right=None, reps=Range(max(pair), max(pair))) if pair else bare


def _amount(d: Dose) -> tuple[object, ...]:
    counted = (d.reps, d.reps_open, d.per_set, d.cluster, d.left, d.right)
    return (*counted, d.hold_s, d.work_s, d.distance_m, d.contacts, d.sides)


def same_dose(dose: Dose, item: FittedItem) -> bool:
    """Is the printed amount the one of `dose`?"""
    if dose.per_set or dose.cluster:
        return dose.per_set == item.per_set
    reps = dose.reps
    if reps is None and not (dose.hold_s or dose.work_s or dose.distance_m or dose.contacts):
        reps = dose.rm
    held = None if reps is not None else dose.hold_s or dose.work_s
    amounts = (item.reps, item.hold_s, item.distance_m, item.contacts)
    return (reps, held, dose.distance_m, dose.contacts) == amounts and not item.per_set


def not_allowed(
    variant: Variant,
    item: FittedItem,
    week: FittedWeek,
    runner: Runner,
    library: Library,
    house: House,
    capacity: Capacity,
) -> Iterator[str]:
    """Why this runner may not do `item`, each reason once."""
    if missing := missing_kit(runner.kit, variant):
        yield f"needs {', '.join(missing)}"
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    if item.load is not None:
        made = load_choices(runner.kit, item.load.place, mass)
        if item.load not in made:
            what = f"{item.load.kg:g} kg" if item.load.band is None else f"a {item.load.band} band"
            yield f"{what} cannot be made of what is owned"
        if item.load.place not in (*variant.loading, *(("band",) if "band" in variant.kit else ())):
            yield f"takes no load at {item.load.place}"
    elif _pulled(variant) and load_choices(runner.kit, "band", mass):
        yield "does not say which band"
    asked = _asked(variant, item.load, mass)
    for limit in runner.limits:
        if limit.until is None or limit.until >= week.monday:
            example = library.variants.get(limit.ceiling_id or "")
            allowed = {} if example is None else _asked(example, None, mass)
            groups = REGION_GROUPS[limit.region]
            top = max([allowed[g] for g in groups if g in allowed], default=0.0)
            more = any(asked.get(g, 0) > max(LITTLE, allowed.get(g, top)) * 1.021 for g in groups)
            jolt = limit.region in IMPACT_REGIONS and variant.impact > (0 if example is None else example.impact)
            if more or jolt or (example is None and limit.region in variant.regions):
                yield f"breaks the limit {limit.text!r}"
    for sore in runner.sore:
        touched = {g: d for g, d in asked.items() if g in REGION_GROUPS[sore.region] and d > LITTLE}
        if (
            item.load is not None
            and item.load.kg > 0
            and variant.main is not None
            and variant.main.group in REGION_GROUPS[sore.region]
        ):
            yield f"loads a sore {sore.region}"
        if variant.impact and sore.region in IMPACT_REGIONS:
            yield f"lands on a sore {sore.region}"
        if sore.worst is not None and sore.worst > house.value("pain-stop"):
            if touched or sore.region in variant.regions:
                yield f"loads a {sore.region} at {sore.worst} of 10"
        else:
            if any(d / math.exp(capacity.mean_log[g]) > house.value("sore-share") + HAIR for g, d in touched.items()):
                yield f"asks too much of a sore {sore.region}"
            if touched and sore.region in variant.regions and (variant.end_range or variant.below_level):
                yield f"takes a sore {sore.region} to the end of its range"
    for wish in runner.wishes:
        if (wish.kind == "no impact" and variant.impact) or (
            wish.kind == "no variant" and wish.variant_id == variant.id
        ):
            yield f"against the note {wish.text!r}"
        if wish.kind == "no pattern" and wish.pattern == variant.pattern:
            yield f"against the note {wish.text!r}"
        if wish.kind in ("no kneeling", "no floor") and _down(variant, wish.kind == "no kneeling"):
            yield f"against the note {wish.text!r}"


def _pulled(variant: Variant) -> bool:
    """Is a band what the exercise is done against?"""
    return any(ask.main and "band" in ask.per_kg for ask in variant.asks)


def _down(variant: Variant, kneeling: bool) -> bool:
    on_floor = [c.at for c in variant.movement.contacts if c.on == "floor"] if variant.movement else []
    if kneeling:
        return "knee" in on_floor
    return "mat" in variant.kit or any(
        at in ("lying", "upper back", "elbow", "forearm", "knee", "hand") for at in on_floor
    )


def _asked(variant: Variant, load: LoadChoice | None, mass: float) -> dict[Group, float]:
    out = {}
    for ask in variant.asks:
        slope = 0.0
        if load is not None:
            slope = ask.per_kg[load.place] if load.place in ask.per_kg else max(ask.per_kg.values(), default=0.0)
        out[ask.group] = ask.base + (0.0 if load is None else slope * load.kg / mass)
    return out
