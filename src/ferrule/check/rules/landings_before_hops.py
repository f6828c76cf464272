"""Landings and low jumps come before hops."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule

_HOP = 3


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        if 1 <= line.impact < _HOP or (line.unknown and not line.warm):
            return  # what the library does not know may be a landing
        if line.impact >= _HOP:
            what = f"{line.where}: {line.name} comes before any landing, skip or two-foot jump"
            yield Hit(
                line.week, line.item.span, what, "Begin with landings or skips on two feet, hops some weeks later."
            )
            return


RULE = Rule(
    name="landings-before-hops",
    level="advice",
    says="Landings, skips or two-foot jumps come before the first hop on one leg.",
    why="A hop lands the whole body on one leg; landing well is learned on two.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
