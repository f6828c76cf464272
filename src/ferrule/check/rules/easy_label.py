"""A week called easier is easier."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.check.words import EASY, claimed
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    drop = course.value("easier-week-drop")
    for cycle in course.programme.cycles:
        word = claimed(EASY, cycle.name) if cycle.last_week - cycle.first_week < 2 else ""
        before = [course.hard_sets[w] for w in (cycle.first_week - 1, cycle.first_week - 2) if w in course.hard_sets]
        if not word or not before or not max(before):
            continue
        for week in range(cycle.first_week, cycle.last_week + 1):
            now = course.hard_sets.get(week, 0.0)
            if now > max(before) * (1 - drop / 100):
                what = f"the cycle is called {word}, with {number(now)} hard sets after {number(max(before))}"
                fix = f"Take out rounds or lines until there are {number(drop)} % fewer hard sets; keep the loads."
                yield Hit(week, cycle.span, what, fix)


RULE = Rule(
    name="easy-label",
    level="advice",
    says="A week called deload, easier, light or recovery has clearly fewer hard sets than the weeks before it.",
    why="Runners are told it is easy and plan hard runs into it.",
    source="Rogerson 2024, a survey of how easier weeks are made (seen); the drop is common practice, no source",
    strength="common practice",
    thresholds=("easier-week-drop",),
    find=_find,
)
