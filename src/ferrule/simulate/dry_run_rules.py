"""What must hold in every simulated week whatever the proposals do, worked out again from plain weeks and entries.

Nothing here is taken from `ferrule.next` or the fit: the steps, the pain and the lines are read anew, so that a fault there
does not hide itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.fit.growth import base_key
from ferrule.model.exercise import Library, Variant
from ferrule.model.fact import Entry, PainTold
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Item, Named, Programme
from ferrule.model.squad import Runner
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Region
from ferrule.programme.weeks import week_of
from ferrule.squad.loads import load_choices
from ferrule.squad.sites import sites_of

HAIR = 1e-6
FELT = 1.05
"""From no load, a step goes to the lightest load that adds a twentieth to the demand (docs/next.md)."""
Key = tuple[str, str]
WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Broken:
    """One rule that did not hold. rule: `raised after pain`, `stopped region loaded`, `jump`, `contacts` or `novelty`."""

    rule: str
    runner_id: str
    week: int
    where: str
    what: str


def broken_rules(
    programme: Programme, runner: Runner, library: Library, house: House, now: FittedWeek, last: FittedWeek | None,
    entries: Iterable[Entry], week: int,
) -> tuple[Broken, ...]:  # fmt: skip
    """Every rule that the week `now` breaks. last: as sent before; entries: told before its Monday, in any order."""
    own = written_lines(programme, now)
    pains = [e.fact for e in entries if isinstance(e.fact, PainTold) and e.fact.day < now.monday]
    found = [
        *_pain(now, last, pains, library, house, runner),
        *_jumps(now, last, own, runner, library, house),
        *_contacts(now, library, house),
        *_novelty(now, last, own, house),
    ]
    return tuple(Broken(rule, runner.id, week, where, what) for rule, where, what in found)


def written_lines(programme: Programme, week: FittedWeek) -> dict[Key, Item]:
    """The lines of the week as the coach wrote them."""
    text = week_of(programme, week.programme_week)
    return {} if text is None else {(s.key, i.key): i for s in text.sessions for b in s.blocks for i in b.items}


def of_text(item: Item | None, now: FittedItem) -> bool:
    """Is this what the coach wrote: the exercise or an `- or` line, and the load where there is one?"""
    if item is None:
        return False
    for line in (item, *item.alternatives):
        if isinstance(line.exercise, Named) and line.exercise.variant_id == now.variant_id:
            return now.load is None or line.dose.load is not None or line.dose.loads is not None
    return False


def _work(week: FittedWeek) -> Iterator[tuple[FittedSession, FittedItem]]:
    for session in week.sessions:
        for block in session.blocks:
            for item in block.items if block.kind not in LIGHT else ():
                yield session, item


def _heaviest(week: FittedWeek | None) -> dict[Key, FittedItem]:
    out: dict[Key, FittedItem] = {}
    for session, item in () if week is None else _work(week):
        key = (base_key(session.key), item.item_key)
        if key not in out or _kg(item) > _kg(out[key]):
            out[key] = item
    return out


def _kg(item: FittedItem) -> float:
    return 0.0 if item.load is None else item.load.kg


def _demand(item: FittedItem, library: Library, mass: float) -> tuple[str, float] | None:
    variant = library.variants.get(item.variant_id)
    if variant is None or variant.main is None:
        return None
    return variant.main.group, variant.main.demand(_kg(item), None if item.load is None else item.load.place, mass)


def _mass(runner: Runner) -> float:
    return 65.0 if runner.mass_kg is None else runner.mass_kg


def _pain(
    now: FittedWeek, last: FittedWeek | None, pains: list[PainTold], library: Library, house: House, runner: Runner
) -> Iterator[tuple[str, str, str]]:
    """Of a region whose pain rose, did not settle or was above the threshold: nothing on it asks more than last week.
    Above the threshold, or with a red flag of the last week: nothing on it at all."""
    before = _heaviest(last) if last is not None and last.cycle_name == now.cycle_name else {}
    for region in sorted({p.region for p in pains if p.region is not None}):
        bad, stopped = bad_pain([p for p in pains if p.region == region], now.monday, house)
        if not bad:
            continue
        for session, item in _work(now):
            variant = library.variants.get(item.variant_id)
            where = f"{session.key}/{item.item_key} {item.name}"
            if variant is None or not _on(variant, region):
                continue
            if stopped:
                yield "stopped region loaded", where, f"{region} was to be left alone"
            was = before.get((base_key(session.key), item.item_key))
            a = None if was is None else _demand(was, library, _mass(runner))
            b = _demand(item, library, _mass(runner))
            if a and b and a[0] == b[0] and b[1] > a[1] * (1 + HAIR):
                yield "raised after pain", where, f"{region}: demand {b[1]:.3f} after {a[1]:.3f}"


def bad_pain(pains: list[PainTold], monday: date, house: House) -> tuple[bool, bool]:
    """(rose, did not settle or was too much in the week before `monday`; too much, rising or flagged: leave it alone)."""
    most, settled, rise = house.value("pain-stop"), house.value("pain-settled"), house.value("pain-rise")
    bad = stopped = False
    for side in ("left", "right", "both"):
        week = [p for p in pains if p.side == side and monday - WEEK <= p.day < monday]
        earlier = [p for p in pains if p.side == side and monday - 4 * WEEK <= p.day < monday - WEEK]
        if not week:
            continue
        worst = max((p.worst or 0) for p in week)
        morning = max((p.morning or 0) for p in week)
        was = max(((p.worst or 0) for p in earlier), default=0)
        rose = was > 0 and worst - was >= rise
        over = max(worst, morning) > most or any(p.flags for p in week)
        bad = bad or rose or over or morning > settled
        stopped = stopped or rose or over
    return bad, stopped


def _on(variant: Variant, region: Region) -> bool:
    """Does it load the region: by its main group, or by landing?"""
    main = variant.main
    return (main is not None and main.group in REGION_GROUPS[region]) or (
        variant.impact > 0 and region in IMPACT_REGIONS
    )


def _jumps(
    now: FittedWeek, last: FittedWeek | None, own: dict[Key, Item], runner: Runner, library: Library, house: House
) -> Iterator[tuple[str, str, str]]:
    """What we choose asks one step more than last week at most: the house's share, or the next load there is."""
    if last is None or last.cycle_name != now.cycle_name:
        return
    before = _heaviest(last)
    for session, item in _work(now):
        key = (base_key(session.key), item.item_key)
        was = before.get(key)
        if was is None or of_text(own.get(key), item):
            continue
        a, b = _demand(was, library, _mass(runner)), _demand(item, library, _mass(runner))
        if a is None or b is None or a[0] != b[0]:
            continue
        most = max_step(was, runner, library, house)
        if b[1] > most * (1 + HAIR):
            yield (
                "jump",
                f"{session.key}/{item.item_key} {item.name}",
                f"demand {b[1]:.3f} after {a[1]:.3f}, a step goes to {most:.3f}",
            )


