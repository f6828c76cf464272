"""A programme for one or two parts of the body."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule, joined
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    if not course.lines or not course.narrow:
        return
    span = course.programme.cycles[0].span
    unknown = {line.name for line in course.lines if line.unknown and not line.warm}
    if unknown:
        many = "exercise is" if len(unknown) == 1 else "exercises are"
        what = f"{len(unknown)} {many} not in the library, so nothing is said of what is missing"
        yield RULE.finding(what, "Nothing, or add them to the library (docs/add-an-exercise.md).", span)
    else:
        worked = f"works {joined(course.worked)} hard and nothing else" if course.worked else "has no hard sets"
        what = f"The programme {worked}"
        fix = "Nothing, if it stands beside other work; else add what is missing."
        yield RULE.finding(what, fix, span)


RULE = Rule(
    name="narrow-programme",
    level="note",
    says="Where fewer than four of six parts of the body are worked, or exercises are unknown, the rules of balance are not asked.",
    why="Such a programme stands beside other work, or does work that is not known; what is missing cannot be told.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
