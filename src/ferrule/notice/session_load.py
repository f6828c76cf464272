"""Session load: rating x minutes, with its sum over a week and what it cannot say.

Source: Foster 1998/2001, rating of the whole session 0-10 times its minutes (seen: 5 x 60 = 300). The number depends on
the words beside the scale, so it compares a runner only with themselves, under the same question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.model.fact import SessionTold
from ferrule.model.quantity import number
from ferrule.squad.place import monday_of

LIMIT = "it says little about short strength sessions, where rest counts like work"


@dataclass(frozen=True, slots=True)
class WeekLoad:
    """load: sum of rating x minutes over the `counted` sessions of the week that told both; told: sessions done at all."""

    monday: date
    load: float
    counted: int
    told: int


def load_of(session: SessionTold) -> float | None:
    """Rating x minutes; 0 when nothing was done; None when either was not told."""
    if session.outcome == "none":
        return 0.0
    if session.rating is None or session.minutes is None:
        return None
    return session.rating * session.minutes


def week_load(sessions: Iterable[SessionTold], monday: date) -> WeekLoad:
    """The sum over the calendar week of `monday`. What was not told is left out and counted, never guessed."""
    first = monday_of(monday)
    done = [s for s in sessions if first <= s.day < first + timedelta(days=7) and s.outcome != "none"]
    loads = [load for s in done if (load := load_of(s)) is not None]
    return WeekLoad(first, sum(loads), len(loads), len(done))


def load_words(week: WeekLoad) -> str:
    """One line: the sum, what it is made of, and what it cannot say."""
    head = f"week of {week.monday.isoformat()}: session load"
    if not week.counted:
        return f"{head} not known; {week.told} sessions told, none with rating and minutes"
    of = "" if week.counted == week.told else f" of {week.told}"
    return f"{head} {number(week.load)} (rating x minutes, {week.counted}{of} sessions); {LIMIT}"
