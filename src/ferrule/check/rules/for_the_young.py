"""The young: the programme says whom to ask."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.whom import ASKS, said_for
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    whom = said_for(course.programme, "young")
    if whom is not None and not ASKS["young"].search(course.said):
        what = f"`{whom[0]}` is said of those it is for, and not who stands in for them: a guardian's consent, and somebody who stands by"
        yield RULE.finding(
            what,
            "Write who has agreed and who stands by: `coach: guardians' consent asked; supervised by ...`.",
            whom[1],
        )


RULE = Rule(
    name="for-the-young",
    level="advice",
    says="A programme that says it is for runners under 18 says who stands in for them: a guardian's consent, and somebody who stands by.",
    why="Growth and joints are not those of adults; pain at the end of a bone is for somebody licensed to look at.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
