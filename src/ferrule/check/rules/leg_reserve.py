"""Something is left on the legs."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.model.programme import Dose
from ferrule.model.quantity import number


def to_the_end(dose: Dose) -> bool:
    """True when a set goes on until nothing is left."""
    return dose.to_failure or (dose.reps_open == "max" and dose.work_s is None) or dose.rest_pause_s is not None


def too_near(course: Course, line: Line) -> bool:
    """True when a hard leg line may go nearer to failure than the house allows."""
    if not line.hard_leg:
        return False
    dose = line.item.dose
    return to_the_end(dose) or bool(dose.rir and dose.rir.low < course.value("leg-reserve"))


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        if too_near(course, line):
            least = number(course.value("leg-reserve"))
            rir = line.item.dose.rir
            left = f"may leave only {number(rir.low)} in reserve" if rir else "goes on until nothing is left"
            what = f"{line.where}: {line.name} {left}"
            yield Hit(line.week, line.item.span, what, f"Leave at least {least} in reserve on leg exercises.")


RULE = Rule(
    name="leg-reserve",
    level="advice",
    says="Leg exercises of runners leave at least one repetition in reserve.",
    why="Sets to failure slow recovery by a day or two and add nothing that strength needs.",
    source="Moran-Navarro 2017 (seen); ACSM 2026, failure not needed (seen in a news summary only)",
    strength="moderate",
    thresholds=("leg-reserve",),
    find=_find,
)
