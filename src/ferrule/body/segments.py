"""Lengths, masses and mass centres of the body's parts.

Masses and mass centres: de Leva 1996, "Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters" (seen in two
public data files). Hip height, foot length and ankle height: Drillis and Contini as printed by Winter (0.245 + 0.246 +
0.039, 0.152 and 0.039 of the stature, seen). Marked `from memory` below: the length of the lower trunk.

The men's table is used for everybody: where the women's hip point lies decides the women's hinge (1.17 to 1.58 for one
pose), and against women's press-ups the men's table costs 0 to +5 %, no worse than the women's (docs/body.md).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

GRAVITY = 9.81
"""m/s2."""

Table = Literal["men", "women"]


@dataclass(frozen=True, slots=True)
class Segment:
    """One part of the table: share of the body mass, mass centre from its upper end (0 to 1), length in mm."""

    mass: float
    centre: float
    length_mm: float


_STATURE_MM: Mapping[Table, float] = {"men": 1741.0, "women": 1735.0}

# trunk: mid-hip to C7; its mass centre and the shoulder's height are given on mid-shoulder to mid-hip (`shoulder`).
_SEGMENTS: Mapping[Table, Mapping[str, Segment]] = {
    "men": {
        "head": Segment(0.0694, 0.5002, 242.9),
        "trunk": Segment(0.4346, 0.5138, 603.3),
        "shoulder": Segment(0.4346, 0.4310, 515.5),
        "pelvis": Segment(0.1117, 0.6115, 145.7),  # length from memory
        "upper_arm": Segment(0.0271, 0.5772, 281.7),
        "forearm": Segment(0.0162, 0.4574, 268.9),
        "hand": Segment(0.0061, 0.3624, 187.9),
        "thigh": Segment(0.1416, 0.4095, 422.2),
        "shin": Segment(0.0433, 0.4395, 434.0),
        "foot": Segment(0.0137, 0.4415, 258.1),
    },
    "women": {
        "head": Segment(0.0668, 0.4841, 243.7),
        "trunk": Segment(0.4257, 0.4964, 614.8),
        "shoulder": Segment(0.4257, 0.3782, 497.9),
        "pelvis": Segment(0.1247, 0.4920, 181.5),  # length from memory
        "upper_arm": Segment(0.0255, 0.5754, 275.1),
        "forearm": Segment(0.0138, 0.4559, 264.3),
        "hand": Segment(0.0056, 0.3427, 170.1),
        "thigh": Segment(0.1478, 0.3612, 368.5),
        "shin": Segment(0.0481, 0.4352, 432.3),
        "foot": Segment(0.0129, 0.4014, 228.3),
    },
}

_THIGH = 0.245  # hip to knee, fraction of stature
_FOOT = 0.152
_ANKLE = 0.039
# Modelling choices, from memory; their effect is in docs/body.md.
_HEEL_TO_ANKLE = 0.25
HEEL_TO_BALL = 0.72
_HIP_HALF = 0.05
_SHOULDER_HALF = 0.1


@dataclass(frozen=True, slots=True)
class Person:
    """Whose body. Demands per kg of body mass do not depend on `mass_kg` and rise in proportion to `height_m`."""

    mass_kg: float = 70.0
    height_m: float = 1.75
    table: Table = "men"


REFERENCE = Person()
"""70 kg, 1.75 m, men's table: who the library's demands are computed for."""


@dataclass(frozen=True, slots=True)
class Body:
    """One person's parts: lengths in m, masses as fractions of the body mass, `*_cm` mass centres in m.

    Along the trunk everything is measured from mid-hip; in a limb from its upper joint; in the foot from the ankle,
    `foot_cm` ahead of it along the sole.
    """

    lumbar: float
    shoulder: float
    neck: float
    head_cm: float
    pelvis_cm: float
    chest_cm: float
    upper_arm: float
    upper_arm_cm: float
    forearm: float
    forearm_cm: float
    hand: float
    hand_cm: float
    thigh: float
    thigh_cm: float
    shin: float
    shin_cm: float
    heel: float
    ball: float
    toe: float
    ankle: float
    foot: float
    foot_cm: float
    hip_half: float
    shoulder_half: float
    mass: Mapping[str, float]


@cache
def body_of(person: Person) -> Body:
    """The parts of a person.

    The hip is put at the height Drillis and Contini give (thigh 0.245 of the stature), the knee stays where de Leva
    has it, and the trunk is shortened by as much, so that the mass centres keep their places in space.
    """
    table, height = _SEGMENTS[person.table], person.height_m
    length = {name: s.length_mm * height / _STATURE_MM[person.table] for name, s in table.items()}
    raised = _THIGH * height - length["thigh"]
    pelvis, trunk = table["pelvis"], table["trunk"]
    pelvis_cm = length["pelvis"] * (1 - pelvis.centre) - raised
    trunk_cm = length["shoulder"] * (1 - table["shoulder"].centre) - raised
    chest = trunk.mass - pelvis.mass
    foot = _FOOT * height
    return Body(
        lumbar=length["pelvis"] - raised,
        shoulder=length["shoulder"] - raised,
        neck=length["trunk"] - raised,
        head_cm=length["head"] * (1 - table["head"].centre),
        pelvis_cm=pelvis_cm,
        chest_cm=(trunk.mass * trunk_cm - pelvis.mass * pelvis_cm) / chest,
        upper_arm=length["upper_arm"],
        upper_arm_cm=length["upper_arm"] * table["upper_arm"].centre,
        forearm=length["forearm"],
        forearm_cm=length["forearm"] * table["forearm"].centre,
        hand=length["hand"],
        hand_cm=length["hand"] * table["hand"].centre,
        thigh=_THIGH * height,
        thigh_cm=raised + length["thigh"] * table["thigh"].centre,
        shin=length["shin"],
        shin_cm=length["shin"] * table["shin"].centre,
        heel=-_HEEL_TO_ANKLE * foot,
        ball=(HEEL_TO_BALL - _HEEL_TO_ANKLE) * foot,
        toe=(1 - _HEEL_TO_ANKLE) * foot,
        ankle=_ANKLE * height,
        foot=foot,
        foot_cm=(table["foot"].centre - _HEEL_TO_ANKLE) * foot,
        hip_half=_HIP_HALF * height,
        shoulder_half=_SHOULDER_HALF * height,
        mass={
            "pelvis": pelvis.mass,
            "chest": chest,
            "head": table["head"].mass,
            **{part: table[part].mass for part in ("thigh", "shin", "foot", "upper_arm", "forearm", "hand")},
        },
    )
