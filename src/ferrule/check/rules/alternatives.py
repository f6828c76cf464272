"""A way out for demanding lines."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.exercise import Library, Variant

_HOP = 3
_MATTERS = 1.3
"""Times the family's least demand from which on an easier one is a way out (our choice)."""


def _up_the_family(variant: Variant, library: Library) -> float:
    """How far up from the least to the most its family asks, %; 0 where the easiest is hardly easier."""
    family = library.families.get(variant.family)
    members = [library.variants[i] for i in family.variant_ids if i in library.variants] if family else []
    asks = [v.main.base for v in members if v.main]
    if variant.main is None or not asks or variant.main.base < _MATTERS * min(asks):
        return 0.0
    return 100 * (variant.main.base - min(asks)) / (max(asks) - min(asks))


def _find(course: Course) -> Iterator[Hit]:
    limit = course.value("demanding")
    up: dict[str, float] = {}
    for line in course.lines:
        variant = line.variant
        if variant is None or line.item.alternatives or line.warm or not variant.easier:
            continue
        suits = line.item.dose.rm or (line.item.dose.percent and line.item.dose.percent.of == "1RM")
        if variant.id not in up:
            up[variant.id] = _up_the_family(variant, course.library)
        if line.impact >= _HOP or (line.hard and not suits and up[variant.id] > limit):
            easier = course.library.variants.get(variant.easier[0])
            or_line = f"`- or {easier.name}`" if easier else "`- or ...`"
            what = f"{line.where}: {line.name} is among the harder of its family and has no alternative"
            yield Hit(line.week, line.item.span, what, f"Write under it, indented: {or_line}.")


RULE = Rule(
    name="alternatives",
    level="advice",
    says="A line among the harder of its family, or a hop on one leg, names an easier alternative; loads by RM suit themselves.",
    why="Some of the squad cannot do it yet; the coach's own second choice beats one made for them.",
    source="common practice, no source",
    strength="common practice",
    thresholds=("demanding",),
    find=_find,
)
