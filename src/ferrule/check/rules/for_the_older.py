"""Older runners: the programme says whom to ask."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.whom import ASKS, said_for
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    whom = said_for(course.programme, "older")
    if whom is not None and not ASKS["older"].search(course.said):
        what = f"`{whom[0]}` is said of those it is for, and not whom to ask first"
        yield RULE.finding(
            what,
            "Write whom they ask first and what they hold on to: `Ask your doctor before you begin; a chair stands within reach`.",
            whom[1],
        )


RULE = Rule(
    name="for-the-older",
    level="advice",
    says="A programme that says it is for runners over 60 says whom to ask first.",
    why="Blood pressure, balance and bones differ more from person to person than in the young.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
