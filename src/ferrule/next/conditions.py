"""Written conditions acted on: `when all reps for 2 sessions: add 1 rep`, `if pain above 4: ask`.

A condition is true by what was told, never by what was not: where it cannot be known the coach is asked, or nothing
follows. What it adds is added to what was sent last, so that it stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library, Variant
from ferrule.model.fact import PainTold
from ferrule.model.fitted import FittedItem, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Condition, Item, Named
from ferrule.model.quantity import Load, Range, number
from ferrule.model.squad import KitItem
from ferrule.model.words import Place
from ferrule.next.ruling import Key, Ruling
from ferrule.squad.loads import load_choices

EASY_MORE = 2
"""Repetitions in reserve above what was meant that count as easy (common practice, no source)."""
FINER_KG = 0.26
"""Nobody owns finer plates: a load within this of what was meant is it (as in the fit)."""
ASKS = ("ask", "stop and ask", "stop and get help")
EASES = {"easier": 0.95, "less": 0.9, "lighter": 0.9, "helper": 0.9}
"""Most of last week's demand after an action that eases (ours; a step down of load or the next easier exercise)."""


@dataclass(frozen=True, slots=True)
class LineLog:
    """What was told of one line: its sets by session, newest first, and pain told at it in the last week."""

    sent: FittedItem
    days: tuple[tuple[LoggedSet, ...], ...]
    pains: tuple[PainTold, ...] = ()


def log_of(
    key: Key, sent: FittedItem, sets: Sequence[LoggedSet], pains: Sequence[PainTold], since: date, monday: date
) -> LineLog:
    """The log of one line in the weeks of its cycle, which began on `since`."""
    own: dict[tuple[date, str], list[LoggedSet]] = {}
    for s in sets:
        if since <= s.day < monday and (s.session_key.split(" (")[0], s.item_key) == key and s.outcome != "not said":
            own.setdefault((s.day, s.session_key), []).append(s)
    days = tuple(tuple(own[k]) for k in sorted(own, reverse=True))
    hurt = tuple(
        p for p in pains
        if monday - timedelta(days=7) <= p.day < monday and (p.session_key.split(" (")[0], p.item_key) == key
    )  # fmt: skip
    return LineLog(sent, days, hurt)


def of_conditions(
    key: Key, item: Item, log: LineLog, library: Library, house: House, kit: Mapping[Place, Sequence[LoadChoice]],
) -> list[Ruling]:  # fmt: skip
    """What the written conditions of one line make of it; those that stop come before those that add."""
    lines = frozenset((key,))
    out: list[Ruling] = []
    for c in item.conditions:
        if not c.acts or (c.moment in ("at night", "on hopping")):
            continue
        true = holds(c, log, house)
        if true is None and c.action in ("add", "add load", "harder", "next band", "next level", "next cycle"):
            if c.when == "technique good" and log.days:
                out.append(Ruling("condition", f"`{c.text}`: how it looks is not in the record; ask", "ask", lines))
            continue
        if not true:
            continue
        said = f"`{c.text}`"
        if c.action in ("stop", *ASKS):
            move = "stop" if c.action == "stop" else "ask"
            out.append(Ruling("condition", said, move, lines, most=1.0, keep=True))  # type: ignore[arg-type]
        elif c.action in EASES:
            out.append(Ruling("condition", said, "back off", lines, most=EASES[c.action], keep=True))
        elif c.action in ("hold", "repeat the week", "restart"):
            out.append(Ruling("condition", said, "hold", lines, most=1.0, keep=True))
        elif c.action in ("next cycle", "next level", "start"):
            out.append(Ruling("condition", f"{said}: true; it is the coach's to do", "ask", lines))
        elif c.action != "go on":
            made = progressed(item, c, log.sent, library, kit)
            if made is not None:
                out.append(Ruling("condition", said, "progress", lines, item=made))
    return out


