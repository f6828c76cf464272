"""A load where it can be carried."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule, joined
from ferrule.programme.text import PLACE_WORDS


def _find(course: Course) -> Iterator[Hit]:
    for line in course.lines:
        load, variant = line.item.dose.load, line.variant
        if load is None or variant is None or load.none or (load.kg is None and load.place is None):
            continue
        if not variant.loading:
            what = f"{line.where}: {line.name} is written with a load, and the library knows no way to carry one"
            yield Hit(line.week, line.item.span, what, "Take out the load, or take a harder variant.")
        elif load.place is not None and load.place not in variant.loading:
            known = joined(PLACE_WORDS[p] for p in variant.loading)
            what = f"{line.where}: {line.name} is not loaded {PLACE_WORDS[load.place]}"
            yield Hit(line.week, line.item.span, what, f"The library knows {known}.")


RULE = Rule(
    name="load-place",
    level="advice",
    says="A load stands at a place where its exercise can carry one.",
    why="The runner has to guess, and what the load asks cannot be told.",
    source="common practice, no source; places as in the library",
    strength="common practice",
    thresholds=(),
    find=_find,
)
