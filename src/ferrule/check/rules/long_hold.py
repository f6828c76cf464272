"""Holds that are long rather than hard."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("hold-most-s")
    for line in course.lines:
        held = line.item.dose.hold_s
        if held and held.high > most and line.hard:
            harder = line.variant.harder[0] if line.variant and line.variant.harder else ""
            name = course.library.variants[harder].name if harder in course.library.variants else ""
            what = f"{line.where}: {line.name} is held for {held} s; the house's most is {number(most)} s"
            fix = f"Hold {name} for less time." if name else "Take a harder variant for less time."
            yield Hit(line.week, line.item.span, what, fix)


RULE = Rule(
    name="long-hold",
    level="advice",
    says="A hold is made harder rather than longer once it reaches the house's most.",
    why="Beyond two minutes a hold trains patience more than strength, and the session runs over.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("hold-most-s",),
    find=_find,
)