def holds(c: Condition, log: LineLog, house: House) -> bool | None:
    """Is it true by what was told? None where that cannot be known."""
    if c.when.startswith("pain") or c.when == "no pain":
        return _pain(c, log, house)
    rows = log.days[: c.sessions]
    if len(rows) < c.sessions:
        return None
    if c.when == "last rep fails":
        return rows[0][-1].outcome == "failed"
    most = log.sent.reps if log.sent.reps is not None else log.sent.hold_s
    if c.when == "easy":
        meant = 0.0 if log.sent.rir is None else log.sent.rir.high
        answers = [max((s.reserve.low for s in row if s.reserve is not None), default=None) for row in rows]
        return None if None in answers else all(a is not None and a >= meant + EASY_MORE for a in answers)
    if most is None:
        return None
    if c.when == "all reps":
        return all(_all(row, log.sent, most.high) for row in rows)
    if c.when == "reps over" and c.number is not None:
        return all(_all(row, log.sent, most.high + c.number.low) for row in rows)
    if c.when == "reps" and c.number is not None:
        return all(_all(row, log.sent, c.number.low) for row in rows)
    return None


def _all(row: Sequence[LoggedSet], sent: FittedItem, least: float) -> bool:
    """Was every set that was sent told with at least so many? A bare tap says at least what was asked; no set is missing,
    and none was failed or stopped short."""
    sides = 2 if sent.per_side and any(s.side != "both" for s in row) else 1
    enough = [
        s for s in row
        if (s.done if s.outcome == "counted" else s.asked if s.outcome == "tapped" else 0) is not None
        and float((s.done if s.outcome == "counted" else s.asked if s.outcome == "tapped" else 0) or 0) >= least
    ]  # fmt: skip
    return len(enough) == len(row) and len(row) >= sent.sets * sides


def _pain(c: Condition, log: LineLog, house: House) -> bool | None:
    during = max((p.worst for p in log.pains if p.worst is not None), default=None)
    morning = max((p.morning for p in log.pains if p.morning is not None), default=None)
    if c.when == "no pain":
        return None if len(log.days) < c.sessions else not log.pains
    if c.when == "pain gone by morning":
        return None if during is None else morning is not None and morning <= house.value("pain-settled")
    if c.when == "pain worse":
        if c.moment == "next morning":
            return during is not None and morning is not None and morning > during
        return None
    level = morning if c.moment == "next morning" else during
    if level is None or c.number is None:
        return None
    return level > c.number.high if c.when == "pain above" else level <= c.number.high


def progressed(
    item: Item, c: Condition, sent: FittedItem, library: Library, kit: Mapping[Place, Sequence[LoadChoice]]
) -> Item | None:
    """The line with what the condition adds to what was sent; None where that cannot be made."""
    if c.action == "add" and c.step is not None:
        amount = c.step.amount.low
        if c.step.unit == "reps" and sent.reps is not None:
            return _dosed(item, reps=_plus(sent.reps, amount))
        if c.step.unit == "s" and sent.hold_s is not None:
            name = "work_s" if sent.work else "hold_s"
            return _dosed(item, **{name: _plus(sent.hold_s, amount)})
        if c.step.unit == "sets" and item.dose.sets is not None:
            return _dosed(item, sets=Range.of(sent.sets + amount))
        kg = 0.0 if sent.load is None else sent.load.kg
        if c.step.unit == "kg":
            return _loaded(item, sent, kg + amount, kit, at_least=False)
        if c.step.unit == "%" and kg:
            return _loaded(item, sent, kg * (1 + amount / 100), kit, at_least=False)
        return None
    if c.action in ("add load", "next band"):
        return _loaded(item, sent, 0.0 if sent.load is None else sent.load.kg, kit, at_least=True)
    if c.action == "harder":
        harder = next_harder(library.variants.get(sent.variant_id), library)
        return None if harder is None else replace(item, exercise=Named(harder.name, harder.id), alternatives=())
    return None


