"""What is called power or plyometric is fast."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.check.words import FAST, claimed
from ferrule.model.finding import Span

_INTENT = ("as fast as possible", "as high as possible", "as far as possible", "fast up", "all-out", "nearly all-out")


def fast(line: Line) -> bool:
    """A jump, hop or skip, or a line written to be moved fast."""
    dose = line.item.dose
    return line.impact >= 1 or any(w in dose.unfitted for w in _INTENT) or bool(dose.tempo and dose.tempo.up == "x")


def _find(course: Course) -> Iterator[Hit]:
    if not FAST.search(course.said):
        return
    for week in course.weeks:
        cycle = course.cycle_of(week.week)
        lines = course.by_week[week.week]
        parts: list[tuple[str, str, Span, list[Line]]] = [("the cycle", cycle.name, cycle.span, list(lines))]
        parts += [
            (f"session {s.key}", s.name, s.span, [x for x in lines if x.session.key == s.key]) for s in week.sessions
        ]
        for part, text, span, under in parts:
            word = claimed(FAST, text) if text else ""
            if word and under and not any((fast(line) or line.unknown) and not line.warm for line in under):
                what = f"{part} is called {word}, and no line outside the warm-up is fast"
                fix = "Add jumps or hops, write `tempo 2-0-x` or `fast up`, or use another name."
                yield Hit(week.week, span, what, fix)


RULE = Rule(
    name="power-label",
    level="advice",
    says="A cycle or session called power, explosive or plyometric has jumps, hops or lifts that are moved fast.",
    why="Power is trained by the will to move fast; slow sets under that name train something else.",
    source="ACSM 2026, power needs a fast way up (seen in a news summary only)",
    strength="moderate",
    thresholds=(),
    find=_find,
)
