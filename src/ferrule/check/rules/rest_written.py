"""A rest is written for hard sets."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.minutes import REST_S
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    told: set[tuple[int, int]] = set()
    for line in course.lines:
        block = line.block
        if not line.hard or line.sets <= 1 or block.rest_s or line.item.dose.rest_s:
            continue
        if (line.week, block.span.line) in told:
            continue
        told.add((line.week, block.span.line))
        what = f"{line.where}: no rest is written for {line.name}; {number(REST_S[block.kind])} s is counted"
        yield Hit(line.week, block.span, what, "Write it in the block's head: `rest 90 s`.")


RULE = Rule(
    name="rest-written",
    level="advice",
    says="A block with hard sets says how long to rest.",
    why="Runners at home rest as long as they please when nothing is written, and the minutes cannot be told.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
