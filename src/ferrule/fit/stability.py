"""Holding a laid-out week to what was already given: past sessions as they were, every other change counted.

What the coach signed counts as the text: an option that is what the runner already has costs nothing at the level of the
coach's text, as long as the written line is untouched. The level after it counts the changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from ferrule.fit.build import Laid, LaidLine
from ferrule.fit.choices import Choice
from ferrule.fit.days import DAY, GAP_RULE, HOUR
from ferrule.fit.given import Given, base_key, same_load, untouched
from ferrule.fit.problem import BlockOfWeek, Line, Option, SessionOfWeek, Slot
from ferrule.model.fitted import FittedItem, FittedSession

PAST_RULE: Final = "days that are past stay as they were"
LOST_RULE: Final = "the day is lost"
DONE: Final = "done"
"""Id of the one option a line of a past session has."""
OTHER_DAY, OTHER_TIME, OTHER_VARIANT, OTHER_LOAD, LEFT_OUT, ADDED = 2, 1, 2, 1, 2, 1
"""Changes as the runner meets them: an evening for a morning, or other weight, is half of another day or exercise (ours)."""


def hold_to(laid: Laid, given: Given) -> Laid:
    """The same week, with `given` frozen where it is past and preferred elsewhere.

    A copy of another programme week (the anchor was moved since) holds nothing; its past days stay closed all the same.
    """
    if given.week.programme_week != laid.week.week or given.week.monday != laid.setting.monday:
        given = replace(given, week=replace(given.week, sessions=()))
    p, done = laid.problem, given.done()
    keys = [t.session.key for t in laid.times]
    closed = {t.base for t in laid.times} - {t.base for t in laid.times if t.session.key not in done}
    sessions = tuple(
        _past(s, done[k], laid.setting.monday)
        if k in done
        else _open(s, k, given, p.sessions, keys, laid.setting.monday)
        for s, k in zip(p.sessions, keys, strict=True)
    )
    taken = {x.day.weekday() for k, x in done.items() if k in keys and not p.sessions[keys.index(k)].track}
    blocks = tuple(
        replace(b, reductions=((0, 0),)) if b.session in closed else _block(n, laid, given)
        for n, b in enumerate(p.blocks)
    )
    lines = tuple(
        _closed(line, ln, laid, done) if line.session in closed else _line(line, ln, laid, given)
        for line, ln in zip(p.lines, laid.lines, strict=True)
    )
    free = tuple(d for d in p.free_days if d not in taken)
    problem = replace(p, sessions=sessions, blocks=blocks, lines=lines, free_days=free)
    return replace(laid, problem=problem, given=given)


def _past(session: SessionOfWeek, was: FittedSession, monday: date) -> SessionOfWeek:
    """One time, the one it had, on a track of its own: what is past is bound to nothing."""
    slot = Slot((was.day - monday).days, _at_min(was, monday), 0, 0, ())
    return replace(session, slots=(slot,), track=f"{DONE} {session.key}")


def _at_min(was: FittedSession, monday: date) -> int:
    start = 18 * HOUR if was.start is None else was.start.hour * HOUR + was.start.minute
    return (was.day - monday).days * DAY + start


def _open(
    session: SessionOfWeek, key: str, given: Given, sessions: tuple[SessionOfWeek, ...], keys: list[str], monday: date
) -> SessionOfWeek:
    done, place = given.done(), keys.index(key)
    beside = [
        (done[k], (s if n < place else session).gap_min)
        for n, (k, s) in enumerate(zip(keys, sessions, strict=True))
        if k in done and s.track == session.track
    ]
    was = given.still_open().get(key)
    slots = []
    for slot in session.slots:
        day = monday + timedelta(days=slot.day)
        blocked = list(slot.blocked)
        if day < given.open_from:
            blocked.append(PAST_RULE)
        if day in given.lost:
            blocked.append(LOST_RULE)
        if any(_near(slot, x, gap, monday) for x, gap in beside):
            blocked.append(GAP_RULE)
        slots.append(replace(slot, blocked=tuple(dict.fromkeys(blocked)), moved=_moved(slot, was, monday)))
    return replace(session, slots=tuple(slots))


def _near(slot: Slot, was: FittedSession, gap_min: int, monday: date) -> bool:
    """Nearer than the gap to a session that is past, before or after it in the text."""
    if gap_min >= DAY:
        return abs(slot.day - (was.day - monday).days) * DAY < gap_min
    return abs(slot.at_min - _at_min(was, monday)) < max(gap_min, 1)


def _moved(slot: Slot, was: FittedSession | None, monday: date) -> int:
    if was is None:
        return 0
    if slot.day != (was.day - monday).days:
        return OTHER_DAY
    return 0 if was.start is None or slot.at_min == _at_min(was, monday) else OTHER_TIME


def _block(n: int, laid: Laid, given: Given) -> BlockOfWeek:
    """The rounds the runner was given, where the text still offers as many."""
    block, own = laid.problem.blocks[n], laid.blocks[n]
    key = laid.week.sessions[block.session].key
    lines = {item.key for item in own.items}
    for session in given.still_open().values():
        for b in session.blocks if base_key(session.key) == key else ():
            if b.kind == own.kind and lines & {i.item_key for i in b.items} and b.rounds in laid.rounds[n]:
                return replace(block, given=laid.rounds[n].index(b.rounds))
    return block


def _closed(line: Line, ln: LaidLine, laid: Laid, done: Mapping[str, FittedSession]) -> Line:
    """One option that costs nothing: what was done keeps its group, for groups worked twice."""
    key = laid.week.sessions[ln.session].key
    items = [i for s in done.values() if base_key(s.key) == key for b in s.blocks for i in b.items]
    found = next((i for i in items if i.item_key == ln.item.key), None)
    variant = None if found is None else laid.setting.library.variants.get(found.variant_id)
    group = variant.main.group if variant is not None and variant.main is not None else None
    return replace(line, options=(Option(DONE, 0, 0, 0, 0, (0,), (0,), (), group),))


def _line(line: Line, ln: LaidLine, laid: Laid, given: Given) -> Line:
    key = laid.week.sessions[ln.session].key
    was = given.line(key, ln.item.key)
    if was is None:
        there = any(base_key(k) == key for k in given.still_open())
        options = tuple(replace(o, moved=ADDED) for o in line.options) if there else line.options
        return replace(line, options=options)
    if not untouched(ln.item, was):
        return line
    options = tuple(_option(o, c, was) for o, c in zip(line.options, ln.choices.choices, strict=True))
    return replace(line, options=options, moved=LEFT_OUT)


def _option(option: Option, choice: Choice, was: FittedItem) -> Option:
    if _variant_id(choice) != was.variant_id:
        return replace(option, moved=OTHER_VARIANT)
    if not same_load(choice.load, was.load):
        return replace(option, moved=OTHER_LOAD)
    return replace(option, text=0, new=False, moved=0)


def _variant_id(choice: Choice) -> str:
    return "" if choice.variant is None else choice.variant.id


def kept(laid: Laid, ln: LaidLine, choice: Choice) -> FittedItem | None:
    """The given line, where `choice` is what it was and the text is untouched: its reasons still hold."""
    if laid.given is None:
        return None
    was = laid.given.line(laid.week.sessions[ln.session].key, ln.item.key)
    if was is None or not untouched(ln.item, was):
        return None
    return was if _variant_id(choice) == was.variant_id and same_load(choice.load, was.load) else None
