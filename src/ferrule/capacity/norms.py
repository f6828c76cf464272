"""Published norms, turned into log capacity in anchor units: where a prior starts when nothing else is known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from ferrule.capacity import curves
from ferrule.model.words import Group

ANCHOR_NM_KG: Final[dict[str, float]] = {
    "knee and hip": 1.616,
    "hinge": 1.048,
    "hip abduction": 0.573,
    "hip adduction": 0.618,
}
"""Demand of the anchor variants without load, N·m per kg of body mass (docs/body.md); a test holds them to the body."""

ONE_LEG_BRIDGE: Final = 2.0
"""Assumed demand of the one-leg bridge in two-leg bridges (common practice, no source: half the legs)."""


@dataclass(frozen=True, slots=True)
class Norm:
    """Where a group's capacity lies in adults of the level `some`.

    female, male   log capacity, anchor units
    sd_log         spread between people
    basis          in words, with source and provenance
    """

    group: Group
    female: float
    male: float
    sd_log: float
    basis: str


def _from_reps(reps: float, group: Group, demand: float = 1.0) -> float:
    return math.log(demand / curves.share_at(reps, curves.k_of(group)))


def _from_hold(hold_s: float, group: Group) -> float:
    return -math.log(curves.share_at_hold(hold_s, group))


def _from_torque(torque_nm_kg: float, group: Group) -> float:
    return math.log(torque_nm_kg / ANCHOR_NM_KG[group])


BENT_KNEE_LOG: Final = math.log(0.85)
"""Bent-knee against straight-knee plantar flexion: 15 % lower (135 adults, Fugl-Meyer; author from memory, value seen)."""

NORMS: Final[tuple[Norm, ...]] = (
    Norm("calf straight", _from_reps(21, "calf straight"), _from_reps(24, "calf straight"), 0.22,
         "median one-leg heel raises 21 women, 24 men (Hebert-Losier 2017, seen); spread from Benfica 2018 (seen)"),
    Norm("calf bent", _from_reps(21, "calf bent") + BENT_KNEE_LOG, _from_reps(24, "calf bent") + BENT_KNEE_LOG, 0.26,
         "as straight knee, 15 % lower (135 adults, seen; author from memory)"),
    Norm("knee and hip", _from_torque(2.20 + 1.6, "knee and hip"), _from_torque(2.74 + 2.0, "knee and hip"), 0.28,
         "knee extension 2.20 women, 2.74 men (norms of 2023, doi 10.1016/j.asmr.2023.100861, seen) plus hip extension"
         " (a guess, no source), against the computed squat"),
    Norm("hinge", _from_torque(1.6, "hinge"), _from_torque(2.0, "hinge"), 0.35,
         "hip extension torque (a guess, no source), against the computed two-leg hinge"),
    Norm("bridge and knee flexion", _from_reps(20, "bridge and knee flexion", ONE_LEG_BRIDGE),
         _from_reps(25, "bridge and knee flexion", ONE_LEG_BRIDGE), 0.35,
         "one-leg hamstring bridges, average 25 in male footballers (Freckleton 2014, seen, secondary); women's 20 is a guess"),
    Norm("hip abduction", _from_torque(1.41, "hip abduction"), _from_torque(1.62, "hip abduction"), 0.25,
         "eccentric hip abduction 1.41 women, 1.62 men in novice runners (Ramskov 2014, seen)"),
    Norm("hip adduction", _from_torque(1.3, "hip adduction"), _from_torque(1.5, "hip adduction"), 0.35,
         "hip adduction torque (a guess, no source)"),
    Norm("trunk front", _from_hold(83, "trunk front"), _from_hold(117.7, "trunk front"), 0.26,
         "front plank 83 s women (Strand 2014, seen), 118 s men (Chase 2014, seen)"),
    Norm("trunk side", _from_hold(72, "trunk side"), _from_hold(94, "trunk side"), 0.26,
         "side plank 72 s women, 94 s men (McGill 1999, from memory)"),
    Norm("trunk back", _from_hold(150, "trunk back"), _from_hold(146, "trunk back"), 0.35,
         "back extensor hold 146 s men (McGill 1999, from memory); the prone raise is easier, so the spread is wide"),
    Norm("push", _from_reps(8, "push"), _from_reps(20, "push"), 0.32,
         "press-ups 8 women, 20 men (from memory, no source)"),
    Norm("pull", _from_reps(12, "pull"), _from_reps(18, "pull"), 0.40,
         "rows 12 women, 18 men (a guess, no source)"),
)  # fmt: skip

BY_GROUP: Final[dict[Group, Norm]] = {n.group: n for n in NORMS}
