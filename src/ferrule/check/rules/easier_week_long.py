"""An easier spell before building goes on is short."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Finding]:
    most = course.value("easier-weeks-most")
    keep = 1 - course.value("easier-week-drop") / 100
    run: list[int] = []
    before = 0.0
    for week, sets in [*course.hard_sets.items(), (0, -1.0)]:
        easy = 0 <= sets <= keep * before if before else False
        if easy and week not in course.kept_weeks:
            run.append(week)
            continue
        if len(run) > most and sets > keep * before:
            what = f"Weeks {run[0]}-{run[-1]} are all easier than week {run[0] - 1}, and it is not said why"
            fix = f"Go back to building after {number(most)} weeks, or call the cycle `taper` or `maintenance`."
            yield RULE.finding(what, fix, course.cycle_of(run[0]).span)
        run, before = [], max(sets, 0.0)


RULE = Rule(
    name="easier-week-long",
    level="advice",
    says="An easier spell after which the building goes on lasts a week or two, unless it is called a taper, the season or a break.",
    why="Coaches' easier spells last about a week; a longer one that nobody meant gives strength away.",
    source="Rogerson 2024, a survey: 6.4 days, SD 1.7 (seen)",
    strength="common practice",
    thresholds=("easier-weeks-most", "easier-week-drop"),
    find=_find,
)
