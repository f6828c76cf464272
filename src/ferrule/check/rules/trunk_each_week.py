"""Trunk work from three sides every week."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule, joined
from ferrule.model.words import Group

_SIDES: tuple[Group, ...] = ("trunk front", "trunk side", "trunk back")


def _find(course: Course) -> Iterator[Hit]:
    if course.narrow:
        return
    for week, lines in course.by_week.items():
        covered = frozenset[Group]().union(*(line.works for line in lines))
        missing = [g.removeprefix("trunk ") for g in _SIDES if g not in covered]
        if missing:
            what = f"nothing works the {joined(missing)} of the trunk"
            yield Hit(week, course.cycle_of(week).span, what, "Add a plank, side plank, bridge or raise for it.")


RULE = Rule(
    name="trunk-each-week",
    level="advice",
    says="Each week works the front, the side and the back of the trunk; warm-ups count.",
    why="The trunk is loaded from every side on hills and uneven ground.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
