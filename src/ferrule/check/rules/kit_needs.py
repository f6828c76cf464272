"""The kit named is the kit needed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course, Line
from ferrule.check.minutes import variant_of
from ferrule.check.rule import Rule, joined
from ferrule.model.finding import Edit, Finding
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
    return frozenset(k for k in KIT_KINDS if k in words and re.search(rf"\b{k}(?:s|es)?\b", words))


def _takes_load(line: Line) -> bool:
    load = line.item.dose.load
    return bool(line.variant and line.variant.loading and not (load and load.none))


def _missing(course: Course, have: frozenset[KitKind], used: set[KitKind]) -> dict[KitKind, Line]:
    """The first line that needs each kind that is not named; `used` is filled with what any line needs."""
    out: dict[KitKind, Line] = {}
    seen: set[int] = set()
    for line in course.lines:
        if id(line.item) in seen:
            continue
        seen.add(id(line.item))
        kit = line.variant.kit if line.variant else ()
        used.update(kit)
        for other in line.item.alternatives:
            variant = variant_of(other, course.library)
            used.update(variant.kit if variant else ())
        for kind in sorted(kit):
            if not (kind in have or kind in _EVERYBODY or _STANDS_IN.get(kind, frozenset()) & have):
                out.setdefault(kind, line)
    return out


def _edit(course: Course, missing: Iterator[str]) -> tuple[Edit, ...]:
    """`needs:` with the missing kinds written behind it; a new line where there is none."""
    front, words = course.programme.front, "; ".join(missing)
    entry = next((e for e in front if e.key == "needs"), None)
    at = (entry or front[-1]).span if front else None
    if at is None or at.end_column is None:
        return ()
    sign = "\nneeds: " if entry is None else "; " if entry.value else " "
    return (Edit(type(at)(at.file, at.line, at.end_column, at.end_column), sign + words),)


def _find(course: Course) -> Iterator[Finding]:
    programme = course.programme
    entry = next((e.span for e in programme.front if e.key == "needs"), None)
    named = {phrase: kinds_in(phrase) for phrase in programme.needs}
    have = frozenset(k for kinds in named.values() for k in kinds)
    used: set[KitKind] = set()
    missing = _missing(course, have, used)
    edits = _edit(course, iter(missing)) if missing else ()
    if missing and entry is None:
        first = next(iter(missing.values()))
        what = f"There is no `needs:`, and the lines need {joined(f'a {kind}' for kind in missing)}"
        fix = f"Write `needs: {'; '.join(missing)}` at the top, or take other exercises."
        yield RULE.finding(what, fix, front[-1].span if (front := programme.front) else first.item.span, (), edits)
        return
    for kind, line in missing.items():
        what = f"{line.name} needs a {kind}, which `needs:` does not name"
        fix = f"Add `{kind}` to `needs:`, or another exercise."
        yield RULE.finding(what, fix, line.item.span, (entry,) if entry else (), edits)
    if not named:
        return
    if any(_takes_load(line) for line in course.lines):
        used |= _LOADS
    stands_in = {k for kind in used for k in _STANDS_IN.get(kind, frozenset())}
    for phrase, kinds in named.items():
        if kinds and not kinds & (used | stands_in | _EVERYBODY) and not kinds & kinds_in(course.said):
            yield RULE.finding(f"`needs:` names {phrase}, and no line uses it", "Take it out of `needs:`.", entry)


RULE = Rule(
    name="kit-needs",
    level="advice",
    says="`needs:` names every piece of kit the lines need, and nothing that no line or note uses.",
    why="Runners read it before they begin, and the squad's kit is held against it.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
    mends=True,
)
