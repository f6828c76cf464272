"""How far a demand moves with what nobody knows about the runner or the pose, and the table that says so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import pytest

from ferrule.body.accuracy_test import section
from ferrule.body.golden_test import movement
from ferrule.body.segments import Person
from ferrule.body.statics import NoSuchPosture, solve, solve_posture
from ferrule.model.pose import Angle, Movement, Pose

POSES = (
    "push_up_floor", "push_up_knees", "push_up_hands_30", "push_up_wall", "squat", "split_squat",
    "split_squat_rear_raised", "single_leg_squat_box", "step_up", "hinge_one", "heel_rise_one", "bridge_one",
    "hip_thrust", "side_plank_feet", "front_plank", "adductor_plank_ankle", "side_lying_abduction",
    "single_leg_stance",
)  # fmt: skip
LIMBS = ("legs", "lead", "rear", "arms", "lead_arm", "rear_arm")


def demand(base: Movement, person: Person = Person()) -> float:  # noqa: B008 - a frozen value
    found = solve(base, person=person).demand
    assert found is not None
    return found


def turned(pose: Pose, by: float) -> Iterator[Pose]:
    """The pose with one written angle changed, one after the other; solved angles stay solved."""

    def other(angle: Angle) -> Angle | None:
        return None if isinstance(angle, str) else angle + by

    for name in ("trunk", "line", "head"):
        value = getattr(pose, name)
        if value is not None and (new := other(value)) is not None:
            yield replace(pose, **{name: new})  # type: ignore[arg-type]
    for limb in LIMBS:
        table: Mapping[str, Angle] = getattr(pose, limb)
        for key, value in table.items():
            if (new := other(value)) is not None:
                yield replace(pose, **{limb: {**table, key: new}})  # type: ignore[arg-type]


def change(value: float, base: float) -> float:
    return 100 * abs(value / base - 1)


def by_angles(base: Movement) -> float:
    start, worst = demand(base), 0.0
    for by in (-5.0, 5.0):
        for pose in turned(base.hold, by):
            try:
                worst = max(worst, change(demand(replace(base, hold=pose)), start))
            except NoSuchPosture:
                continue
    return worst


def by_friction(base: Movement) -> float | None:
    """A tenth of the body weight more or less in the friction pair; None where geometry leaves no choice."""
    solved = solve(base)
    if len(solved.posture.contacts) != 2 or any(c.on == "wall" for c in base.contacts):
        return None
    start = solved.demand or 0.0
    moved = [solve_posture(solved.posture, solved.friction + by).demand or 0.0 for by in (-0.1, 0.1)]
    return max(change(value, start) for value in moved)


def by_share(base: Movement) -> float | None:
    """The imposed share 0.05 more or less; None where none is imposed."""
    shared = base.contacts[0].share
    if shared is None or shared == 1.0:
        return None
    start = demand(base)
    contacts = [replace(base.contacts[0], share=shared + by) for by in (-0.05, 0.05)]
    return max(change(demand(replace(base, contacts=(c, *base.contacts[1:]))), start) for c in contacts)


def by_person(base: Movement) -> tuple[float, float]:
    start = demand(base)
    tall = max(change(demand(base, Person(height_m=h)), start) for h in (1.70, 1.80))
    return tall, change(demand(base, Person(table="women")), start)


def sensitivity_table() -> str:
    def cell(value: float | None) -> str:
        return "-" if value is None else f"{value:.0f} %" if value >= 0.5 else "0"

    lines = [
        "| pose (its demand) | one angle ±5° | friction ±0.1 weight | share ±0.05 | height ±5 cm | women's table |",
        "|---|---|---|---|---|---|",
    ]
    for name in POSES:
        base = movement(name)
        tall, women = by_person(base)
        values = (by_angles(base), by_friction(base), by_share(base), tall, women)
        lines.append(f"| {name.replace('_', ' ')} | " + " | ".join(cell(v) for v in values) + " |")
    return "\n".join(lines)


def test_the_table_in_the_docs_is_what_is_computed(request: pytest.FixtureRequest) -> None:
    section("sensitivity", sensitivity_table(), update=bool(request.config.getoption("--golden-update")))


def test_dosed_families_move_little_and_ordered_ones_much() -> None:
    """Why press-ups and squats are numbers or ratios, and bridges and planks only an order."""
    for name in ("push_up_floor", "push_up_knees", "squat", "split_squat", "single_leg_squat_box", "heel_rise_one"):
        base = movement(name)
        assert by_angles(base) < 10
        assert (by_friction(base) or 0) < 10
    for name in ("bridge_one", "hip_thrust", "side_plank_feet"):
        assert (by_friction(movement(name)) or 0) > 10


def test_what_height_does() -> None:
    """Sums of moments follow the height (5 cm of 175 is 2.9 %), shares hardly."""
    assert by_person(movement("squat"))[0] == pytest.approx(2.9, abs=0.1)
    assert by_person(movement("push_up_floor"))[0] < 1.0
