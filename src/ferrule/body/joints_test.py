from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.body.golden_test import POSES, movement
from ferrule.body.joints import RANGES, beyond_range, joint_angles
from ferrule.body.posture import posture
from ferrule.model.pose import Contact, Movement, Pose


def test_angles_of_plain_poses() -> None:
    standing = joint_angles(posture(Movement(Pose(trunk=0), (Contact("foot"),), "")))
    assert standing == pytest.approx(dict.fromkeys(standing, 0.0), abs=1e-9)
    bent = Pose(trunk=20, head=30, legs={"thigh": 80, "shin": 25, "foot": 10}, arms={"arm": 90, "forearm": 120})
    found = joint_angles(posture(Movement(bent, (Contact("lying"),), "")))
    assert found["hip.lead"] == pytest.approx(100)
    assert found["knee.lead"] == pytest.approx(105)
    assert found["ankle.lead"] == pytest.approx(15)
    assert found["shoulder.lead"] == pytest.approx(110)
    assert found["elbow.lead"] == pytest.approx(30)
    assert found["neck"] == pytest.approx(10)


def test_an_arm_stretched_past_the_head_counts_on() -> None:
    up = posture(Movement(Pose(trunk=0, arms={"arm": 190}), (Contact("foot"),), ""))
    assert joint_angles(up)["shoulder.lead"] == pytest.approx(190)


@pytest.mark.parametrize(
    ("pose", "joint"),
    [
        (Pose(trunk=0, legs={"thigh": 0, "shin": -20}), "knee.lead -20 (from -6)"),
        (Pose(trunk=0, legs={"thigh": 120, "shin": 60}), "knee.lead 180 (to 160)"),
        (Pose(trunk=0, legs={"thigh": -50, "shin": 50}), "hip.lead -50 (from -35)"),
        (Pose(trunk=90, legs={"thigh": 80}), "hip.lead 170 (to 165)"),
        (Pose(trunk=0, legs={"shin": 60}), "ankle.lead 60 (to 46)"),
        (Pose(trunk=0, arms={"arm": -80}), "shoulder.lead -80 (from -65)"),
        (Pose(trunk=0, arms={"arm": 0, "forearm": 170}), "elbow.lead 170 (to 155)"),
        (Pose(trunk=0, head=80), "neck 80 (to 60)"),
    ],
)
def test_what_no_joint_does_is_noticed(pose: Pose, joint: str) -> None:
    assert joint in beyond_range(posture(Movement(pose, (Contact("lying"),), "")))


def test_every_range_says_where_it_comes_from() -> None:
    for name, span in RANGES.items():
        assert span.low < 0 < span.high, name
        assert "memory" in span.source, name


@pytest.mark.parametrize("name", sorted(POSES))
def test_the_reference_poses_can_be_taken(name: str) -> None:
    assert beyond_range(posture(movement(name))) == ()


def test_a_front_view_says_nothing() -> None:
    squat = replace(movement("single_leg_stance"))
    assert joint_angles(posture(squat)) == {}
