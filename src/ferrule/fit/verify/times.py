"""Days and hours, worked out with dates and datetimes."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import ProgrammeWeek
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS

USUAL = (time(7), time(18))
LENGTH_H = {"easy": 1.0, "key": 1.25, "long": 2.0, "race": 3.0}
HEAVY = ("calf straight", "calf bent", "knee and hip", "hinge", "bridge and knee flexion")
SLACK_H = 0.5
"""Sessions are laid out before their exact minutes are known; half an hour more or less is let pass."""


def check_times(
    week: FittedWeek, written: ProgrammeWeek, runner: Runner, house: House, library: Library
) -> tuple[Finding, ...]:
    """Possible days, order and gap of sessions, hours to runs, and the day with neither."""
    out = []
    days = [s.day for s in week.sessions]
    for session in week.sessions:
        if not week.monday <= session.day <= week.monday + timedelta(days=6):
            out.append(refused("day", week, f"session {session.key} on {session.day} is outside the week"))
        elif session.day.weekday() not in runner.days:
            out.append(
                refused("day", week, f"session {session.key} is on {DAYS[session.day.weekday()]}, not a possible day")
            )
        out += [
            refused("hours", week, f"session {session.key}: {why}")
            for why in _clashes(session, runner, house, library, week)
        ]
    keys = [s.key for s in week.sessions]
    order = [s.key for s in written.sessions if s.key in keys]
    if keys != order:
        out.append(refused("order", week, f"sessions {', '.join(keys)} are not in the order of the text"))
    gap_h = house.value("session-gap-h")
    for before, after in itertools.pairwise(days):
        if (after - before).days * 24 < gap_h:
            out.append(refused("gap", week, f"sessions on {before} and {after} are nearer than {gap_h:g} h"))
    run_days = {r.day for r in runner.runs}
    idle = 7 - len(run_days | {d.weekday() for d in days})
    want = min(int(house.value("rest-days-a-week")), 7 - len(run_days))
    said = any("neither a run nor a session" in r.text for s in week.sessions for r in s.reasons)
    if idle < want and not said:
        out.append(refused("rest-day", week, f"{idle} days with neither a run nor a session, {want} wanted"))
    return tuple(out)


def _clashes(session: FittedSession, runner: Runner, house: House, library: Library, week: FittedWeek) -> Iterator[str]:
    """What stands too near, at the printed time, or at both usual times when none is printed."""
    heavy = any(_works_legs(i.variant_id, library) for b in session.blocks if b.kind != "warm-up" for i in b.items)
    for at in USUAL if session.start is None else (session.start,):
        begin = datetime.combine(session.day, at)
        end = begin + timedelta(minutes=session.minutes)
        for kind, start, known in _runs(runner, week.monday):
            yield from _one(kind, start, known, begin, end, heavy, house)


def _works_legs(variant_id: str, library: Library) -> bool:
    variant = library.variants.get(variant_id)
    return variant is not None and variant.main is not None and variant.main.group in HEAVY


def _runs(runner: Runner, monday: date) -> Iterator[tuple[str, datetime, bool]]:
    races = set(runner.races)
    if runner.anchor is not None and runner.anchor.kind == "to race":
        races.add(runner.anchor.day)
    for race in races:
        yield "race", datetime.combine(race, time(9)), True
    for weeks in (0, 1):
        for run in runner.runs:
            day = monday + timedelta(days=run.day + 7 * weeks)
            if day not in races:
                yield run.kind, datetime.combine(day, run.start or time(7)), run.start is not None


def _one(
    kind: str, start: datetime, known: bool, begin: datetime, end: datetime, heavy: bool, house: House
) -> Iterator[str]:
    hours = (start - end).total_seconds() / 3600 + SLACK_H
    done = start + timedelta(hours=LENGTH_H[kind])
    same_day = start.date() == begin.date()
    after = known and begin >= done
    if kind == "race":
        if same_day or (hours - SLACK_H >= 0 and hours < (house.value("race-gap-h") if heavy else 24)):
            yield f"too near the race of {start.date()}"
    elif kind in ("key", "long") and heavy and same_day and not after:
        yield f"on the day of a {kind} run, not after it"
    elif (
        kind in ("key", "long") and heavy and not same_day and hours >= SLACK_H and hours < house.value("key-run-gap-h")
    ):
        yield f"{hours - SLACK_H:.0f} h before a {kind} run"
    elif same_day and known:
        least = house.value("same-day-run-gap-h") if heavy else 0.0
        apart = (begin - done).total_seconds() / 3600 if begin >= done else (start - end).total_seconds() / 3600
        if apart + SLACK_H < least:
            yield f"{apart:.1f} h from a run of that day"
