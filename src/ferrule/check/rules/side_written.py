"""A line for one side at a time says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Edit, Finding
from ferrule.model.programme import Item, Named
from ferrule.programme.text import item_text, name_text


def _unsaid(course: Course, item: Item) -> bool:
    """True where a number is written for a variant done on each side in turn, and no word of the sides."""
    dose, exercise = item.dose, item.exercise
    variant = course.library.variants.get(exercise.variant_id or "") if isinstance(exercise, Named) else None
    amount = dose.reps or dose.hold_s or dose.per_set
    return bool(variant and variant.sided and amount and dose.sides is None and not dose.sore_side_only)


def _find(course: Course) -> Iterator[Finding]:
    for cycle in course.programme.cycles:
        for session in cycle.sessions:
            for block in session.blocks:
                for item in block.items:
                    if _unsaid(course, item):
                        new = replace(item, dose=replace(item.dose, sides="each"))
                        edits = () if item.span.end_column is None else (Edit(item.span, item_text(new)),)
                        what = f"{name_text(item.exercise)} does not say whether its number is for each side or both together"
                        fix = f"Write `{item_text(new)}`; that is how it is read now."
                        yield RULE.finding(what, fix, item.span, (), edits)


RULE = Rule(
    name="side-written",
    level="advice",
    says="A line for one side at a time says `/side`, `total` or `alternating`.",
    why="Half the squad reads it one way and half the other: twice the work or half of it.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
    mends=True,
)
