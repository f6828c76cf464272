"""Days between leg sessions, where the programme names days."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    least = course.value("session-gap-h")
    for week in course.weeks:
        on_days = [
            (session.day, session)
            for session in week.sessions
            if session.day is not None
            and any((x.hard_leg) or x.impact >= 2 for x in course.by_session[week.week, session.key])
        ]
        on_days.sort(key=lambda pair: pair[0])
        for n, (day, session) in enumerate(on_days[1:] + on_days[:1]):
            before_day, before = on_days[n]
            gap = (day - before_day) % 7 or 7
            if len(on_days) > 1 and gap * 24 < least:
                what = f"sessions {before.key} (day {before_day}) and {session.key} (day {day}) load the legs {gap * 24} h apart"
                yield Hit(
                    week.week, session.span, what, f"Leave at least {number(least)} h between them.", (before.span,)
                )


RULE = Rule(
    name="session-gap",
    level="advice",
    says="Where days are written, sessions that load the legs are not on neighbouring days.",
    why="Legs recover between sessions, and landings want two days.",
    source="non-consecutive days: WHO 2020, ACSM 2026 (seen); 48 h between jump sessions: handbook (seen, secondary)",
    strength="moderate",
    thresholds=("session-gap-h",),
    find=_find,
)
