from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.body.chain import blend, chain_of, points_of, turn
from ferrule.body.golden_test import POSES, movement
from ferrule.body.pins import Pin, pinned, reached
from ferrule.body.posture import posture

SQUAT = posture(movement("squat"))


@pytest.mark.parametrize("name", sorted(POSES))
def test_a_chain_gives_back_the_points_it_was_taken_from(name: str) -> None:
    p = posture(movement(name))
    again = points_of(chain_of(p.points), p.points)
    planted = {c.at for c in p.contacts}
    for point in again:
        assert again[point] == pytest.approx(p.points[point], abs=1e-9), (point, planted)


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.floats(-0.12, 0.12), st.floats(-0.08, 0.1), st.floats(-0.3, 0.3))
def test_pinned_feet_come_to_their_places_and_limbs_keep_their_length(x: float, y: float, lean: float) -> None:
    chain = chain_of(SQUAT.points)
    moved = replace(
        chain, hip=chain.hip + complex(x, y), angles={**chain.angles, "trunk": chain.angles["trunk"] + lean}
    )
    pins = [Pin(f"{side}.ankle", SQUAT.points[f"{side}.ankle"]) for side in ("lead", "rear")]
    found = pinned(moved, pins, SQUAT.points)
    points = points_of(found, SQUAT.points)
    for pin in pins:
        assert abs(points[pin.point] - pin.place) < 1e-5
    assert found.lengths == chain.lengths
    assert abs(found.hip - chain.hip) < abs(complex(x, y)) + 0.1


def test_hands_feet_and_back_are_pinned_together() -> None:
    for name, pins in (
        ("push_up_floor", ("lead.palm", "lead.ball", "rear.palm", "rear.ball")),
        ("bridge_two", ("back", "lead.ankle", "rear.ankle")),
    ):
        p = posture(movement(name))
        chain = chain_of(p.points)
        bent = replace(chain, hip=chain.hip + 0.02j, angles={n: a + 0.05 for n, a in chain.angles.items()})
        found = points_of(pinned(bent, [Pin(n, p.points[n]) for n in pins], p.points), p.points)
        for n in pins:
            assert abs(found[n] - p.points[n]) < 1e-4, (name, n)


def test_what_cannot_be_reached_is_left_near() -> None:
    pin = Pin("lead.ankle", SQUAT.points["lead.ankle"] + 5)
    far = pinned(chain_of(SQUAT.points), [pin, Pin("hip", SQUAT.points["hip"])], SQUAT.points)
    assert far.lengths == chain_of(SQUAT.points).lengths


def test_nothing_pinned_nothing_changes() -> None:
    chain = chain_of(SQUAT.points)
    assert pinned(chain, (), SQUAT.points) == chain


@pytest.mark.parametrize("way", [0.1 + 0.05j, -0.15, 0.1j, -0.2 + 0.2j])
def test_a_free_leg_reaches_and_bends_at_the_front(way: complex) -> None:
    chain = chain_of(SQUAT.points)
    goal = SQUAT.points["rear.ankle"] + way
    found = reached(chain, "rear", ("thigh", "shin"), goal, SQUAT.points)
    points = points_of(found, SQUAT.points)
    assert points["rear.ankle"] == pytest.approx(goal, abs=1e-6)
    bend = (found.part("rear.shin") / found.part("rear.thigh")).imag
    assert bend < 0, "the knee stays ahead of the line from hip to ankle"


def test_turns() -> None:
    assert turn(radians(170), radians(-170)) == pytest.approx(radians(20))
    assert turn(radians(170), radians(-170), radians(-340)) == pytest.approx(radians(-340))


def test_half_way() -> None:
    chain = chain_of(SQUAT.points)
    other = replace(chain, hip=chain.hip + 1, angles={n: a + 0.4 for n, a in chain.angles.items()})
    half = blend(chain, other, 0.5, dict.fromkeys(chain.angles, 0.4))
    assert half.hip == pytest.approx(chain.hip + 0.5)
    assert half.angles["trunk"] == pytest.approx(chain.angles["trunk"] + 0.2)
