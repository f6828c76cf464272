"""A way out for demanding lines."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.exercise import Library, Variant

_HOP = 3


def _up_the_family(variant: Variant, library: Library) -> float:
    """Share of the family that is easier, %; 0 when the family has one member or is not known."""
    family = library.families.get(variant.family)
    if family is None or len(family.variant_ids) < 2 or variant.id not in family.variant_ids:
        return 0.0
    return 100 * family.variant_ids.index(variant.id) / (len(family.variant_ids) - 1)


def _find(course: Course) -> Iterator[Hit]:
    limit = course.value("demanding")
    for line in course.lines:
        variant = line.variant
        if variant is None or line.item.alternatives or line.warm or not variant.easier:
            continue
        if line.impact >= _HOP or (line.hard and _up_the_family(variant, course.library) > limit):
            easier = course.library.variants.get(variant.easier[0])
            or_line = f"`- or {easier.name}`" if easier else "`- or ...`"
            what = f"{line.where}: {line.name} is among the harder of its family and has no alternative"
            yield Hit(line.week, line.item.span, what, f"Write under it, indented: {or_line}.")


RULE = Rule(
    name="alternatives",
    level="advice",
    says="A line among the harder of its family, or a hop on one leg, names an easier alternative.",
    why="Some of the squad cannot do it yet; the coach's own second choice beats one made for them.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("demanding",),
    find=_find,
)
