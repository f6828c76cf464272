"""The drawn way of a repetition: what rests does not slide, limbs keep their length, nothing goes through the floor."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.body.figure_test import BONES, length
from ferrule.body.golden_test import POSES, movement
from ferrule.body.motion import motion_of
from ferrule.body.posture import NoSuchPosture, posture, through_floor
from ferrule.model.pose import Contact, Movement, Pose, Prop

REPEATED = [name for name in sorted(POSES) if movement(name).other]
STANDING = Pose(trunk=0, legs={"thigh": 0, "shin": 0})
LUNGE = replace(movement("split_squat"), other=STANDING, other_contacts=(Contact("foot"),), demand="")


@pytest.mark.parametrize("name", REPEATED)
def test_feet_and_hands_do_not_slide(name: str) -> None:
    way = motion_of(movement(name))
    for i in range(33):
        p = way.at(i / 32)
        for pin in way.fixed:
            assert abs(p.points[pin.point] - pin.place) < 0.0005, (pin.point, i)
        assert through_floor(p) == ()


@pytest.mark.parametrize("name", REPEATED)
def test_limbs_keep_their_length(name: str) -> None:
    way = motion_of(movement(name))
    if way.movement.view == "side":
        for bone in BONES:
            for t in (0.0, 0.3, 0.7):
                assert length(way.at(t), bone) == pytest.approx(length(way.end, bone), abs=1e-9), bone


def test_it_ends_where_the_figure_stands() -> None:
    way = motion_of(movement("squat"))
    assert way.at(1.0) == posture(movement("squat"))
    start = posture(movement("squat"), at="other")
    for name in ("head_cm", "lead.knee", "lead.shoulder"):
        assert abs(way.at(0.0).points[name] - start.points[name]) < 0.005


def test_one_foot_stays_and_the_other_steps() -> None:
    back = motion_of(LUNGE)
    assert [pin.point for pin in back.fixed] == ["lead.ankle"]
    assert set(back.steps) == {"rear.ankle"}
    half = back.at(0.5).points
    assert half["rear.ball"].imag > 0.03, "the foot is lifted on the way"
    ahead = motion_of(replace(LUNGE, steps="lead"))
    assert [pin.point for pin in ahead.fixed] == ["rear.ball"]
    assert set(ahead.steps) == {"lead.ankle"}
    travel = ahead.end.points["lead.ankle"].real - ahead.at(0.0).points["lead.ankle"].real
    assert travel > 0.5


def test_a_foot_on_a_towel_slides_and_is_not_lifted() -> None:
    # the rear foot, which would step, lies on a towel
    slid = motion_of(replace(LUNGE, props=(Prop("towel", "ball"),)))
    assert all(lift == 0 for _, _, lift in slid.steps.values())
    low = [slid.at(i / 8).points["rear.ball"].imag for i in range(9)]
    assert max(low) < 0.06


def test_a_jump_leaves_the_floor_only_when_the_legs_are_long() -> None:
    deep = movement("squat").hold
    up = Pose(trunk=2, legs={"thigh": 5, "shin": 5, "foot": 40}, arms={"arm": 170})
    jump = Movement(deep, (Contact("foot", cop=0.45),), "", other=up, other_contacts=(Contact("air", height_m=0.2),))
    way = motion_of(jump)
    balls = [way.at(t).points["lead.ball"].imag for t in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)]
    assert balls[0] == pytest.approx(0.2, abs=1e-6)
    assert balls[1] == pytest.approx(0.15, abs=1e-6), "half way of the time: a quarter of the height below the top"
    assert balls[2:] == pytest.approx([0.0] * 4, abs=1e-4)
    assert way.at(0.1).contacts == ()


def test_who_hangs_hangs_straight_down() -> None:
    bar = (Contact("hand", on="bar", height_m=2.2),)
    top = Pose(trunk="~-5", legs={"thigh": 5, "shin": 30}, arms={"arm": 16, "forearm": 168})
    low = Pose(trunk="~0", legs={"thigh": 5, "shin": 30}, arms={"arm": 176, "forearm": 178})
    way = motion_of(Movement(top, bar, "", other=low))
    palm = way.end.points["lead.wrist"]
    for t in (0.25, 0.5, 0.75):
        points = way.at(t).points
        assert abs(points["lead.wrist"] - palm) < 0.02
        assert abs(points["hip"].real - points["shoulder"].real) < 0.25


def test_what_is_held_still_does_not_move() -> None:
    with pytest.raises(NoSuchPosture, match="held still"):
        motion_of(movement("front_plank"))
