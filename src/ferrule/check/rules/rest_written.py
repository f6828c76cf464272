"""A rest is written for hard sets."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.minutes import REST_S
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding, Span
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Finding]:
    told: set[Span] = set()
    for line in course.lines:
        block = line.block
        clock = block.on_s is not None or block.every_s is not None or block.minutes is not None
        if not line.hard or line.sets <= 1 or block.rest_s or line.item.dose.rest_s or clock or block.span in told:
            continue
        told.add(block.span)
        what = f"No rest is written for {line.name}; {number(REST_S[block.kind])} s is counted"
        yield RULE.finding(what, "Write it in the block's head: `rest 90 s`.", block.span)


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
