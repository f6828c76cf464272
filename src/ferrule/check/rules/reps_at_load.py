"""Repetitions that the load allows."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.reps_at_load import mean_reps, sd_reps
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number

_SPREAD = 3.0
"""Standard deviations above the mean that are still let through."""


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        dose = line.item.dose
        if dose.reps is None or dose.cluster or dose.reps_open == "up to":
            continue
        reserve = dose.rir.low if dose.rir else 0.0
        asked = dose.reps.low + reserve
        if dose.rm and asked > dose.rm.high:
            what = f"{line.where}: {line.name} asks {number(asked)} repetitions with its reserve, at {dose.rm}RM"
            yield Hit(line.week, line.item.span, what, "Ask no more repetitions than the RM, or a lighter RM.")
        percent = dose.percent.percent.low if dose.percent and dose.percent.of == "1RM" else None
        if percent is None or not 40 <= percent <= 100:
            continue
        most = mean_reps(percent, line.group) + _SPREAD * sd_reps(percent)
        if asked > most:
            what = (
                f"{line.where}: {line.name} asks {number(asked)} repetitions with its reserve "
                f"at {number(percent)} %; nearly nobody can do more than {number(int(most))}"
            )
            yield Hit(line.week, line.item.span, what, "Fewer repetitions, or a smaller %.")


RULE = Rule(
    name="reps-at-load",
    level="error",
    says="A line asks no more repetitions, reserve included, than its RM or its share of 1RM allows.",
    why="The line cannot be done as written.",
    source="Nuzzo 2024, repetitions at shares of 1RM and their spread (seen, transcribed); three SD is our choice",
    strength="high",
    thresholds=(),
    find=_find,
)
