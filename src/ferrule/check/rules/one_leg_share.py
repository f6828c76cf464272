"""Enough leg work on one leg."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule, spread
from ferrule.model.finding import Span
from ferrule.model.programme import Named
from ferrule.model.quantity import number


def _open(line: Line) -> bool:
    """A slot that leaves it open on how many legs: `any squat`."""
    return not isinstance(line.item.exercise, Named) and line.item.exercise.legs is None


def _find(course: Course) -> Iterator[Hit]:
    least = course.value("one-leg-share")
    if course.narrow:
        return
    low: dict[Span, list[tuple[int, float]]] = {}
    for week, lines in course.by_week.items():
        legs = [line for line in lines if line.hard_leg and not _open(line)]
        total = sum(line.sets * line.times for line in legs)
        if not total:
            continue
        share = 100 * sum(line.sets * line.times for line in legs if line.one_leg) / total
        if share < least:
            low.setdefault(course.cycle_of(week).span, []).append((week, round(share)))
    for span, found in low.items():
        told = spread(share for _, share in found)
        for week, _ in found:
            what = f"{told} % of the hard leg sets are on one leg; the house's least is {number(least)} %"
            yield Hit(week, span, what, "Change a two-leg line to its one-leg variant.")


RULE = Rule(
    name="one-leg-share",
    level="advice",
    says="At least half of the week's hard leg sets are done on one leg.",
    why="Running is done on one leg at a time.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("one-leg-share",),
    find=_find,
)
