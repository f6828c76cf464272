"""Left and right do the same, or it is said why not."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("side-difference")
    for line in course.lines:
        left, right = line.item.dose.left, line.item.dose.right
        if left is None and right is None:
            continue
        small, large = sorted((left or 0, right or 0))
        apart = 100 * (large - small) / large if large else 0.0
        if apart > most and not (line.item.notes or line.item.coach_notes):
            what = f"{line.where}: {line.name} asks left {left or 0} and right {right or 0}, {number(round(apart))} % apart"
            fix = "Ask the same of both, or write a note that says why: `coach: ...`."
            yield Hit(line.week, line.item.span, what, fix)


RULE = Rule(
    name="uneven-sides",
    level="advice",
    says="Left and right do about the same; where they do not, a note or a word for the coach says why.",
    why="Small differences between sides are normal and within the error of tests; work on one side alone makes new ones.",
    source="Bishop 2018, differences above 15 % and above the test's error (seen)",
    strength="low",
    thresholds=("side-difference",),
    find=_find,
)
