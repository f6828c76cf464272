"""Return from injury: the programme says whom to ask."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.whom import ASKS, said_for
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    whom = said_for(course.programme, "injured")
    if whom is not None and not ASKS["injured"].search(course.said):
        what = f"`{whom[0]}` is said of those it is for, and not whom to ask first"
        yield RULE.finding(
            what,
            "Write who cleared them and whom they ask: `Begin when your physiotherapist or doctor agrees`.",
            whom[1],
        )


RULE = Rule(
    name="after-injury",
    level="advice",
    says="A programme that says it is for runners after an injury or with a complaint says whom to ask first.",
    why="This is training of people cleared to train; what is hurt, and what it bears, is for somebody licensed to say.",
    source="common practice, no source; clearance where there are symptoms: Riebe 2015 (from memory)",
    strength="common practice",
    thresholds=(),
    find=_find,
)
