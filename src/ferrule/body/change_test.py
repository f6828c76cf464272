"""What moves, in words, where both ends read alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.body.change import change_words
from ferrule.body.figure import both_ends
from ferrule.body.names import Names
from ferrule.body.posture import posture
from ferrule.model.pose import Contact, Movement, Pose

BOTH = (Contact("foot"),)
STANDING = Movement(Pose(trunk=0), BOTH, "")


def said(hold: Pose, other: Pose, side: str = "") -> str:
    movement = replace(STANDING, hold=hold, other=other)
    names = Names("left") if side else Names()
    return change_words(posture(movement, at="other"), posture(movement), names)


@pytest.mark.parametrize(
    ("hold", "words"),
    [
        (Pose(trunk=0, lead_arm={"arm": 20}), "the working hand moving ahead"),
        (Pose(trunk=0, rear_arm={"arm": -20}), "the other hand moving back"),
        (Pose(trunk=0, arms={"arm": 20}), "the hands moving ahead"),
        (Pose(trunk=0, head=14), ""),
    ],
)
def test_what_moves_is_named_with_its_way(hold: Pose, words: str) -> None:
    assert said(hold, Pose(trunk=0)) == words


def test_sides_go_by_name_where_they_are_known() -> None:
    assert said(Pose(trunk=0, lead_arm={"arm": 20}), Pose(trunk=0), "left") == "the left hand moving ahead"


def test_a_leg_that_goes_out_of_the_middle_goes_to_the_side() -> None:
    one = Movement(Pose(trunk=0, rear={"spread": 12}), (Contact("foot", "lead"),), "", view="front",
                   other=Pose(trunk=0, rear={"spread": 2}))  # fmt: skip
    assert change_words(posture(one, at="other"), posture(one), Names()) == "the other foot moving out to the side"
    back = replace(one, hold=one.other or one.hold, other=one.hold)
    assert change_words(posture(back, at="other"), posture(back), Names()) == "the other foot moving inward"


def test_both_ends_that_read_alike_say_what_moves() -> None:
    swing = replace(STANDING, hold=Pose(trunk=0, arms={"arm": 20}), other=Pose(trunk=0))
    assert both_ends(swing).alt == "standing on both feet, the hands moving ahead"
