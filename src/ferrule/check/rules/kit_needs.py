"""The kit named is the kit needed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.minutes import variant_of
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding
from ferrule.model.programme import Item
from ferrule.model.words import KIT_KINDS, KitKind

_EVERYBODY: frozenset[KitKind] = frozenset({"wall", "towel"})
_LOADS: frozenset[KitKind] = frozenset(
    {"dumbbell", "kettlebell", "barbell", "plate", "rucksack", "water bottle", "heavy book", "band"}
)
_STANDS_IN: dict[KitKind, frozenset[KitKind]] = {
    "step": frozenset({"stair", "box"}),
    "stair": frozenset({"step", "box"}),
    "box": frozenset({"bench", "step", "stair"}),
    "bench": frozenset({"chair", "sofa", "box"}),
    "chair": frozenset({"bench", "sofa", "box"}),
    "sofa": frozenset({"bench", "chair", "box"}),
}
"""Kinds that do the same job in a home (common practice, no source)."""


def kinds_in(text: str) -> frozenset[KitKind]:
    """Kinds of kit that a phrase of `needs:` names, singular or plural: "one dumbbell or kettlebell"."""
    words = " ".join(re.sub(r"[^a-z ]", " ", text.lower()).split())
    return frozenset(k for k in KIT_KINDS if re.search(rf"\b{k}(?:s|es)?\b", words))


def _needed(course: Course, item: Item) -> frozenset[KitKind]:
    variant = variant_of(item, course.library)
    return frozenset(variant.kit) - _EVERYBODY if variant else frozenset()


def _takes_load(line: Line) -> bool:
    load = line.item.dose.load
    return bool(line.variant and line.variant.loading and not (load and load.none))


def _find(course: Course) -> Iterator[Finding]:
    programme = course.programme
    entry = next((e.span for e in programme.front if e.key == "needs"), None)
    named = {phrase: kinds_in(phrase) for phrase in programme.needs}
    have = frozenset(k for kinds in named.values() for k in kinds)
    used: set[KitKind] = set()
    told: set[KitKind] = set()
    for line in course.lines:
        for item in (line.item, *line.item.alternatives):
            used |= _needed(course, item)
        for kind in sorted(_needed(course, line.item)):
            if kind in told or kind in have or _STANDS_IN.get(kind, frozenset()) & have:
                continue
            told.add(kind)
            what = f"{line.name} needs a {kind}, which `needs:` does not name"
            yield RULE.finding(
                what, f"Add `{kind}` to `needs:`, or another exercise.", line.item.span, (entry,) if entry else ()
            )
    if any(_takes_load(line) for line in course.lines):
        used |= _LOADS
    stands_in = {k for kind in used for k in _STANDS_IN.get(kind, frozenset())}
    for phrase, kinds in named.items():
        if kinds and not kinds & (used | stands_in | _EVERYBODY):
            yield RULE.finding(f"`needs:` names {phrase}, and no line uses it", "Take it out of `needs:`.", entry)


RULE = Rule(
    name="kit-needs",
    level="advice",
    says="`needs:` names every piece of kit the lines need, and nothing that no line uses.",
    why="Runners read it before they begin, and the squad's kit is held against it.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
