"""Drafts -> variants with their demands, each in units of its group's anchor variant.

    number, ratio   base = d0(variant) / d0(anchor);  per_kg[place] = d1(variant, place) / d0(anchor)
    order           base = difficulty, per_kg as the author wrote them

d0, d1: demand per kg of body mass without load, and its slope per kg of load, largest along the way of a repetition
(ferrule.body.demand). Second demands come from the same pose (`also_pose`) or by hand (`also`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from ferrule.body.angles import number_of
from ferrule.body.demand import demand_of, demands_of
from ferrule.body.posture import NoSuchPosture, posture
from ferrule.library.draft import Draft, PoseAsk
from ferrule.model.exercise import Ask, Variant
from ferrule.model.finding import Finding
from ferrule.model.pose import Movement
from ferrule.model.words import Group, Place, Trust

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

BENT_KNEE_DEG = 20.0
"""From this bend of the knee up, the ankle's demand counts for the bent-knee calf (common practice, no source)."""

_LEAST = 0.02
_QUANTITY: dict[PoseAsk, tuple[str, Trust]] = {
    "calf": ("ankle.lead", "ratio"),
    "knee and hip": ("hip+knee.lead", "ratio"),
    # the split between hip and knee is decided by the drawn posture, so the hip alone is only an order
    "hinge": ("hip.lead", "order"),
}


@dataclass(frozen=True, slots=True)
class Gauge:
    """d0 of each group's anchor variant, worked out when first asked for.

    movements   pose of every variant by id
    """

    movements: Mapping[str, Movement | None]
    known: dict[Group, float | None] = field(default_factory=dict)

    def d0(self, group: Group) -> float | None:
        """Demand of the group's anchor without load, in the units of its own pose; None when its pose gives none."""
        if group not in self.known:
            movement = self.movements.get(ANCHORS[group])
            try:
                self.known[group] = demand_of(movement)[0] if movement and movement.demand else None
            except NoSuchPosture:
                self.known[group] = None
        return self.known[group]


def with_asks(draft: Draft, gauge: Gauge) -> tuple[Variant, tuple[Finding, ...]]:
    """The variant with its asks, the main one first, and what could not be worked out.

    A pose that cannot be taken is told and left out: the exercise then has no figure, and no demand unless its author
    wrote a `difficulty`.
    """
    draft, faults = without_bad_pose(draft)
    findings = list(faults)
    variant = draft.variant
    asks: list[Ask] = []
    if draft.group is not None:
        main = _main(draft, draft.group, gauge, findings)
        if main:
            asks.append(main)
    if variant.movement is not None:
        for name in draft.also_pose:
            asks += _new(asks, [_second(name, variant.movement, variant.loading, gauge)])
    asks += _new(asks, [Ask(g, b, {}, "order", main=False) for g, b in draft.also.items()])
    return replace(variant, asks=tuple(asks)), tuple(findings)


def _new(asks: Iterable[Ask], more: Iterable[Ask | None]) -> list[Ask]:
    taken = {a.group for a in asks}
    return [a for a in more if a is not None and a.group not in taken]


def _main(draft: Draft, group: Group, gauge: Gauge, findings: list[Finding]) -> Ask | None:
    name, movement = draft.variant.name, draft.variant.movement
    if draft.difficulty is not None:
        return Ask(group, draft.difficulty, dict(draft.per_kg), "order", main=True)
    if draft.trust in ("number", "ratio") and movement is not None and (anchor := gauge.d0(group)):
        try:
            return _computed(movement, draft.variant.loading, group, anchor, draft.trust, main=True)
        except NoSuchPosture as error:
            what, why = f"the demand of {name} cannot be worked out: {error}", "without it no dose can be fitted"
            fix = "mend the pose or the loading places, or write `difficulty`"
            findings.append(Finding("library-no-posture", "error", what, why, fix, draft.span))
            return None
    if not findings:
        what = f"{name} is dosed on {group} but nothing says how hard it is"
        fix = "write `difficulty` (the anchor exercise is 1.0), or place it with `harder_than` and `easier_than`"
        why = "without it no dose can be fitted"
        findings.append(Finding("library-missing-key", "error", what, why, fix, draft.span))
    return None


def _computed(
    movement: Movement, loading: Iterable[Place], group: Group, anchor: float, trust: Trust, *, main: bool
) -> Ask:
    base, slopes = demands_of(movement, loading)
    per_kg: dict[Place, float] = {place: round(slope / anchor, 4) for place, slope in slopes.items()}
    return Ask(group, round(base / anchor, 4), per_kg, trust, main=main)


def _second(name: PoseAsk, movement: Movement, loading: Iterable[Place], gauge: Gauge) -> Ask | None:
    """A second demand read from the pose; None when it is next to nothing or the pose does not give it."""
    quantity, trust = _QUANTITY[name]
    group: Group = name if name != "calf" else ("calf bent" if knee_deg(movement) >= BENT_KNEE_DEG else "calf straight")
    anchor = gauge.d0(group)
    if not anchor:
        return None
    try:
        ask = _computed(replace(movement, demand=quantity), loading, group, anchor, trust, main=False)
    except NoSuchPosture:
        return None
    return ask if ask.base >= _LEAST else None


def knee_deg(movement: Movement) -> float:
    """Bend of the working knee at `hold`, degrees: thigh plus shin, both from upright; "~" angles as they start."""
    pose = movement.hold
    line = 0.0 if pose.line is None else number_of(pose.line) or 0.0
    leg = {**pose.legs, **pose.lead}
    thigh, shin = (number_of(leg.get(part, rest)) or 0.0 for part, rest in (("thigh", -line), ("shin", line)))
    return thigh + shin


def without_bad_pose(draft: Draft) -> tuple[Draft, tuple[Finding, ...]]:
    """The draft, without its pose when one of its ends cannot be taken, which is then told."""
    movement = draft.variant.movement
    if movement is None:
        return draft, ()
    try:
        posture(movement)
        if movement.other is not None:
            posture(movement, at="other")
    except NoSuchPosture as error:
        what = f"the pose of {draft.variant.name} cannot be taken: {error}"
        why, fix = (
            "it can be neither drawn nor used",
            "change the angles or the supports in `hold`, `other` and `contact`",
        )
        told = Finding("library-no-posture", "error", what, why, fix, draft.span)
        return replace(draft, variant=replace(draft.variant, movement=None)), (told,)
    return draft, ()
