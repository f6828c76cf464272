"""Hard sets of one exercise in one session."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("sets-a-line")
    for line in course.lines:
        if line.hard and line.sets > most and not line.item.dose.work_s:
            what = f"{line.where}: {line.name} has {number(line.sets)} sets; the house's most is {number(most)}"
            yield Hit(line.week, line.item.span, what, "Fewer sets, or a second exercise of that kind.")


RULE = Rule(
    name="sets-a-line",
    level="advice",
    says="One exercise has no more hard sets in a session than the house's most.",
    why="For strength two or three sets do nearly all that more would do, and runners have little time.",
    source="ACSM 2026, 2-3 sets (seen in a news summary only); Ralston 2017 (seen); the limit is common practice, no source",
    strength="moderate",
    thresholds=("sets-a-line",),
    find=_find,
)
