"""A programme for one or two parts of the body."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule, joined
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    if course.lines and course.narrow:
        worked = f"works {joined(course.worked)} hard and nothing else" if course.worked else "has no hard sets"
        what = f"The programme {worked}"
        fix = "Nothing, if it stands beside other work; else add what is missing."
        yield RULE.finding(what, fix, course.programme.cycles[0].span)


RULE = Rule(
    name="narrow-programme",
    level="note",
    says="Where fewer than four of six parts of the body are worked, the rules of balance are not asked.",
    why="Such a programme stands beside other work, which is not checked here.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
