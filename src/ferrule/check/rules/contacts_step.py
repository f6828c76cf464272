"""Foot contacts rise in small steps."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    step = course.value("contacts-step")
    few = course.value("contacts-a-session") / 2
    most: dict[int, float] = {}
    for week, session, lines in course.sessions():
        contacts = sum(line.contacts for line in lines)
        before = max((most.get(week - 1, 0.0), most.get(week - 2, 0.0)))
        if before and contacts > max(before + step, few):
            what = f"session {session.key} has {number(contacts)} foot contacts after at most {number(before)} before"
            yield Hit(week, session.span, what, f"Rise by at most {number(step)} a session from week to week.")
        most[week] = max(most.get(week, 0.0), contacts)


RULE = Rule(
    name="contacts-step",
    level="advice",
    says="From one week to the next the contacts of a session rise by no more than one step, once they are half of the house's most.",
    why="Bone and tendon adapt more slowly than muscle.",
    source="derived from the steps between the handbook's levels (from memory)",
    strength="common practice",
    thresholds=("contacts-step", "contacts-a-session"),
    find=_find,
)
