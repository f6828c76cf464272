"""Something progresses."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.model.programme import Condition, Cycle


def _asked(line: Line) -> tuple[object, ...]:
    return line.session.key, line.item.key, line.name, line.sets, line.item.dose, line.block.rest_s


def _steers(line: Line) -> bool:
    """The line itself says how to go on: a range ruled by effort, an RM, a step, or a condition."""
    dose = line.item.dose
    ranged = any(r is not None and not r.single for r in (dose.reps, dose.hold_s, dose.rm))
    return bool((ranged and dose.rir) or dose.rm or dose.step or line.item.conditions)


def _conditions(cycle: Cycle) -> Iterator[Condition]:
    """The conditions of a cycle, of its sessions and blocks."""
    yield from cycle.conditions
    for session in cycle.sessions:
        yield from session.conditions
        for block in session.blocks:
            yield from block.conditions


def _find(course: Course) -> Iterator[Hit]:
    if any(c.text.lower().startswith("when") for c in course.programme.conditions):
        return
    for cycle in course.programme.cycles:
        if any(c.text.lower().startswith("when") for c in _conditions(cycle)):
            continue
        weeks = [w for w in range(cycle.first_week, cycle.last_week + 1) if w in course.by_week]
        hard = {w: [line for line in course.by_week[w] if line.hard] for w in weeks}
        if (
            len(weeks) <= course.value("same-weeks")
            or not hard[weeks[0]]
            or any(_steers(line) for line in hard[weeks[0]])
        ):
            continue
        asked = {tuple(_asked(line) for line in lines) for lines in hard.values()}
        if len(asked) == 1:
            what = f"every line of cycle {cycle.key} asks the same"
            for week in weeks:
                yield Hit(week, cycle.span, what, "Write a by-week table, a range with RIR, or `when all reps ...`.")


RULE = Rule(
    name="progression",
    level="advice",
    says="In a cycle of more than four weeks something progresses: a table, a range ruled by effort, an RM, or a condition.",
    why="The same work again and again trains only until it is easy.",
    source="Ratamess 2009, progression (seen)",
    strength="moderate",
    thresholds=("same-weeks",),
    find=_find,
)
