"""Holds that can be held."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.hold_at_share import mean_hold_s
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number

_TIMES = 2.0
"""Times the mean curve that are still let through: about twice the published 29-47 % band (our choice)."""


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        dose = line.item.dose
        percent, held = dose.percent, dose.hold_s or (dose.pause_s if dose.reps else None)
        if percent is None or held is None or percent.of == "body mass":
            continue
        share = percent.percent.low
        if percent.of == "best hold" and share > 100:
            what = f"{line.where}: {line.name} asks {number(share)} % of the best hold"
            yield Hit(line.week, line.item.span, what, "Ask at most 100 %, and less in more than one set.")
        elif percent.of != "best hold" and 10 <= share <= 100:
            most = _TIMES * mean_hold_s(share / 100, line.group)
            if held.low > most:
                what = (
                    f"{line.where}: {line.name} holds {number(held.low)} s at {number(share)} % of {percent.of}; "
                    f"nearly nobody can hold it longer than {number(int(most))} s"
                )
                yield Hit(line.week, line.item.span, what, "A shorter hold, or a smaller %.")


RULE = Rule(
    name="hold-at-share",
    level="error",
    says="A hold is no longer than its share of the best force allows, nor longer than the best hold.",
    why="The line cannot be done as written.",
    source="Frey Law and Avin 2010, endurance by joint (seen, transcribed); twice the mean is our choice",
    strength="moderate",
    thresholds=(),
    find=_find,
)
