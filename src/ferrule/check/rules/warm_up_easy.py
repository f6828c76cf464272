"""A warm-up is no work set."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        dose = line.item.dose
        if not line.warm or line.group is None:
            continue
        asked = ""
        if dose.reps_open == "max" or dose.to_failure:
            asked = "as many as possible"
        elif dose.rir and dose.rir.low < course.value("warm-up-reserve"):
            asked = f"{number(dose.rir.low)} in reserve"
        elif dose.percent and dose.percent.of == "1RM" and dose.percent.percent.high >= course.value("heavy-percent"):
            asked = f"{dose.percent.percent} % of 1RM"
        if asked:
            what = f"{line.where}: {line.name} in the warm-up asks {asked}"
            yield Hit(line.week, line.item.span, what, "Make it easier, or move it into the session.")


RULE = Rule(
    name="warm-up-easy",
    level="advice",
    says="No line of a warm-up goes near the limit.",
    why="It takes from the sets it should prepare.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("warm-up-reserve", "heavy-percent"),
    find=_find,
)
