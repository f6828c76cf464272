"""What is printed is what the text says: names, rounds, rests, tempo, reserve, notes, ways out, hours to the next key run."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time, timedelta

from ferrule.fit.verify.corrected import DAY, FATIGUE, Asked, corrected_in
from ferrule.fit.verify.effort import demand_of
from ferrule.fit.verify.lines import as_taken, not_allowed, same_dose
from ferrule.fit.verify.refused import refused
from ferrule.fit.verify.times import runs_of
from ferrule.fit.verify.where import name_there, runner_there
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Block, Dose, Item, Named, ProgrammeWeek, Session
from ferrule.model.quantity import Range
from ferrule.model.squad import Capacity, Runner
from ferrule.programme.text import dose_text
from ferrule.squad.loads import pieces_for

LATEST = time(18)
HOURS_OFF, SHARE_OFF = 0.11, 1e-6
Z80 = 1.2816


def check_printed(
    week: FittedWeek, written: ProgrammeWeek, runner: Runner, library: Library, house: House, capacity: Capacity
) -> tuple[Finding, ...]:
    """Each session and line against the written one it claims to be."""
    out = []
    by_key = {s.key: s for s in written.sessions}
    for session in week.sessions:
        if session.key not in by_key:
            continue  # told by check_times
        there = runner_there(session, week, runner)
        said = [*_session(session, by_key[session.key], runner, week, library)]
        lines = {i.key: (i, b) for b in by_key[session.key].blocks for i in b.items}
        for block in session.blocks:
            for item in block.items:
                if item.item_key in lines:
                    line, own = lines[item.item_key]
                    said += _rounds(block, item, own, session)
                    said += _line(item, line, own, week, library, house)
                    said += _ways(item, week, there, library, house, capacity)
                    said += _spread(item, library, capacity, runner)
        out += [refused("printed", week, f"session {session.key}: {why}") for why in said]
    return tuple(out)


def _session(
    session: FittedSession, written: Session, runner: Runner, week: FittedWeek, library: Library
) -> Iterator[str]:
    if (session.name, session.notes) != (written.name, written.notes):
        yield "its name or notes are not the written ones"
    if not session.uid.startswith(f"{runner.id.lower().replace(' ', '-')}.") or not session.uid.endswith("@ferrule"):
        yield f"the calendar id {session.uid} is not this runner's"
    if session.leave_out != _leave_out(session):
        yield "what to leave out first is not the optional lines, else the last block"
    if session.where != name_there(session, runner):
        yield f"it says {session.where!r} and that day is trained at {name_there(session, runner)!r}"
    kit = runner_there(session, week, runner).kit
    items = [i for b in session.blocks for i in b.items]
    pieces = {p for i in items if i.load is not None for p in i.load.pieces}
    for item in (i for i in items if i.variant_id in library.variants):
        band = item.load is not None and item.load.band is not None  # the band it is done with is the load's
        needs = pieces_for(kit, library.variants[item.variant_id])
        pieces |= {w for w in needs if not (band and w.endswith("band"))}
    if pieces != set(session.fetch):
        yield f"what to fetch is not what is used: {', '.join(sorted(pieces ^ set(session.fetch)))}"
    hours = _hours_to_key(session, runner, week)
    if (hours is None) != (session.hours_to_key is None) or abs((hours or 0) - (session.hours_to_key or 0)) > HOURS_OFF:
        yield f"{session.hours_to_key} h to the next key run said, {hours} worked out again"


def _leave_out(session: FittedSession) -> tuple[str, ...]:
    optional = tuple(i.item_key for b in session.blocks for i in b.items if i.optional)
    work = [b for b in session.blocks if b.kind not in LIGHT]
    return optional or (tuple(i.item_key for i in work[-1].items) if len(work) > 1 else ())


def _hours_to_key(session: FittedSession, runner: Runner, week: FittedWeek) -> float | None:
    """Hours from the end, at the printed or else the latest time; 0 for a run of the day whose time is not told."""
    end = datetime.combine(session.day, session.start or LATEST) + timedelta(minutes=round(session.minutes))
    ahead = []
    for kind, start, known in runs_of(runner, week.monday):
        if kind != "easy":
            if not known and start.date() == end.date():
                return 0.0
            if start >= end and start < datetime.combine(week.monday + timedelta(days=14), time()):
                ahead.append((start - end).total_seconds() / 3600)
    return min(ahead, default=None)


def _rounds(block: FittedBlock, item: FittedItem, own: Block, session: FittedSession) -> Iterator[str]:
    if (block.kind, block.label, block.rest_s, block.between_s, block.notes) != (
        own.kind, own.label, own.rest_s, own.between_s, own.notes,
    ):  # fmt: skip
        yield f"{item.name}: its block is not the written one"
    least = int(own.sets.low) if own.sets else 1
    if own.sets is not None and block.rounds > own.sets.high:
        yield f"{item.name}: {block.rounds} rounds, {own.sets} written"
    if block.rounds < least and not any("instead of" in r.text for r in session.reasons):
        yield f"{item.name}: {block.rounds} rounds of {least} without a reason"
    if not item.per_set and (own.kind != "straight" or _own_sets(own, item) is None) and item.sets != block.rounds:
        yield f"{item.name}: {item.sets} sets in {block.rounds} rounds"
    most = _own_sets(own, item)
    if own.kind == "straight" and most is not None and not 1 <= item.sets <= most:
        yield f"{item.name}: {item.sets} sets, {most} written"


def _own_sets(own: Block, item: FittedItem) -> int | None:
    line = next(i for i in own.items if i.key == item.item_key)
    if line.dose.per_set:
        return len(line.dose.per_set)
    return int(line.dose.sets.high) if line.dose.sets else None


def _line(item: FittedItem, line: Item, own: Block, week: FittedWeek, library: Library, house: House) -> Iterator[str]:
    variant = library.variants.get(item.variant_id)
    if item.variant_id and variant is None:
        yield f"{item.variant_id} is no exercise of the library"
    texts = {i.exercise.text for i in (line, *line.alternatives) if isinstance(i.exercise, Named)}
    if item.name not in ({variant.name} if variant is not None else texts):
        yield f"{item.name} is the name of another exercise than {item.variant_id}"
    if item.written != _written(line) or item.line != " / ".join(
        f"{_short(i)}: {dose_text(i.dose)}" for i in (line, *line.alternatives)
    ):
        yield f"{item.written!r} is not the written line"
    if item.optional != line.optional:
        yield f"{item.name}: optional or not is not as written"
    if item.notes[: len(line.notes)] != line.notes or len(item.notes) != len(line.notes) + len(line.conditions):
        yield f"{item.name}: its notes are not the written ones"
    taken = [as_taken(own, line, variant) for own in (line, *line.alternatives)]
    doses = [d for d in taken if same_dose(d, item)]
    sided = variant is not None and variant.sided
    if doses and not any(_as_said(item, d, week, sided, house) for d in doses):
        yield f"{item.name}: side, reserve, tempo, pause or rest is not the written one"
    if item.ask_effort and (item.prediction is None or own.kind in LIGHT):
        yield f"{item.name}: asks for an effort where none is meant"


def _short(line: Item) -> str:
    if isinstance(line.exercise, Named):
        return line.exercise.text
    return f"any {line.exercise.pattern} {line.exercise.legs or ''}".strip()


def _written(line: Item) -> str:
    if isinstance(line.exercise, Named):
        return line.exercise.text
    legs = {None: "", 1: ", one leg", 2: ", two legs"}[line.exercise.legs]
    return f"any {line.exercise.pattern}{legs}"


def _as_said(item: FittedItem, dose: Dose, week: FittedWeek, sided: bool, house: House) -> bool:
    rir = dose.rir
    if rir is not None and week.finding_week and item.prediction is not None:
        more = house.value("finding-margin-rir")
        rir = Range(rir.low + more, rir.high + more)
    each = dose.sides == "each" or (dose.sides is None and sided)
    pair = None if dose.left is None and dose.right is None else (dose.left or 0, dose.right or 0)
    return (
        item.rir, item.tempo, item.rest_s, item.open_reps, item.per_side, item.alternating, item.left_right,
        item.pause_s, item.side_rest_s,
    ) == (
        rir, dose.tempo, dose.rest_s, dose.reps_open, each, dose.sides == "alternating", pair,
        _middle(dose.pause_s), _middle(dose.side_rest_s),
    )  # fmt: skip


def _middle(value: Range | None) -> float | None:
    return None if value is None else (value.low + value.high) / 2


def _ways(
    item: FittedItem, week: FittedWeek, runner: Runner, library: Library, house: House, capacity: Capacity
) -> Iterator[str]:
    """The two printed ways out: allowed for this runner, and on the right side of the line."""
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    group, now = demand_of(item.variant_id, item.load, library, mass)
    for way, harder in ((item.too_hard, False), (item.too_easy, True)):
        if way is None:
            continue
        other = replace(item, variant_id=way.variant_id, load=way.load)
        if way.variant_id not in library.variants:
            yield f"{item.name}: the way out {way.name} is not in the library"
            continue
        for why in not_allowed(library.variants[way.variant_id], other, week, runner, library, house, capacity):
            yield f"{item.name}: the way out {way.name} {why}"
        same, its = demand_of(way.variant_id, way.load, library, mass)
        if group is not None and (same != group or (its > now) != harder):
            yield f"{item.name}: the way out {way.name} is not {'harder' if harder else 'easier'}"


def _spread(item: FittedItem, library: Library, capacity: Capacity, runner: Runner) -> Iterator[str]:
    """The two ends of the printed share: 1.2816 SD to either side on the log axis."""
    said = item.prediction
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    group, demand = demand_of(item.variant_id, item.load, library, mass)
    if said is None or group is None:
        return
    asked = Asked(item.variant_id, group, demand, item.hold_s is not None, item.load is not None)
    mean, spread = corrected_in(asked, library, capacity)
    sd = math.hypot(spread, DAY)
    share = demand * math.exp(FATIGUE * (item.sets - 1)) / math.exp(mean)
    ends = (share * math.exp(-Z80 * sd), share * math.exp(Z80 * sd))
    if max(abs(ends[0] - said.share_low), abs(ends[1] - said.share_high)) > SHARE_OFF * max(1.0, ends[1]):
        yield f"{item.name}: the ends of its share are not those of the belief"
