"""A warm-up is written at all."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding


def _find(course: Course) -> Iterator[Finding]:
    works = any(line.hard_leg or line.impact for line in course.lines if not line.warm)
    if works and not course.warm_ups:
        what = "No session of the programme has a warm-up written"
        fix = "Write `Warm-up, 1 round` and a few easy drills, or say in a note how runners warm up."
        yield RULE.finding(what, fix, course.programme.cycles[0].span)


RULE = Rule(
    name="warm-up-written",
    level="note",
    says="A programme with leg work writes its warm-ups, or means that runners know their own.",
    why="At home nobody says it; not stated is not the same as none.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
