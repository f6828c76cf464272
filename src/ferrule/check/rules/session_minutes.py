"""A session fits the minutes it promises."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, minutes_of
from ferrule.check.rule import Hit, Rule, spread
from ferrule.model.finding import Span
from ferrule.model.programme import Session


def _find(course: Course) -> Iterator[Hit]:
    over = course.value("minutes-over")
    long: dict[Span, list[tuple[int, Session, float]]] = {}
    for week, session, lines in course.sessions():
        if session.minutes is None:
            continue
        takes = minutes_of(lines)
        if takes > session.minutes + over:
            long.setdefault(session.span, []).append((week, session, takes))
    for span, found in long.items():
        takes_text = spread(round(takes) for _, _, takes in found)
        for number, session, _ in found:
            what = f"session {session.key} takes about {takes_text} min; {session.minutes} are promised"
            yield Hit(number, span, what, "Take out a round or a line, or promise more minutes.")


RULE = Rule(
    name="session-minutes",
    level="advice",
    says="Sets, sides, rests, setting up and walking fit into the minutes that a session promises.",
    why="Runners plan their evening by it, and leave out the end of a session that runs over.",
    source="common practice, no source; how minutes are counted is said at the end of docs/rules.md",
    strength="common practice",
    thresholds=("minutes-over",),
    find=_find,
)
