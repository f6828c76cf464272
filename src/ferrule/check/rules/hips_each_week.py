"""Something for the sides of the hips every week."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import AREA_OF, Course
from ferrule.check.rule import Hit, Rule


def _find(course: Course) -> Iterator[Hit]:
    if course.narrow:
        return
    for week, lines in course.by_week.items():
        if lines and not any(AREA_OF[group] == "hip sides" for line in lines for group in line.works):
            fix = "Add a side-lying lift, a side plank, or any leg exercise on one leg."
            yield Hit(week, course.cycle_of(week).span, "nothing works the sides of the hips", fix)


RULE = Rule(
    name="hips-each-week",
    level="advice",
    says="Each week works the sides of the hips; exercises that stand on one leg count, and so do warm-ups.",
    why="They hold the pelvis level in every running step.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
