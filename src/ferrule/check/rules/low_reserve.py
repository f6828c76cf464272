"""Very hard sets say for whom."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.check.rules.leg_reserve import to_the_end, too_near

_KEYS = ("level", "experience", "for")


def _find(course: Course) -> Iterator[Hit]:
    if any(entry.key.lower() in _KEYS for entry in course.programme.front):
        return
    limit = course.value("low-reserve")
    for line in course.lines:
        rir, most = line.item.dose.rir, to_the_end(line.item.dose)
        if not line.hard or not (most or (rir and rir.low <= limit)) or too_near(course, line):
            continue
        asked = "as many as possible" if most else f"{rir} {line.item.dose.effort_word}"
        if not most and line.item.dose.effort_word == "RPE":
            asked = f"{rir} left"
        what = f"{line.where}: {line.name} asks {asked}, and the programme does not say for whom it is"
        yield Hit(
            line.week, line.item.span, what, "Leave 2 or more, or state the experience: `level: two years of strength`."
        )


RULE = Rule(
    name="low-reserve",
    level="advice",
    says="Sets that leave one repetition or none are for runners whose experience is stated (`level:`).",
    why="Beginners misjudge how many are left, and their form goes first.",
    source="Ratamess 2009, novices at 8-12RM (seen); the cut is common practice, no source",
    strength="moderate",
    thresholds=("low-reserve", "leg-reserve"),
    find=_find,
)
