"""Foot contacts in one session."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule, spread
from ferrule.model.finding import Span
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("contacts-a-session")
    many: dict[Span, list[tuple[int, str, float]]] = {}
    for week, session, lines in course.sessions():
        contacts = sum(line.contacts for line in lines)
        if contacts > most:
            many.setdefault(session.span, []).append((week, session.key, contacts))
    for span, found in many.items():
        told = spread(contacts for _, _, contacts in found)
        for week, key, _ in found:
            what = f"session {key} has {told} foot contacts; the house's most is {number(most)}"
            yield Hit(week, span, what, "Take out a round or some repetitions of the hops and jumps.")


RULE = Rule(
    name="contacts-a-session",
    level="advice",
    says="A session stays inside the house's number of foot contacts; one contact is one landing.",
    why="Landings load bone and tendon far above what the muscles notice on the day.",
    source="handbook plyometric chapter, 100 for beginners (seen, secondary)",
    strength="common practice",
    thresholds=("contacts-a-session",),
    find=_find,
)
