"""A condition asks for what the line has."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding


def _lacks(line: Line, unit: str) -> str:
    """Why this line cannot be given more of that unit; empty when it can."""
    dose, variant = line.item.dose, line.variant
    held = dose.hold_s or dose.work_s
    if unit == "kg":
        none = bool(dose.load and dose.load.none)
        return "takes no weight" if none or (variant is not None and not variant.loading) else ""
    if unit == "s":
        return "" if held or dose.pause_s else "has no seconds to add to"
    if unit != "reps":
        return ""
    return "has no repetitions to add to" if held and not dose.reps else ""


def _find(course: Course) -> Iterator[Finding]:
    seen: set[int] = set()
    for line in course.lines:
        if id(line.item) in seen or not line.item.conditions:
            continue
        seen.add(id(line.item))
        for condition in line.item.conditions:
            step = condition.step if condition.acts and condition.action == "add" else None
            why = _lacks(line, step.unit) if step else ""
            if why:
                what = f"{line.name} {why}: `{condition.text}`"
                yield RULE.finding(what, "Add repetitions, seconds or `harder`, as the line has them.", condition.span)


RULE = Rule(
    name="condition-fits",
    level="advice",
    says="A condition adds what its line is counted in: kilograms where a load can be carried, seconds to holds.",
    why="What cannot be added stays as it is, week after week.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
