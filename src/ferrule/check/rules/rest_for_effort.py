"""Rest long enough for the effort the line asks."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line, recoveries
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _least(course: Course, line: Line) -> tuple[str, float]:
    dose = line.item.dose
    if dose.rm and dose.rm.high <= 6:
        return f"{dose.rm}RM", course.value("rest-6rm-s")
    percent = dose.percent
    if percent and percent.of == "1RM" and percent.percent.high >= course.value("heavy-percent"):
        return f"{percent.percent} % of 1RM", course.value("rest-heavy-s")
    return "a hard set", course.value("rest-s")


def _find(course: Course) -> Iterator[Hit]:
    for line, recovery in (pair for _, _, lines in course.sessions() for pair in recoveries(lines)):
        if recovery is None or not line.hard or line.sets <= 1:
            continue
        effort, least = _least(course, line)
        if recovery < least:
            what = f"{line.where}: {line.name} comes again after {number(round(recovery))} s; {effort} wants {number(least)} s"
            yield Hit(
                line.week,
                line.item.span,
                what,
                f"Rest longer, or ask less of each set, so that {number(least)} s pass.",
            )


RULE = Rule(
    name="rest-for-effort",
    level="advice",
    says="Between two hard sets of one exercise there is rest for the effort asked; a partner's set counts as rest.",
    why="With too little rest the later sets lose repetitions, and the session trains something else than was meant.",
    source="Grgic 2018 (seen); Ratamess 2009 for 1-6RM (seen)",
    strength="moderate",
    thresholds=("rest-s", "rest-heavy-s", "rest-6rm-s", "heavy-percent"),
    find=_find,
)
