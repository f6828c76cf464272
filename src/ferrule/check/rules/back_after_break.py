"""An exercise that comes back after weeks away."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _as_hard(now: Line, then: Line) -> bool:
    """As many sets and as much load or reps as when it was left; what is not written counts as the same."""
    a, b = now.item.dose, then.item.dose
    kg_now, kg_then = (d.load.total_kg.high if d.load and d.load.total_kg else 0.0 for d in (a, b))
    if now.sets < then.sets or kg_now < kg_then or (a.rir and b.rir and a.rir.low > b.rir.low):
        return False
    if a.percent and b.percent and a.percent.percent.high < b.percent.percent.high:
        return False
    return not (a.reps and b.reps and a.reps.high < b.reps.high and kg_now <= kg_then)


def _find(course: Course) -> Iterator[Hit]:
    away = course.value("weeks-away")
    last: dict[str, Line] = {}
    for line in course.lines:
        if not line.hard_leg:
            continue
        then = last.get(line.name)
        gone = line.week - then.week - 1 if then else 0
        if then and gone >= away and _as_hard(line, then):
            what = f"{line.where}: {line.name} comes back after {number(gone)} weeks as hard as it was left"
            yield Hit(line.week, line.item.span, what, "Begin a set or two lighter, and be back in the second week.")
        last[line.name] = line


RULE = Rule(
    name="back-after-break",
    level="note",
    says="A leg exercise that was away for some weeks comes back easier than it was left.",
    why="Strength is mostly kept over a few weeks, the habit of the muscle is not, and the first session makes sore.",
    source="common practice, no source; strength after a stop: Bosquet 2013 (seen)",
    strength="common practice",
    thresholds=("weeks-away",),
    find=_find,
)
