"""The moving figure as it is written: whole, small, still where it rests, and still for who asks for less motion."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from ferrule.body.figure import both_ends, figure
from ferrule.body.golden_test import POSES, movement
from ferrule.body.motion import motion_of
from ferrule.body.moving import FRAMES, Group, moving, moving_parts, scene
from ferrule.model.pose import Contact, Movement, Pose, Prop

REPEATED = [name for name in sorted(POSES) if movement(name).other]
LIMIT = 12_000
"""Bytes of one moving figure."""


def groups_of(m: Movement) -> list[Group]:
    way = motion_of(m)
    return scene(way, [way.at(i / FRAMES) for i in range(FRAMES + 1)], FRAMES, None)[0]


@pytest.mark.parametrize("name", REPEATED)
def test_it_is_whole_and_small(name: str) -> None:
    shown = moving(movement(name), title="Squat & press", load_place="back")
    root = ElementTree.fromstring(shown.svg)
    assert root.get("role") == "img"
    assert root[0].text == f"Squat & press: {shown.alt}"
    assert shown.alt == both_ends(movement(name), load_place="back").alt
    assert len(shown.svg.encode()) < LIMIT
    assert "<script" not in shown.svg
    assert not any({"id", "style"} & set(element.attrib) for element in root.iter())


@pytest.mark.parametrize("name", REPEATED)
def test_every_class_has_its_keyframes_and_every_keyframe_its_class(name: str) -> None:
    parts = moving_parts(movement(name))
    used = set(re.findall(r'class="(m\w{5}\d+)"', parts.svg))
    assert used
    assert set(re.findall(r"@keyframes (m\w+)\{", parts.style)) == used
    assert set(re.findall(r"animation-name:(m\w+)", parts.style)) == used
    for frames in re.findall(r"@keyframes \w+\{(.*?\})\}", parts.style):
        times = [float(t) for t in re.findall(r"([\d.]+)%[,{]", frames)]
        assert times == sorted(times)
        assert times[0] == 0
        assert "95%,to{" in frames


@pytest.mark.parametrize("name", REPEATED)
def test_a_resting_part_is_written_at_rest(name: str) -> None:
    """Between the frames a browser blends turn and shift: what rests must not slide a millimetre there either."""
    m = movement(name)
    way = motion_of(m)
    groups = groups_of(m)
    for pin in way.fixed:
        place = pin.place + (0.03 if pin.point.startswith("rear") and m.view == "side" else 0)
        slides = min(
            max(
                abs(g.track.between(i, part, place) - place)
                for i in range(FRAMES)
                for part in (0.0, 0.25, 0.5, 0.75, 1.0)
            )
            for g in groups
            if not g.track.still or _covers(g, place)
        )
        assert slides < 0.001, (pin.point, slides)


def _covers(group: Group, place: complex) -> bool:
    """A group at rest counts only where it is drawn."""
    numbers = [float(n) for n in re.findall(r"M(-?[\d.]+) (-?[\d.]+)", group.shape) for n in n]
    places = [complex(x, -y) / 100 for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    return any(abs(p - place) < 0.2 for p in places)


def test_less_motion_and_paper_get_both_ends_standing_still() -> None:
    style = moving_parts(movement("squat")).style
    still = style[style.index("@media") :]
    assert "prefers-reduced-motion:reduce" in still
    assert ",print" in still
    assert "animation:none" in still
    assert ".g{display:inline}" in still, "the other end is shown as a pale shape"
    assert ".g{display:none}" in style[: style.index("@media")]


def test_without_any_style_it_stands_at_its_end() -> None:
    """The attributes alone put every piece where the still figure has it."""
    svg = moving_parts(movement("squat")).svg
    assert 'class="g"' in svg
    assert svg.count("transform=") == len(re.findall(r'class="m\w{5}\d+"', svg))


def test_it_lasts_as_long_as_a_repetition_and_then_stops() -> None:
    style = moving_parts(movement("squat"), rep_s=4).style
    assert "animation:2s linear 6 alternate both" in style
    quick = moving_parts(movement("squat"), rep_s=0.5).style
    assert "animation:0.6s" in quick, "faster than this nobody sees anything"


def test_a_heel_rise_begins_at_its_hardest_end() -> None:
    heel = moving_parts(movement("heel_rise_one"))
    assert heel.alt.startswith("from standing on the ball of one foot, heel low")


def test_a_held_movement_is_the_still_figure() -> None:
    plank = movement("front_plank")
    assert moving(plank, title="Plank") == figure(plank, title="Plank")


def test_two_figures_in_one_page_do_not_share_names() -> None:
    first, second = moving_parts(movement("squat")), moving_parts(movement("split_squat"))
    keys = [set(re.findall(r"m\w{5}(?=[\d ])", parts.style)) for parts in (first, second)]
    assert not keys[0] & keys[1]


def test_the_left_side_is_turned_and_named() -> None:
    left = moving_parts(movement("split_squat"), side="left")
    assert 'scale(-1 1)"' in left.svg
    assert left.alt.startswith("from left foot on the floor")


def test_bands_and_loads_move_along() -> None:
    squat = movement("squat")
    assert moving_parts(squat, load_place="hands").style.count("@keyframes") > moving_parts(squat).style.count(
        "@keyframes"
    )
    march = Movement(
        Pose(trunk=0, lead={"thigh": 0}, rear={"thigh": 90, "shin": 0}), (Contact("foot", "lead"),), "",
        other=Pose(trunk=0), other_contacts=(Contact("foot"),), props=(Prop("band", "ankle"),),
    )  # fmt: skip
    assert "scaleX" in moving_parts(march).style


def test_a_limb_that_turns_out_of_the_picture_is_seen_shorter() -> None:
    clam = Movement(
        Pose(trunk=90, legs={"thigh": -90, "shin": "out"}, lead={"thigh": -90, "shin": -178}), (Contact("lying"),), "",
        view="front", down="rear", other=Pose(trunk=90, legs={"thigh": -90, "shin": "out"}),
    )  # fmt: skip
    assert "scaleX(0.000)" in moving_parts(clam).style


def test_a_jump_needs_more_room_than_its_landing() -> None:
    up = Pose(trunk=2, legs={"thigh": 5, "shin": 5, "foot": 40}, arms={"arm": 170})
    jump = replace(movement("squat"), other=up, other_contacts=(Contact("air", height_m=0.2),), demand="")
    low = replace(jump, other_contacts=(Contact("air", height_m=0.05),))
    assert moving_parts(jump).height > moving_parts(low).height
