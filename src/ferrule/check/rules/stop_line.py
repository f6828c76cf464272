"""The programme says when to stop."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.rules.pain_line import conditions
from ferrule.model.finding import Finding
from ferrule.model.quantity import number

_STOP = re.compile(r"\b(stop|ask|easier|less|lighter|hold back|swap|do)\b", re.I)
_SAID = re.compile(
    r"\bpain\w*\b[^.\n]{0,80}\b(?:stop|ask|leave (?:it )?out|see (?:a|your))\b|\bstop\b[^.\n]{0,60}\bpain", re.I
)


def _find(course: Course) -> Iterator[Finding]:
    works = any(line.hard or line.impact for line in course.lines)
    if not works or any("pain" in c.text.lower() and _STOP.search(c.text) for c in conditions(course)):
        return
    if not _SAID.search(course.said):
        cycles = course.programme.cycles
        limit = number(course.value("pain-stop"))
        fix = f"Write under an exercise or at the top: `if pain above {limit}: stop`."
        yield RULE.finding("The programme does not say when to stop for pain", fix, cycles[0].span if cycles else None)


RULE = Rule(
    name="stop-line",
    level="note",
    says="The programme says when pain stops an exercise or asks for the coach.",
    why="The sheet prints the house's own line for pain and the red flags in any case; the coach's line is the one runners know.",
    source="Silbernagel 2007 (seen)",
    strength="moderate",
    thresholds=("pain-stop",),
    find=_find,
)
