"""Drafts -> variants with their demands, each in units of its group's anchor variant.

    number, ratio   base = d0(variant) / d0(anchor);  per_kg[place] = d1(variant, place) / d0(anchor)
    order           base = difficulty, per_kg as the author wrote them

d0, d1: demand per kg of body mass without load, and per kg of load, from the statics of the pose.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ferrule.library.draft import Draft
from ferrule.library.golden_asks import GOLDEN
from ferrule.model.exercise import Ask, Variant
from ferrule.model.finding import Finding
from ferrule.model.words import Group

ANCHORS: dict[Group, str] = {
    "calf straight": "heel-raise-one-leg",
    "calf bent": "heel-raise-bent-one-leg",
    "knee and hip": "squat",
    "hinge": "hinge-two-legs",
    "bridge and knee flexion": "bridge-two-legs",
    "hip abduction": "side-lying-leg-lift",
    "hip adduction": "side-lying-inner-leg-lift",
    "trunk front": "front-plank",
    "trunk side": "side-plank",
    "trunk back": "prone-raise",
    "push": "press-up",
    "pull": "towel-row",
}
"""The gauge of each group: this variant without load is 1.0."""


def with_asks(draft: Draft, anchors: Mapping[Group, Draft]) -> tuple[Variant, tuple[Finding, ...]]:
    """The variant with its asks, the main one first, and what could not be worked out."""
    findings: list[Finding] = []
    asks: list[Ask] = []
    if draft.group is not None:
        main = _main(draft, draft.group, anchors, findings)
        if main:
            asks.append(main)
    for group, base in draft.also.items():
        if all(a.group != group for a in asks):
            asks.append(Ask(group, round(base, 4), {}, "order", main=False))
    return replace(draft.variant, asks=tuple(asks)), tuple(findings)


def _main(draft: Draft, group: Group, anchors: Mapping[Group, Draft], findings: list[Finding]) -> Ask | None:
    if draft.difficulty is not None:
        return Ask(group, draft.difficulty, dict(draft.per_kg), draft.trust or "order", main=True)
    if draft.variant.id in GOLDEN:
        base, per_kg = GOLDEN[draft.variant.id]
        return Ask(group, base, dict(per_kg), draft.trust or "ratio", main=True)
    what = f"{draft.variant.name} is dosed on {group} but says nothing of how hard it is"
    fix = "write `difficulty = 1.0` (the anchor exercise is 1.0), or place it with `harder_than` and `easier_than`"
    findings.append(Finding("library-missing-key", "error", what, "without it no dose can be fitted", fix, draft.span))
    return None