def max_step(was: FittedItem, runner: Runner, library: Library, house: House) -> float:
    """Most demand a step above `was`, by the rule of docs/next.md, at any of the runner's sites."""
    main = library.variants[was.variant_id].main
    assert main is not None  # it has a demand
    share, mass, kg = 1 + house.value("load-step-percent") / 100, _mass(runner), _kg(was)
    place = None if was.load is None else was.load.place
    own = main.demand(kg, place, mass)
    found = []
    for site in sites_of(runner):
        places = library.variants[was.variant_id].loading if place is None else (place,)
        steps = []
        for p in places:
            every = [main.demand(x.kg, p, mass) for x in load_choices(site.kit, p, runner.mass_kg) if x.kg > kg + HAIR]
            steps += [d for d in every if place is not None or d >= FELT * own - HAIR]
        if steps:
            found.append(min(steps))
    more = own if place is None else main.demand(kg * share, place, mass)
    return max([more, *(found or [own * share])])


def _contacts(now: FittedWeek, library: Library, house: House) -> Iterator[tuple[str, str, str]]:
    for session in now.sessions:
        many = foot_contacts(session, library)
        if many > house.value("contacts-a-session"):
            yield "contacts", session.key, f"{many} foot contacts in a session"


def foot_contacts(session: FittedSession, library: Library) -> int:
    """Foot contacts of a session, both sides, at the top of each range."""
    many = 0.0
    for block in session.blocks:
        for item in block.items:
            variant = library.variants.get(item.variant_id)
            amount = item.contacts or item.reps
            if variant is None or not variant.contacts_per_rep or amount is None:
                continue
            each = 1 if item.contacts is not None else variant.contacts_per_rep
            many += item.sets * amount.high * each * (2 if item.per_side else 1)
    return round(many)


def _novelty(
    now: FittedWeek, last: FittedWeek | None, own: dict[Key, Item], house: House
) -> Iterator[tuple[str, str, str]]:
    """Exercises of our choosing that were not in last week's copy."""
    if last is None:
        return
    known = {i.variant_id for s in last.sessions for b in s.blocks for i in b.items}
    new = [
        i.name
        for s, i in _work(now)
        if i.variant_id not in known and not of_text(own.get((base_key(s.key), i.item_key)), i)
    ]
    if len(new) > house.value("new-exercises-a-week"):
        yield "novelty", "", f"{len(new)} exercises not done last week: {', '.join(new)}"
