"""No fortnight without leg work in the middle of a programme."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ferrule.check.course import Course
from ferrule.check.rule import Rule, weeks_text
from ferrule.model.finding import Finding

_WEEKS = 2


def _find(course: Course) -> Iterator[Finding]:
    worked = [w for w, sets in course.leg_weeks.items() if sets]
    for last, following in pairwise(worked):
        between = [w for w in range(last + 1, following) if w in course.leg_weeks]
        if len(between) >= _WEEKS and not course.kept_weeks.intersection(between):
            what = f"{weeks_text(between).capitalize()} have no hard leg work"
            fix = "One session a week keeps what was gained; or call the cycle a break."
            yield RULE.finding(what, fix, course.cycle_of(between[0]).span)


RULE = Rule(
    name="leg-gap",
    level="advice",
    says="Between weeks with hard leg work there are no two without, unless the cycle is called a break.",
    why="Strength was kept with one session a week and lost with one in two.",
    source="Ronnestad 2011, 14 footballers (seen)",
    strength="low",
    thresholds=(),
    find=_find,
)
