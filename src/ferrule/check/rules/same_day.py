"""Two sessions written for one day can both be laid on it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.programme import Session
from ferrule.model.quantity import number
from ferrule.model.words import DAYS

_ONE_DAY_H = 12
"""Two sessions of one day, morning and evening, are less than this apart."""


def _days(session: Session) -> frozenset[int]:
    return frozenset(session.days) | (frozenset() if session.day is None else {session.day})


def _find(course: Course) -> Iterator[Hit]:
    for week in course.weeks:
        for first, second in combinations(week.sessions, 2):
            least = course.value("session-gap-h") if first.hours_apart is None else first.hours_apart
            both = sorted(_days(first) & _days(second))
            if not both or least < _ONE_DAY_H:
                continue
            day = DAYS[both[0] - 1]
            what = (
                f"sessions {first.key} and {second.key} are both written for {day}, and {number(least)} h are kept "
                "between sessions: one of them goes to another day, or has none"
            )
            fix = f"Write `6 h apart` in the head of session {first.key}, or make one session of the two."
            yield Hit(week.week, second.span, what, fix, (first.span,))


RULE = Rule(
    name="same-day",
    level="advice",
    says="Two sessions written for one day say how many hours are enough between them.",
    why="The fit keeps the house's hours between sessions, and a second session of the day loses its place by it.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("session-gap-h",),
    find=_find,
)
