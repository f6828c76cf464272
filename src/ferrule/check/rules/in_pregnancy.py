"""Pregnancy, and after birth: the programme says whom to ask."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.whom import ASKS, said_for
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    whom = said_for(course.programme, "pregnant")
    if whom is not None and not ASKS["pregnant"].search(course.said):
        what = f"`{whom[0]}` is said of those it is for, and not whom to ask first"
        yield RULE.finding(
            what, "Write that it is done with the word of a midwife or doctor, and when to stop.", whom[1]
        )


RULE = Rule(
    name="in-pregnancy",
    level="advice",
    says="A programme that says it is for runners during pregnancy or after birth says whom to ask first.",
    why="What is right changes from week to week and from person to person, and is for a midwife or doctor to say.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
