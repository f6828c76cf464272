"""Jumps and hops come while the legs are fresh."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule


def _contrast(line: Line, lines: Sequence[Line]) -> bool:
    """A jump paired with a hard leg lift on purpose."""
    return line.block.kind == "pair" and any(x.block is line.block and x.hard_leg for x in lines)


def _find(course: Course) -> Iterator[Hit]:
    for week, _, lines in course.sessions():
        tired: Line | None = None
        for line in lines:
            if line.hard_leg:
                tired = tired or line
            elif line.impact >= 2 and tired and tired.block is not line.block and not _contrast(line, lines):
                what = f"{line.where}: {line.name} comes after hard leg work ({tired.name})"
                fix = "Put jumps and hops straight after the warm-up."
                yield Hit(week, line.item.span, what, fix, (tired.item.span,))


RULE = Rule(
    name="impact-first",
    level="advice",
    says="Jumps and hops come before the hard leg work of a session, or in a pair with it.",
    why="Tired legs land worse, and jump less well.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
