"""Partners that do not fight."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule


def _works(line: Line) -> str | None:
    """What the line tires: the part of the leg, else the group."""
    return line.area if line.leg else line.group


def _find(course: Course) -> Iterator[Hit]:
    for _, _, lines in course.sessions():
        for first, second in pairwise(lines):
            if first.block is not second.block or first.block.kind not in ("pair", "circuit"):
                continue
            works = _works(first)
            if works is not None and works == _works(second):
                kind = first.block.kind
                what = (
                    f"{second.where}: {first.name} and {second.name} follow each other in a {kind}; both work {works}"
                )
                fix = "Pair it with something else, or write straight sets."
                yield Hit(second.week, second.item.span, what, fix, (first.item.span,))


RULE = Rule(
    name="pair-clash",
    level="advice",
    says="Exercises that follow each other in a pair or circuit work different parts of the body.",
    why="A partner that works the same muscles takes away the rest that pairing is meant to give.",
    source="Iversen 2024; Zhang 2025 (seen)",
    strength="low",
    thresholds=(),
    find=_find,
)
