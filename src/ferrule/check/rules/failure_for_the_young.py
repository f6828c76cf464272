"""Nothing at the limit for the young."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.check.rules.leg_reserve import to_the_end
from ferrule.check.whom import said_for


def _find(course: Course) -> Iterator[Hit]:
    young = said_for(course.programme, "young")
    if young is None:
        return
    for line in course.lines:
        dose = line.item.dose
        one = bool(dose.rm and dose.rm.low < 5) or bool(
            dose.percent and dose.percent.of == "1RM" and dose.percent.percent.high >= 90
        )
        if line.hard and (one or to_the_end(dose)):
            what = f"{line.where}: {line.name} goes to the limit, and `{young[0]}` is said of those it is for"
            fix = "Leave two or more in reserve, at eight repetitions or more, until somebody stands beside them."
            yield Hit(line.week, line.item.span, what, fix, (young[1],) if young[1] else ())


RULE = Rule(
    name="failure-for-the-young",
    level="advice",
    says="Where the programme says it is for under-18s, no set goes to failure or near one repetition maximum.",
    why="They are still learning the movement, and at home nobody stands beside them.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
