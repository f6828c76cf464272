"""No gap in difficulty on the way up a family."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.minutes import variant_of
from ferrule.check.rule import Hit, Rule
from ferrule.model.exercise import Variant
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    most = course.value("harder-step-percent")
    hardest: dict[str, tuple[int, float, str]] = {}
    for line in course.lines:
        variant, main = line.variant, line.main
        if variant is None or main is None or line.warm:
            continue
        was = hardest.get(variant.family)
        if was is None or main.base > was[1]:
            hardest[variant.family] = (line.week, main.base, variant.name)
        if was is None or was[0] == line.week or main.base <= was[1] * (1 + most / 100):
            continue
        others = [v for o in line.item.alternatives if (v := variant_of(o, course.library))]
        if any(_near(other, was[1], most, variant) for other in others):
            continue
        between = _between(course, variant, was[1], main.base)
        if between:
            what = f"{line.where}: {line.name} asks {number(round(100 * (main.base / was[1] - 1)))} % more than {was[2]} before"
            yield Hit(line.week, line.item.span, what, f"Put {between} between them, or under it as `- or {between}`.")


def _near(other: Variant, before: float, most: float, variant: Variant) -> bool:
    """An alternative of the same family that is a step away at most."""
    return other.family == variant.family and bool(other.main and other.main.base <= before * (1 + most / 100))


def _between(course: Course, variant: Variant, low: float, high: float) -> str:
    """A variant of the family between the two demands; empty when there is none."""
    family = course.library.families.get(variant.family)
    ids = family.variant_ids if family else ()
    for other in (course.library.variants[i] for i in ids if i in course.library.variants):
        if other.main and low < other.main.base < high:
            return other.name
    return ""


RULE = Rule(
    name="harder-step",
    level="advice",
    says="From week to week a family goes up in steps: no exercise asks far more than the hardest of its family before.",
    why="Whoever could just do the last one cannot do the next, and the weeks between are lost.",
    source="common practice, no source; demands as in the library",
    strength="common practice",
    thresholds=("harder-step-percent",),
    find=_find,
)
