"""Not too much new at once."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Finding]:
    most = course.value("new-exercises-later")
    met: set[str] = set()
    for n, (week, lines) in enumerate(course.by_week.items()):
        new = list(dict.fromkeys(line.name for line in lines if line.name not in met and line.variant))
        met.update(new)
        if n and len(new) > most:
            what = f"Week {week} brings {len(new)} exercises that are new to the programme; the house's most is {number(most)}"
            fix = "Keep some of the old ones, or bring the new ones in over two weeks."
            yield RULE.finding(what, fix, course.cycle_of(week).span)


RULE = Rule(
    name="new-exercises",
    level="advice",
    says="After the first week no week brings more new exercises than the house's most.",
    why="What is new is done badly at first and makes sore; runners feel it on the run.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("new-exercises-later",),
    find=_find,
)
