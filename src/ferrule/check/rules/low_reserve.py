"""Very hard sets say for whom."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Rule
from ferrule.check.rules.leg_reserve import to_the_end, too_near
from ferrule.model.finding import Finding

_KEYS = ("level", "experience", "for")


def _find(course: Course) -> Iterator[Finding]:
    if any(entry.key.lower() in _KEYS for entry in course.programme.front):
        return
    limit = course.value("low-reserve")
    near: dict[str, tuple[Line, str]] = {}
    for line in course.lines:
        rir, most = line.item.dose.rir, to_the_end(line.item.dose)
        if not line.hard or not (most or (rir and rir.low <= limit)) or too_near(course, line):
            continue
        asked = "as many as possible" if most else f"{rir} {line.item.dose.effort_word}"
        if not most and line.item.dose.effort_word == "RPE":
            asked = f"{rir} left"
        near.setdefault(line.name, (line, asked))
    if near:
        first, asked = next(iter(near.values()))
        more = f" (and {len(near) - 1} more)" if len(near) > 1 else ""
        what = f"{first.name}{more} asks {asked}, and the programme does not say for whom it is"
        fix = "Leave 2 or more, or state the experience: `level: two years of strength`."
        yield RULE.finding(what, fix, first.item.span, tuple(x.item.span for x, _ in list(near.values())[1:4]))


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
