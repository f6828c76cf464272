"""Every figure of the built-in library: on the floor, within what joints do, in balance, told apart in words."""

from __future__ import annotations

from functools import cache
from itertools import combinations, pairwise

import pytest

from ferrule.body.figure import both_ends, solved
from ferrule.body.joints import beyond_range
from ferrule.body.limbs import outline
from ferrule.body.motion import Motion, motion_of
from ferrule.body.moving import moving_parts
from ferrule.body.posture import End, Posture, through_floor
from ferrule.body.sides import one_sided
from ferrule.library.reader import load_library
from ferrule.model.exercise import Variant
from ferrule.model.pose import Movement

VARIANTS = {v.id: v for v in load_library()[0].variants.values() if v.movement is not None}
ENDS: list[tuple[str, End]] = [
    *((i, "hold") for i in VARIANTS),
    *((i, "other") for i, v in VARIANTS.items() if v.movement is not None and v.movement.other is not None),
]
MOVING = [i for i, at in ENDS if at == "other"]

# The picture is flat; these turn the trunk or the arms out of it, and a joint angle read off it means nothing.
OUT_OF_THE_PICTURE = {
    "thread-the-arm": "shoulder: the trunk turns, the arm points up beside it",
    "lunge-and-turn": "shoulder: the trunk turns, the arm points up beside it",
    "prone-arm-raise-bent": "elbow: the arms lie out to the side, the forearms along the head",
}
FEET = ("foot", "ball", "heel", "ankle")
SOLE = 0.05
"""Half the width of a foot, for a front view, m."""
LARGEST = 17_500
"""Bytes; all but one in eight stay below 12,000: leaps, jumps and what walks on hands and feet move every limb."""


def movement(i: str) -> Movement:
    found = VARIANTS[i].movement
    assert found is not None
    return found


@cache
def posture(i: str, at: End) -> Posture:
    return solved(movement(i), at, None)


@cache
def way(i: str) -> Motion:
    return motion_of(movement(i))


@pytest.mark.parametrize(("i", "at"), ENDS)
def test_nothing_is_below_the_floor(i: str, at: End) -> None:
    p = posture(i, at)
    assert through_floor(p) == ()
    assert min(c.imag - r for c, r in outline(p).rounds) > -0.03


@pytest.mark.parametrize(("i", "at"), ENDS)
def test_joints_stay_within_their_range(i: str, at: End) -> None:
    joints = {text.split(".")[0] for text in beyond_range(posture(i, at))}
    allowed = {OUT_OF_THE_PICTURE[i].split(":")[0]} if i in OUT_OF_THE_PICTURE else set()
    assert joints <= allowed, beyond_range(posture(i, at))


def held_by_feet_alone(variant: Variant, p: Posture) -> bool:
    """Standing: not against a wall, not in the middle of a run or a leap."""
    leans = any(prop.kind == "wall" and prop.under == "back" for prop in p.movement.props)
    standing = bool(p.contacts) and all(c.at in FEET and c.on != "wall" for c in p.contacts)
    return standing and not leans and variant.impact < 2


@pytest.mark.parametrize(("i", "at"), [(i, at) for i, at in ENDS if held_by_feet_alone(VARIANTS[i], posture(i, at))])
def test_the_mass_centre_is_over_the_feet(i: str, at: End) -> None:
    p = posture(i, at)
    sides = {s for c in p.contacts for s in ("lead", "rear") if c.limb in (s, "both")}
    xs = [p.points[f"{s}.{end}"].real for s in sides for end in ("heel", "toe")]
    wide = SOLE if p.movement.view == "front" else 1e-6
    assert min(xs) - wide <= p.centre.real <= max(xs) + wide


@pytest.mark.parametrize("i", VARIANTS)
def test_limbs_are_as_long_at_both_ends(i: str) -> None:
    if movement(i).view == "front" or movement(i).other is None:
        return
    first, last = posture(i, "other"), posture(i, "hold")
    for side in ("lead", "rear"):
        for a, b in (("hip", "knee"), ("knee", "ankle"), ("heel", "toe"), ("shoulder", "elbow"), ("elbow", "wrist")):
            bone = [abs(p.points[f"{side}.{a}"] - p.points[f"{side}.{b}"]) for p in (first, last)]
            assert bone[0] == pytest.approx(bone[1], abs=1e-9), (side, a)


@pytest.mark.parametrize("i", MOVING)
def test_what_rests_does_not_slide_and_nothing_sinks_on_the_way(i: str) -> None:
    moving = way(i)
    for step in range(17):
        p = moving.at(step / 16)
        grounded = not moving.flying or step / 16 >= 0.4
        for pin in moving.fixed if grounded else ():
            assert abs(p.points[pin.point] - pin.place) < 0.001, (pin.point, step)
        deep = [name for name in through_floor(p) if "wrist" not in name and "elbow" not in name]
        assert not deep, step


@pytest.mark.parametrize("i", MOVING)
def test_the_way_has_no_jump_in_it(i: str) -> None:
    """At most 40 cm for a joint in a sixteenth of the way, two thirds of that where nothing flies."""
    moving = way(i)
    shown = [moving.at(step / 16).points for step in range(17)]
    most = 0.4 if moving.flying else 0.27
    for first, last in pairwise(shown):
        assert max(abs(last[n] - first[n]) for n in first if n not in ("up", "ahead", "lead.palm", "rear.palm")) < most


@pytest.mark.parametrize("i", MOVING)
def test_feet_that_rest_at_both_ends_rest_at_the_same_place(i: str) -> None:
    """The way begins where the still figure begins: poses of both ends agree on where the supports are."""
    moving = way(i)
    if moving.flying or moving.path is None:
        return
    shown = moving.at(0.0).points
    for joint in ("hip", "lead.knee", "rear.knee", "lead.ankle", "rear.ankle", "shoulder"):
        assert abs(shown[joint] - moving.start.points[joint]) < 0.08, joint


def test_moving_figures_are_small() -> None:
    sizes = []
    for i in MOVING:
        variant = VARIANTS[i]
        parts = moving_parts(
            movement(i), load_place=variant.loading[0] if variant.loading else None, title=variant.name
        )
        sizes.append(len(parts.svg.encode()) + len(parts.style.encode()))
    assert max(sizes) < LARGEST
    assert sum(size > 12_000 for size in sizes) <= len(sizes) / 8


def look(i: str) -> list[complex]:
    """Where the joints are at both ends, seen from the hips, and how high those are."""
    found = []
    for at in ("hold", "other"):
        end: End = "other" if at == "other" and movement(i).other is not None else "hold"
        p = posture(i, end)
        names = [n for n in p.points if n.split(".")[-1] in ("knee", "ankle", "elbow", "wrist", "shoulder", "head_cm")]
        found += [p.points[n] - p.points["hip"] for n in names] + [complex(0, p.points["hip"].imag)]
    return found


def test_the_words_differ_where_the_figures_do() -> None:
    said: dict[str, list[str]] = {}
    for i, variant in VARIANTS.items():
        alt = both_ends(movement(i), load_place=variant.loading[0] if variant.loading else None).alt
        assert alt.strip()
        said.setdefault(alt, []).append(i)
    for alt, same in said.items():
        for a, b in combinations(same, 2):
            assert max(abs(p - q) for p, q in zip(look(a), look(b), strict=True)) < 0.25, (a, b, alt)


def test_both_sides_are_named_in_words() -> None:
    for i in VARIANTS:
        if one_sided(movement(i)):
            for side in ("left", "right"):
                alt = both_ends(movement(i), side=side).alt
                assert "working" not in alt, i
