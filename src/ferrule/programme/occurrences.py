"""How often each session of a week is done: three times, every day, twice a day, or in turn."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ferrule.model.programme import Cycle, Programme, ProgrammeWeek, Session

SPREAD_OUT = 3
"""A session written more often than this is not spread out by hours between strength sessions: the coach's text rules."""
TWICE_A_DAY_H = 8
"""Least hours between two times on one day when none are written (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One time a session is done in the week.

    session   the session with a key of its own: "1", or "1 (2 of 3)"
    base      index of the written session in the week;  number, of: 2 of 3
    track     "" for sessions that are spread out together, else the key of a session that is done so often that only
              its own times matter;  gap_h: least hours between two times of that track, None for the house's
    optional  beyond the least the coach wrote ("2-3 a week": the third)
    """

    session: Session
    base: int
    number: int
    of: int
    track: str
    gap_h: float | None
    optional: bool


def occurrences(programme: Programme, week: ProgrammeWeek) -> tuple[Occurrence, ...]:
    """Every time of the week, sessions in turn, in the order they are done.

    A session's own words rule (`3 a week`, `every second day`, `twice a day`, days named); without any, the cycle's or
    the programme's number of sessions a week repeats the written ones in turn when it is larger than their number.
    """
    cycle = next((c for c in programme.cycles if c.key == week.cycle_key), None)
    often = [_often(s) for s in week.sessions]
    if week.sessions and all(f == (1, 1) and not _said(s) for f, s in zip(often, week.sessions, strict=True)):
        often = _in_turn(programme, cycle, len(week.sessions))
    out = []
    for turn in range(max((high for _, high in often), default=0)):
        for base, session in enumerate(week.sessions):
            low, high = often[base]
            if turn < high:
                key = session.key if high == 1 else f"{session.key} ({turn + 1} of {high})"
                frequent = high > SPREAD_OUT
                gap = _gap_h(session, high) if frequent else session.hours_apart
                one = replace(session, key=key, day=_day(session, turn))
                out.append(Occurrence(one, base, turn + 1, high, session.key if frequent else "", gap, turn >= low))
    return tuple(out)


def _said(session: Session) -> bool:
    written_day = session.day is not None or bool(session.days)
    return session.times_a_week is not None or session.every_days is not None or written_day


def _often(session: Session) -> tuple[int, int]:
    """(least, most) times a week by the session's own words."""
    times = 2 if session.twice_a_day else 1
    if session.times_a_week is not None:
        low, high = int(session.times_a_week.low), int(session.times_a_week.high)
        return (max(low, 0), max(low, 1)) if session.at_least else (low, max(high, 1))
    if session.every_days is not None:
        count = times * math.ceil(7 / max(session.every_days, 1))
        return count, count
    if session.days:
        return times * len(session.days), times * len(session.days)
    return (14, 14) if session.twice_a_day and session.day is None else (times, times)


def _in_turn(programme: Programme, cycle: Cycle | None, written: int) -> list[tuple[int, int]]:
    stated = cycle.times_a_week if cycle is not None and cycle.times_a_week is not None else programme.sessions_per_week
    if stated is None or stated.high <= written:
        return [(1, 1)] * written
    low, high = int(stated.low), min(int(stated.high), 14)
    return [(_share(low, written, n), _share(high, written, n)) for n in range(written)]


def _share(total: int, written: int, n: int) -> int:
    """Times of the n-th of `written` sessions when `total` are taken in turn."""
    return max(1, total // written + (1 if n < total % written else 0))


def _gap_h(session: Session, count: int) -> float:
    if session.hours_apart is not None:
        return float(session.hours_apart)
    return float(TWICE_A_DAY_H) if count > 7 else 24.0


def _day(session: Session, turn: int) -> int | None:
    """The written weekday of that time, Monday 1."""
    if not session.days:
        return session.day
    per_day = 2 if session.twice_a_day else 1
    place = turn // per_day
    return session.days[place] if place < len(session.days) else None
