from __future__ import annotations

import re
from cmath import rect
from math import radians

import pytest

from ferrule.body.tracks import Key, Track, keyframes, rides, stretched, track_of

TIMES = (5.0, 35.0, 65.0, 95.0)
TURNS = (0, 20, 45, 60)


def swing(joint: complex, arm: complex) -> list[list[complex]]:
    """A limb that turns about a still joint, its last frame level with `arm`."""
    return [[joint, joint + arm * rect(1, radians(t - TURNS[-1]))] for t in TURNS]


def test_a_limb_turns_about_the_joint_that_rests() -> None:
    frames = swing(1 + 1j, 0.4)
    track = track_of(frames, home=3)
    assert track.origin == 1 + 1j
    assert [key.at for key in track.keys] == [1 + 1j] * 4
    assert [key.turn_deg for key in track.keys] == pytest.approx([-60, -40, -15, 0])
    for i, places in enumerate(frames):
        assert track.at(i, frames[3][1]) == pytest.approx(places[1])


def test_a_resting_place_outside_both_ends_is_the_origin() -> None:
    heel = 0.1 - 0.05j
    frames = [[heel + (p - heel) * rect(1, radians(t)) for p in (0j, 0.2 + 0j)] for t in TURNS]
    track = track_of(frames, home=0, also=[heel])
    assert track.origin == heel
    assert max(abs(key.at - heel) for key in track.keys) < 1e-12
    assert abs(track.between(1, 0.5, heel) - heel) < 1e-9


def test_what_keeps_together_rides_along() -> None:
    frames = swing(0j, 0.4)
    track = track_of(frames, home=3)
    assert rides(track, [[f[1], f[1] * 1.2] for f in frames], home=3)
    assert not rides(track, [[f[1], f[1] + 0.1] for f in frames], home=3)
    assert rides(track, [[f[1]] for f in frames], home=3), "a dot has no direction of its own"


def test_nothing_moves() -> None:
    assert track_of([[0j, 1 + 0j]] * 3, home=2).still
    assert not track_of(swing(0j, 0.4), home=3).still


def test_keyframes_hold_the_ends_and_leave_out_what_is_even() -> None:
    even = Track(0j, tuple(Key(complex(0.1 * i), 0) for i in range(4)))
    assert keyframes(even, TIMES) == ("0%,5%{transform:translate(0px,0px)}95%,to{transform:translate(30px,0px)}")
    jumpy = Track(0j, (even.keys[0], Key(0.3 + 0j, 0), even.keys[2], even.keys[3]))
    assert len(re.findall("translate", keyframes(jumpy, TIMES))) == 4


def test_css_is_clockwise_with_y_down_and_attributes_say_the_same() -> None:
    key = Key(0.1 + 0.2j, 30, 0.5)
    assert key.css() == "translate(10px,-20px)rotate(-30deg)scaleX(0.500)"
    assert key.attribute() == "translate(10 -20) rotate(-30) scale(0.500 1)"


def test_a_string_is_turned_and_drawn_out() -> None:
    track = stretched([(0j, 0.5 + 0j), (0.1 + 0j, 0.1 + 1j)])
    assert track.keys[0] == Key(0j, 0, 0.5)
    assert track.keys[1].at == 0.1
    assert track.keys[1].turn_deg == pytest.approx(90)
    assert track.keys[1].stretch == 1.0
    assert track.at(1, 1 + 0j) == pytest.approx(0.1 + 1j)


def test_a_turn_never_jumps_a_whole_round() -> None:
    frames = [[0j, rect(1, radians(t))] for t in (150, 175, 200, 225)]
    turns = [key.turn_deg for key in track_of(frames, home=0).keys]
    assert turns == pytest.approx([0, 25, 50, 75])
