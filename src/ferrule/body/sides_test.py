"""Left and right: the figure is turned, and the words name the side."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from ferrule.body.figure import both_ends, figure
from ferrule.body.golden_test import movement
from ferrule.body.sides import OneSide, drawn_side, one_sided, sided
from ferrule.model.pose import Contact, Movement, Pose


def test_the_near_side_of_somebody_facing_right_is_the_right_one() -> None:
    assert drawn_side(movement("split_squat")) == "right"
    assert sided(movement("split_squat"), "left").flip
    assert not sided(movement("split_squat"), "right").flip


def test_in_a_front_view_the_left_is_to_the_right_of_the_picture() -> None:
    """`lead` is on the left of the picture unless it is `down`; whoever is looked in the face has the right there."""
    stance = movement("single_leg_stance")
    assert drawn_side(stance) == "right"
    assert drawn_side(movement("side_lying_adduction")) == "left"


@pytest.mark.parametrize("name", ["split_squat", "single_leg_stance", "side_lying_abduction", "hinge_one", "step_up"])
def test_one_side_is_the_exact_mirror_of_the_other(name: str) -> None:
    sides: tuple[OneSide, OneSide] = ("left", "right")
    left, right = (figure(movement(name), side=side).svg for side in sides)
    turned, plain = (left, right) if 'scale(-1 1)"' in left else (right, left)
    assert 'scale(-1 1)"' not in plain
    inner = re.search(r'<g transform="scale\(-1 1\)">(.*)</g></svg>', turned)
    assert inner is not None
    assert inner.group(1) in plain
    boxes = [list(map(float, ElementTree.fromstring(svg).attrib["viewBox"].split())) for svg in (plain, turned)]
    assert boxes[1][0] == pytest.approx(-(boxes[0][0] + boxes[0][2]), abs=0.11)
    assert boxes[1][1:] == pytest.approx(boxes[0][1:], abs=0.11)


def test_the_words_name_the_side() -> None:
    left = figure(movement("single_leg_squat_leg_front"), side="left", load_place="opposite hand").alt
    assert left.startswith("standing on the left leg, left knee bent")
    assert "the right leg stretched in front" in left
    assert left.endswith("a weight in the right hand")
    for word in ("working", "other", "one leg"):
        assert word not in left
    assert "lying on the left side, the right leg raised" not in left
    lying = both_ends(movement("side_lying_abduction"), side="right").alt
    assert "lying on the left side" in lying, "the working leg is the upper one"


def test_what_is_the_same_on_both_sides_is_not_turned() -> None:
    squat = movement("squat")
    assert not one_sided(squat)
    assert figure(squat, side="left") == figure(squat)
    assert one_sided(squat, "same hand")
    assert one_sided(replace(squat, contacts=(Contact("foot", "lead"),)))
    arm = Movement(Pose(trunk=0, lead_arm={"arm": 90}), (Contact("foot"),), "")
    assert one_sided(arm)


def test_the_start_stays_on_the_left_of_the_page() -> None:
    """A turned pair is still read from left to right."""
    pieces = both_ends(movement("hinge_one"), side="left").svg
    assert pieces.count("scale(-1 1)") == 2
    assert pieces.index("scale(-1 1)") < pieces.index("translate(")
