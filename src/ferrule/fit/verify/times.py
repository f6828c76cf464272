"""Days and hours, worked out with dates and datetimes."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta

from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS
from ferrule.programme.occurrences import Occurrence

USUAL = (time(7), time(18))
LENGTH_H = {"easy": 1.0, "key": 1.25, "long": 2.0, "race": 3.0}
HEAVY = ("calf straight", "calf bent", "knee and hip", "hinge", "bridge and knee flexion")
SLACK_H = 0.5
"""Sessions are laid out before their exact minutes are known; half an hour more or less is let pass."""


def check_times(
    week: FittedWeek,
    times: Mapping[str, Occurrence],
    runner: Runner,
    house: House,
    library: Library,
    past: frozenset[str] = frozenset(),
) -> tuple[Finding, ...]:
    """Possible days, order and gap of sessions, hours to runs, the day with neither. past: sessions that stay as given."""
    out = []
    for session in week.sessions:
        if session.key in past:
            continue
        if session.key not in times:
            out.append(refused("order", week, f"session {session.key} is not in the text"))
            continue
        if not week.monday <= session.day <= week.monday + timedelta(days=6):
            out.append(refused("day", week, f"session {session.key} on {session.day} is outside the week"))
        elif session.day.weekday() not in runner.days and not times[session.key].track:
            day = DAYS[session.day.weekday()]
            out.append(refused("day", week, f"session {session.key} is on {day}, not a possible day"))
        out += [
            refused("hours", week, f"session {session.key}: {why}")
            for why in _clashes(session, times[session.key], runner, house, library, week)
        ]
    known = [s for s in week.sessions if s.key in times]
    for track in {times[s.key].track for s in known}:
        mine = [s for s in known if times[s.key].track == track]
        ahead = [s.key for s in mine if s.key not in past]
        if ahead != [k for k in times if k in ahead]:
            out.append(refused("order", week, f"sessions {', '.join(s.key for s in mine)} are not in order"))
        for before, after in itertools.pairwise(mine):
            if before.key in past and after.key in past:
                continue
            gap_h = times[before.key].gap_h or house.value("session-gap-h")
            own, then = times[before.key].session.day, times[after.key].session.day
            if own is not None and then is not None:  # written for these days
                gap_h = min(gap_h, 24.0 * (then - own) if then > own else 8.0)
            if _apart_h(before, after, gap_h) < gap_h:
                out.append(
                    refused("gap", week, f"sessions on {before.day} and {after.day} are nearer than {gap_h:g} h")
                )
    days = [s.day for s in known if not times[s.key].track]
    run_days = {r.day for r in runner.runs}
    idle = 7 - len(run_days | {d.weekday() for d in days})
    want = min(int(house.value("rest-days-a-week")), 7 - len(run_days))
    said = any("neither a run nor a session" in r.text for s in week.sessions for r in s.reasons)
    if idle < want and not said:
        out.append(refused("rest-day", week, f"{idle} days with neither a run nor a session, {want} wanted"))
    return tuple(out)


def _apart_h(before: FittedSession, after: FittedSession, gap_h: float) -> float:
    """Hours between two sessions: whole days of 24 h for gaps of a day and more, else by the printed starts."""
    days = (after.day - before.day).days
    if gap_h >= 24 or before.start is None or after.start is None:
        return days * 24
    return days * 24 + after.start.hour - before.start.hour + (after.start.minute - before.start.minute) / 60


def _clashes(
    session: FittedSession, written: Occurrence, runner: Runner, house: House, library: Library, week: FittedWeek
) -> Iterator[str]:
    """What stands too near, at the printed time, or at both usual times when none is printed."""
    heavy = any(_works_legs(i.variant_id, library) for b in session.blocks if b.kind not in LIGHT for i in b.items)
    heavy = heavy and not written.track
    beside = ("easy", "key", "long") if written.track else ()
    joined = written.session.beside_run is not None
    for at in USUAL if session.start is None else (session.start,):
        begin = datetime.combine(session.day, at)
        end = begin + timedelta(minutes=session.minutes)
        for kind, start, known in runs_of(runner, week.monday):
            if kind not in beside:
                yield from _one(kind, start, known, begin, end, heavy, house, joined)


def _works_legs(variant_id: str, library: Library) -> bool:
    variant = library.variants.get(variant_id)
    return variant is not None and variant.main is not None and variant.main.group in HEAVY


def runs_of(runner: Runner, monday: date) -> Iterator[tuple[str, datetime, bool]]:
    """(kind, start, is its time told) of the runs of two weeks and of every race."""
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
    kind: str,
    start: datetime,
    known: bool,
    begin: datetime,
    end: datetime,
    heavy: bool,
    house: House,
    joined: bool = False,
) -> Iterator[str]:
    hours = (start - end).total_seconds() / 3600 + SLACK_H
    done = start + timedelta(hours=LENGTH_H[kind])
    same_day = start.date() == begin.date()
    after = known and begin >= done
    if kind == "race":
        if same_day or (hours - SLACK_H >= 0 and hours < (house.value("race-gap-h") if heavy else 24)):
            yield f"too near the race of {start.date()}"
        elif heavy and begin > start and (begin - done).total_seconds() / 3600 < house.value("race-recovery-h"):
            yield f"too soon after the race of {start.date()}"
    elif kind in ("key", "long") and heavy and same_day and not after:
        yield f"on the day of a {kind} run, not after it"
    elif (
        kind in ("key", "long") and heavy and not same_day and hours >= SLACK_H and hours < house.value("key-run-gap-h")
    ):
        yield f"{hours - SLACK_H:.0f} h before a {kind} run"
    elif same_day and known:
        least = house.value("same-day-run-gap-h") if heavy and not joined else 0.0
        apart = (begin - done).total_seconds() / 3600 if begin >= done else (start - end).total_seconds() / 3600
        if apart + SLACK_H < least:
            yield f"{apart:.1f} h from a run of that day"
