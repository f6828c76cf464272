"""A pain condition stays within the published rule."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.programme import Condition, Item
from ferrule.model.quantity import number

_PAIN = re.compile(r"\bpain\s+(?:is\s+)?(?:above|over|more than)\s+(\d+(?:[.,]\d+)?)", re.I)


def conditions(course: Course) -> Iterator[Condition]:
    """Every written condition, of the programme, its parts, its lines and their alternatives."""
    yield from course.programme.conditions

    def of(item: Item) -> Iterator[Condition]:
        yield from item.conditions
        for other in item.alternatives:
            yield from of(other)

    for cycle in course.programme.cycles:
        yield from cycle.conditions
        for session in cycle.sessions:
            yield from session.conditions
            for block in session.blocks:
                yield from block.conditions
                for item in block.items:
                    yield from of(item)


def _find(course: Course) -> Iterator[Finding]:
    limit = course.value("pain-ceiling")
    for condition in conditions(course):
        found = _PAIN.search(condition.text)
        if condition.when in ("pain above", "pain at most") and condition.number:
            most = condition.number.high
        elif found and not condition.when:
            most = float(found[1].replace(",", "."))
        else:
            continue
        if most > limit:
            what = f"The programme lets a runner go on up to pain {number(most)} of 10"
            yield RULE.finding(what, f"Write `if pain above {number(limit)}: stop`, or less.", condition.span)


RULE = Rule(
    name="pain-line",
    level="error",
    says="A written pain condition stops or asks at 5 of 10 or below.",
    why="Above that the published rule for sore tendons stops the exercise; other pains want a stricter line.",
    source="Silbernagel 2007 (seen)",
    strength="moderate",
    thresholds=("pain-ceiling",),
    find=_find,
)
