"""Hard sets in one session."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("sets-a-session")
    for week, session, lines in course.sessions():
        sets = sum(line.sets for line in lines if line.hard)
        if sets > most:
            what = f"session {session.key} has {number(sets)} hard sets; the house's most is {number(most)}"
            yield Hit(week, session.span, what, "Move a line to another session, or take out a round.")


RULE = Rule(
    name="sets-a-session",
    level="advice",
    says="A session stays inside the house's number of hard sets.",
    why="The last sets of a very long session are done badly or left out.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("sets-a-session",),
    find=_find,
)
