"""A written load rises in small steps."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number

_POINTS = 5
"""Percentage points that are never a jump: from 20 to 25 % of 1RM is a small step (our choice)."""


def _load(line: Line) -> tuple[str, float] | None:
    dose = line.item.dose
    if dose.percent and dose.percent.of != "best hold":
        return f"% of {dose.percent.of}", dose.percent.percent.middle
    kg = dose.load.total_kg if dose.load else None
    return ("kg", kg.middle) if kg else None


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("load-step-percent")
    before: dict[tuple[str, str, str], tuple[str, float]] = {}
    for line in course.lines:
        now = _load(line)
        key = (line.session.key, line.item.key, line.name)
        was = before.get(key)
        if now is None:
            continue
        before[key] = now
        least = was[1] + (0 if now[0] == "kg" else _POINTS) if was else 0
        if was and was[0] == now[0] and was[1] > 0 and now[1] > max(was[1] * (1 + most / 100), least):
            unit = now[0]
            what = f"{line.where}: {line.name} goes from {number(was[1])} to {number(now[1])} {unit}"
            fix = f"Rise by at most {number(most)} %; where the next weight is further away, add repetitions first."
            yield Hit(line.week, line.item.span, what, fix)


RULE = Rule(
    name="load-step",
    level="advice",
    says="From one week to the next a written load rises by no more than 10 %.",
    why="A larger step leaves the intended effort, and the form that was learned at the lighter load.",
    source="Ratamess 2009, 2-10 % (seen)",
    strength="moderate",
    thresholds=("load-step-percent",),
    find=_find,
)
