"""An easier week now and then."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Finding]:
    most = course.value("easier-week-every")
    run = 0
    for week in course.weeks:
        run = 0 if week.week in course.easier_weeks or week.week in course.kept_weeks else run + 1
        if most < run <= most + 1:
            what = f"Weeks {week.week - run + 1}-{week.week} have no easier week among them"
            drop = number(course.value("easier-week-drop"))
            fix = f"Write a week with at least {drop} % fewer hard sets; keep the loads."
            yield RULE.finding(what, fix, course.cycle_of(week.week).span)


RULE = Rule(
    name="easier-week",
    level="advice",
    says="An easier week comes at least every ten weeks.",
    why="Coaches plan one every five to six weeks; runners also need it around races and long runs.",
    source="Rogerson 2024, a survey: every 5.6 weeks, SD 2.3 (seen)",
    strength="common practice",
    thresholds=("easier-week-every", "easier-week-drop"),
    find=_find,
)