def next_harder(variant: Variant | None, library: Library) -> Variant | None:
    """The next of the family that asks more of the same group, counted the same way, with no more impact."""
    if variant is None or variant.main is None:
        return None
    family = library.families.get(variant.family)
    every = [library.variants[v] for v in ([] if family is None else family.variant_ids) if v in library.variants]
    more = [
        v for v in every
        if v.main is not None and v.main.group == variant.main.group and v.dose_kind == variant.dose_kind
        and v.impact <= variant.impact and v.main.base > variant.main.base and v.sided == variant.sided
    ]  # fmt: skip
    return min(more, key=lambda v: (v.main.base if v.main else 0.0, v.rank, v.id), default=None)


def _plus(amount: Range, more: float) -> Range:
    return Range(amount.low + more, amount.high + more)


def _dosed(item: Item, **fields: object) -> Item:
    """The line, and its alternatives with the same dose, with these amounts."""
    new = replace(item.dose, **fields)  # type: ignore[arg-type]
    others = tuple(a if a.dose != item.dose else replace(a, dose=new) for a in item.alternatives)
    return replace(item, dose=new, alternatives=others)


def _loaded(
    item: Item, sent: FittedItem, kg: float, kit: Mapping[Place, Sequence[LoadChoice]], *, at_least: bool
) -> Item | None:
    """The line with the heaviest load of the kit up to `kg`, heavier than what was sent; at_least: the next above it."""
    place: Place | None = sent.load.place if sent.load is not None else next(iter(kit), None)
    was = 0.0 if sent.load is None else sent.load.kg
    heavier = [x for x in kit.get(place, ()) if x.kg > was + 1e-9] if place is not None else []
    if not at_least:
        heavier = [x for x in heavier if x.kg <= kg + FINER_KG][-1:]
    if not heavier:
        return None
    new = heavier[0]
    load = Load(band=new.band) if new.band is not None else Load(kg=Range.of(new.kg), place=new.place)
    return _dosed(item, load=load)


def carried(item: Item, before: Item | None, sent: FittedItem) -> Item | None:
    """The line with what conditions added in earlier weeks, where the text has not changed since; None where nothing was.

    before   what the text said of the line last week
    """
    same = before is not None and (before.dose, before.exercise) == (item.dose, item.exercise)
    if not same or not any(c.action in _ADDS for c in item.conditions):
        return None
    changes: dict[str, object] = {}
    if item.dose.reps is not None and sent.reps is not None and sent.reps.high > item.dose.reps.high:
        changes["reps"] = sent.reps
    if item.dose.hold_s is not None and sent.hold_s is not None and sent.hold_s.high > item.dose.hold_s.high:
        changes["hold_s"] = sent.hold_s
    if item.dose.sets is not None and sent.sets > item.dose.sets.high:
        changes["sets"] = Range.of(float(sent.sets))
    asked = None if item.dose.load is None else item.dose.load.total_kg
    if asked is not None and sent.load is not None and sent.load.band is None and sent.load.kg > asked.high + FINER_KG:
        changes["load"] = Load(kg=Range.of(sent.load.kg), place=sent.load.place)
    new = _dosed(item, **changes) if changes else item
    harder = any(c.action == "harder" for c in item.conditions) and isinstance(item.exercise, Named)
    if harder and isinstance(item.exercise, Named) and sent.written != item.exercise.text:
        new = replace(new, exercise=Named(sent.written, sent.variant_id), alternatives=())
    return None if new is item else new


_ADDS = ("add", "add load", "harder", "next band")


def kit_of(variant: Variant | None, kit: tuple[KitItem, ...], mass_kg: float) -> dict[Place, tuple[LoadChoice, ...]]:
    """Every load the kit makes at each place where the exercise takes one."""
    if variant is None:
        return {}
    return {place: load_choices(kit, place, mass_kg) for place in variant.loading}


def kg_words(load: LoadChoice | None) -> str:
    """`12 kg`, `thin band`, `no weight`."""
    if load is None:
        return "no weight"
    return f"{load.band} band" if load.band is not None else f"{number(load.kg)} kg"
