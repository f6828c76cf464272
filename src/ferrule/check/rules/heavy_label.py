"""What is called heavy is heavy."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.reps_at_load import mean_reps
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding, Span
from ferrule.model.quantity import number

_HEAVY = re.compile(r"\b(heavy|maximal strength|maximum strength)\b", re.I)
_NOT_YET = re.compile(r"\b(?:not|no|nothing|never|before|without|until|towards)\b[^.;:]*$", re.I)


def _label(text: str) -> str:
    """What the text calls heavy, in its own word; empty when it does not, or only says what comes later."""
    for found in _HEAVY.finditer(text):
        if not _NOT_YET.search(text[: found.start()]):
            return found[1].lower()
    return ""


def _reaches(course: Course, line: Line) -> bool:
    dose, percent = line.item.dose, line.item.dose.percent
    limit = course.value("heavy-percent")
    if percent and percent.of == "1RM":
        return percent.percent.high >= limit
    most = mean_reps(limit, line.group)
    if dose.rm:
        return dose.rm.low <= most
    return bool(dose.reps and dose.rir and dose.reps.low + dose.rir.low <= most)


def _find(course: Course) -> Iterator[Finding]:
    if not _HEAVY.search(course.said):
        return
    labels: dict[int, tuple[str, str, Span, list[Line]]] = {}
    for cycle in course.programme.cycles:
        if label := _label(f"{cycle.name}. {cycle.aim}"):
            labels[cycle.span.line] = ("The cycle", label, cycle.span, [])
        for session in cycle.sessions:
            if label := _label(session.name):
                labels[session.span.line] = (f"Session {session.key}", label, session.span, [])
    if not labels:
        return
    for line in course.lines:
        if line.hard_leg or (line.unknown and not line.warm):
            for head in (course.cycle_of(line.week).span.line, line.session.span.line):
                if head in labels:
                    labels[head][3].append(line)
    for part, label, span, under in labels.values():
        if not any(line.unknown or _reaches(course, line) for line in under):
            limit = number(course.value("heavy-percent"))
            what = f"{part} is called {label}, but no leg line in any of its weeks reaches {limit} % of 1RM"
            yield RULE.finding(what, "Fewer repetitions near the limit, a %, or another name.", span)


RULE = Rule(
    name="heavy-label",
    level="advice",
    says="A cycle or session called heavy or maximal strength holds leg sets at 80 % of 1RM or more.",
    why="Trials of heavy work in runners used such loads; a lighter block may be right, but it is another thing.",
    source="Llanos-Lagos 2024, class limits (seen); repetitions at a load: Nuzzo 2024 (seen)",
    strength="moderate",
    thresholds=("heavy-percent",),
    find=_find,
)
