"""Every figure of the built-in library: on the floor, within what joints do, in balance, told apart in words."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise

import pytest

from ferrule.body.figure import both_ends, solved
from ferrule.body.joints import RANGES, beyond_range
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
"""Bytes; all but one in seven stay below 12,000: leaps, jumps, runs and what walks on hands and feet move every limb."""


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


def sunk(p: Posture) -> tuple[str, ...]:
    """Joints below the floor, or that a drawn limb dips deeper than flesh gives way."""
    drawn = min(c.imag - r for c, r in outline(p).rounds)
    return (*through_floor(p), *(("drawn",) if drawn <= -0.03 else ()))


@pytest.mark.parametrize(("i", "at"), ENDS)
def test_nothing_is_below_the_floor(i: str, at: End) -> None:
    assert sunk(posture(i, at)) == ()


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


def off_base(p: Posture) -> float:
    """How far the mass centre lies outside the feet one stands on, m."""
    sides = {s for c in p.contacts for s in ("lead", "rear") if c.limb in (s, "both")}
    xs = [p.points[f"{s}.{end}"].real for s in sides for end in ("heel", "toe")]
    wide = SOLE if p.movement.view == "front" else 1e-6
    return max(min(xs) - wide - p.centre.real, p.centre.real - max(xs) - wide, 0.0)


@pytest.mark.parametrize(("i", "at"), [(i, at) for i, at in ENDS if held_by_feet_alone(VARIANTS[i], posture(i, at))])
def test_the_mass_centre_is_over_the_feet(i: str, at: End) -> None:
    assert off_base(posture(i, at)) == 0.0


LIMBS = (("hip", "knee"), ("knee", "ankle"), ("heel", "toe"), ("shoulder", "elbow"), ("elbow", "wrist"))


def changed_limbs(first: Posture, last: Posture) -> tuple[str, ...]:
    """Limbs that are longer in one posture than in the other."""
    return tuple(
        f"{side}.{a}"
        for side in ("lead", "rear")
        for a, b in LIMBS
        if abs(
            abs(first.points[f"{side}.{a}"] - first.points[f"{side}.{b}"])
            - abs(last.points[f"{side}.{a}"] - last.points[f"{side}.{b}"])
        )
        > 1e-9
    )


@pytest.mark.parametrize("i", VARIANTS)
def test_limbs_are_as_long_at_both_ends(i: str) -> None:
    if movement(i).view == "side" and movement(i).other is not None:
        assert changed_limbs(posture(i, "other"), posture(i, "hold")) == ()


# Each check is shown to fail on a pose spoilt on purpose: a check that passes everything would pass these.


def spoilt(i: str, **changes: dict[str, float] | float) -> Posture:
    """The held end of a variant with other angles in some limbs, nothing solved anew."""
    whole = movement(i)
    return solved(replace(whole, hold=replace(whole.hold, **changes)), "hold", None)  # type: ignore[arg-type]


def test_a_leg_below_the_floor_is_noticed() -> None:
    assert sunk(posture("one-leg-stand", "hold")) == ()
    assert any(
        text.startswith("rear.") for text in sunk(spoilt("one-leg-stand", rear={"thigh": 4, "shin": 4, "foot": 70}))
    )
    p = posture("one-leg-stand", "hold")
    low = replace(p, points={k: v if k in ("up", "ahead") else v - 0.05j for k, v in p.points.items()})
    assert "drawn" in sunk(low)


@pytest.mark.parametrize(
    ("part", "angles", "joint"),
    [
        ("rear", {"thigh": -100.0, "shin": 100.0, "foot": 90.0}, "hip"),
        ("rear", {"thigh": 60.0, "shin": -90.0}, "knee"),
        ("rear", {"thigh": 60.0, "shin": 110.0}, "knee"),
        ("rear", {"thigh": 60.0, "shin": 0.0, "foot": -60.0}, "ankle"),
        ("arms", {"arm": -90.0}, "shoulder"),
        ("arms", {"arm": 20.0, "forearm": -20.0}, "elbow"),
        ("head", 90.0, "neck"),
    ],
)
def test_a_joint_beyond_its_range_is_noticed(part: str, angles: dict[str, float] | float, joint: str) -> None:
    assert beyond_range(posture("one-leg-stand", "hold")) == ()
    assert joint in {
        text.replace(".", " ").split()[0] for text in beyond_range(spoilt("one-leg-stand", **{part: angles}))
    }


def test_every_range_names_its_source() -> None:
    for joint, span in RANGES.items():
        assert "AAOS 1965" in span.source, joint
        assert span.low < 0 < span.high


def test_a_mass_centre_beside_the_feet_is_noticed() -> None:
    whole = movement("squat")
    toppled = replace(whole, hold=replace(whole.hold, trunk=-20, legs={"thigh": 60, "shin": 0}))
    assert off_base(posture("squat", "hold")) == 0.0
    assert off_base(solved(toppled, "hold", None)) > 0.05


def test_a_limb_of_another_length_is_noticed() -> None:
    first, last = posture("squat", "other"), posture("squat", "hold")
    knee = {"lead.knee": last.points["lead.knee"] + 0.02}
    assert changed_limbs(first, replace(last, points=last.points | knee)) == ("lead.hip", "lead.knee")


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
    assert sum(size > 12_000 for size in sizes) <= len(sizes) / 7


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
