"""A session fits the minutes it promises."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.minutes import written_minutes
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    over = course.value("minutes-over")
    for week in course.weeks:
        for session in week.sessions:
            if session.minutes is None:
                continue
            takes = written_minutes(session, course.library)
            if takes > session.minutes + over:
                what = f"session {session.key} takes about {number(round(takes))} min; {session.minutes} are promised"
                yield Hit(week.week, session.span, what, "Take out a round or a line, or promise more minutes.")


RULE = Rule(
    name="session-minutes",
    level="advice",
    says="Sets, sides, rests, setting up and walking fit into the minutes that a session promises.",
    why="Runners plan their evening by it, and leave out the end of a session that runs over.",
    source="common practice, no source (our arithmetic: see the timing in the guide)",
    strength="common practice",
    thresholds=("minutes-over",),
    find=_find,
)
