"""Arms push and pull."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.words import Group


def _find(course: Course) -> Iterator[Finding]:
    first: dict[Group, Line] = {}
    for line in course.lines:
        if line.hard and line.group in ("push", "pull"):
            first.setdefault(line.group, line)
    if len(first) == 1 and not course.unknown_weeks:
        done, line = next(iter(first.items()))
        other = "pull" if done == "push" else "push"
        what = f"{line.name} is a {done}; nothing in the programme is a {other}"
        yield RULE.finding(what, f"Add a {other}, or make it the alternative in some weeks.", line.item.span)


RULE = Rule(
    name="push-and-pull",
    level="advice",
    says="A programme that pushes also pulls, and the other way round.",
    why="Arm swing and shoulders want both; it costs one line.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
