"""What is called heavy is heavy."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.reps_at_load import mean_reps
from ferrule.check.rule import Hit, Rule
from ferrule.model.finding import Span
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


def _find(course: Course) -> Iterator[Hit]:
    if not _HEAVY.search(course.said):
        return
    for week in course.weeks:
        if week.week in course.easier_weeks:
            continue
        cycle = course.cycle_of(week.week)
        lines = course.by_week[week.week]
        labels: list[tuple[str, str, Span, list[Line]]] = []
        labels.append(("the cycle", f"{cycle.name}. {cycle.aim}", cycle.span, list(lines)))
        labels += [
            (f"session {s.key}", s.name, s.span, [x for x in lines if x.session.key == s.key]) for s in week.sessions
        ]
        for part, text, span, under in labels:
            label = _label(text)
            if label and not any(line.hard_leg and _reaches(course, line) for line in under):
                limit = number(course.value("heavy-percent"))
                what = f"{part} is called {label}, but no leg line reaches {limit} % of 1RM"
                yield Hit(week.week, span, what, "Fewer repetitions near the limit, a %, or another name.")


RULE = Rule(
    name="heavy-label",
    level="advice",
    says="A cycle or session called heavy or maximal strength holds leg sets at 80 % of 1RM or more.",
    why="Trials of heavy work in runners used such loads; a lighter block may be right, but it is another thing.",
    source="Llanos-Lagos 2024, class limits (seen); repetitions at a load: Nuzzo 2024 (seen)",
    strength="moderate",
    thresholds=("heavy-percent", "easier-week-drop"),
    find=_find,
)
