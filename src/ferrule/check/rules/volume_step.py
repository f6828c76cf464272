"""Hard sets rise in small steps."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import LEG_AREAS, Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number

_LEAST_STEP = 4.0
"""Fewer sets than this are never a jump, whatever the percentage."""


def _find(course: Course) -> Iterator[Hit]:
    step = course.value("volume-step-percent")
    sums = course.area_sets
    for week in sums:
        if course.unknown_weeks.intersection((week - 2, week - 1, week)):
            continue
        for area in LEG_AREAS:
            before = max(sums[w][area] for w in (week - 1, week - 2) if w in sums) if week - 1 in sums else 0.0
            now = sums[week][area]
            if before and now >= before + _LEAST_STEP and now > before * (1 + step / 100):
                what = f"{area} goes from {number(before)} to {number(now)} hard sets a week"
                yield Hit(week, course.cycle_of(week).span, what, "Add a set a week, or begin the cycle with fewer.")


RULE = Rule(
    name="volume-step",
    level="advice",
    says="From one week to the next the hard sets of a part of the leg do not jump.",
    why="Sore legs cost runs; a step at a time costs few.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("volume-step-percent",),
    find=_find,
)
