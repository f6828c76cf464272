"""Beginners leave some in reserve."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.check.rules.leg_reserve import to_the_end
from ferrule.check.words import WHO_KEYS, claimed
from ferrule.model.finding import Span
from ferrule.model.quantity import number

_BEGINNER = re.compile(
    r"\b(beginners?|novices?|never trained|new to (?:strength|lifting|weights)|untrained|first[- ]timers?|"
    r"no (?:strength )?(?:training|experience)|little or no strength)\b",
    re.I,
)


def beginners(course: Course) -> tuple[str, Span] | None:
    """What the front matter calls beginners, and where."""
    for entry in course.programme.front:
        if entry.key.lower() in WHO_KEYS or entry.key == "programme":
            found = _BEGINNER.search(entry.value)
            if found and (claimed(_BEGINNER, entry.value) or found[0].lower().startswith("no")):
                return found[0].lower(), entry.span
    return None


def _asked(course: Course, line: Line) -> str:
    """What a line asks that is too near the limit for a beginner, in words; empty when it is not."""
    dose = line.item.dose
    if to_the_end(dose):
        return "as many as possible"
    if dose.rir and dose.rir.low < course.value("beginner-reserve"):
        return f"{number(dose.rir.low)} in reserve"
    if dose.rm and dose.rm.high < course.value("beginner-rm"):
        return f"{dose.rm}RM"
    if dose.percent and dose.percent.of == "1RM" and dose.percent.percent.high > course.value("heavy-percent"):
        return f"{dose.percent.percent} % of 1RM"
    return ""


def _find(course: Course) -> Iterator[Hit]:
    whom = beginners(course)
    if whom is None:
        return
    for line in course.lines:
        asked = _asked(course, line) if line.hard else ""
        if asked:
            what = f"{line.where}: {line.name} asks {asked} of {whom[0]}"
            least = number(course.value("beginner-reserve"))
            yield Hit(line.week, line.item.span, what, f"Leave {least} or more, at 8-12RM or lighter.", (whom[1],))


RULE = Rule(
    name="beginner-effort",
    level="advice",
    says="Where the programme says it is for beginners, its sets stay at 8-12RM and leave two in reserve.",
    why="Beginners stop sooner or later than they think, gain from lighter work as well, and their form goes first.",
    source="Ratamess 2009, novices at 8-12RM (seen); the reserve is common practice, no source",
    strength="moderate",
    thresholds=("beginner-reserve", "beginner-rm", "heavy-percent"),
    find=_find,
)
