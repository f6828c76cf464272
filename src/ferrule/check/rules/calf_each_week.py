"""Calf and foot work every week."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule, joined
from ferrule.model.words import Group

_KNEES: dict[Group, str] = {"calf straight": "straight-knee calf work", "calf bent": "bent-knee calf work"}


def _find(course: Course) -> Iterator[Hit]:
    if course.narrow:
        return
    for week, lines in course.by_week.items():
        groups = {line.group for line in lines if not line.warm}
        missing = [words for group, words in _KNEES.items() if group not in groups]
        if not any("foot" in line.tags for line in lines):
            missing.append("foot work")
        if missing:
            what = f"there is {joined(f'no {m}' for m in missing)}"
            yield Hit(week, course.cycle_of(week).span, what, "Add a heel raise of that kind, or a foot exercise.")


RULE = Rule(
    name="calf-each-week",
    level="advice",
    says="Each week has calf work with a straight knee, calf work with a bent knee, and something for the foot.",
    why="Calf and foot carry the largest share of every running step.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
