"""Where every joint and mass centre lies, from the angles of the parts.

Points are complex numbers in metres: real part forward (side view) or to the right of the picture (front view),
imaginary part up. The middle of the hips is the origin; `posture` puts the body on its support.
"""

from __future__ import annotations

from cmath import rect
from collections.abc import Mapping, Sequence
from math import acos, cos, sin
from typing import Literal

from ferrule.body.segments import Body
from ferrule.model.pose import Contact

Points = dict[str, complex]
"""Joints ("neck", "lead.knee", ...) and mass centres ("pelvis_cm", "lead.shin_cm", ...)."""

# How far a supporting joint's centre lies above its support, m (modelling choices, from memory).
KNEE_DEPTH = 0.055
ANKLE_DEPTH = 0.045
ELBOW_DEPTH = 0.04
WRIST_DEPTH = 0.03
BACK_DEPTH = 0.09
SEAT_DEPTH = 0.09
PALM = 0.05  # palm centre ahead of the wrist
BACK_PLACE = 0.9  # upper back, from mid-hip to shoulder
FOREARM_PLACE = 0.3  # where a forearm presses, from the elbow

DOWN = {"knee": KNEE_DEPTH, "ankle": ANKLE_DEPTH, "midshin": ANKLE_DEPTH, "elbow": ELBOW_DEPTH, "seat": SEAT_DEPTH}


def from_top(angle: float) -> complex:
    """Unit vector for a lean from upright, forward positive."""
    return complex(sin(angle), cos(angle))


def hanging(angle: float) -> complex:
    """Unit vector of a limb swung forward from hanging straight down."""
    return complex(sin(angle), -cos(angle))


def bend(start: complex, end: complex, upper: float, lower: float) -> complex:
    """The elbow between shoulder `start` and wrist `end`, bent towards the feet; straight when out of reach."""
    line = end - start
    distance = min(abs(line), upper + lower - 1e-9)
    ratio = (upper * upper + distance * distance - lower * lower) / (2 * upper * distance)
    turn = acos(max(-1.0, min(1.0, ratio)))
    toward = line / abs(line)
    return min((start + upper * toward * rect(1.0, s * turn) for s in (1, -1)), key=lambda p: p.real)


def skeleton(
    angles: Mapping[str, float | None],
    body: Body,
    contacts: Sequence[Contact],
    view: Literal["side", "front"],
    down: str,
    wrist: complex | None = None,
) -> Points:
    """All points for these angles (radians); `wrist` puts both planted hands there and bends the elbows to fit."""
    trunk = angles["trunk"]
    assert trunk is not None
    up = from_top(trunk)
    ahead = complex(up.imag, -up.real)  # a quarter turn clockwise: out of the chest in side view, right in front view
    neck = body.neck * up
    head = angles["head"]
    points: Points = {
        "hip": 0j,
        "up": up,
        "ahead": ahead,
        "lumbar": body.lumbar * up,
        "shoulder": body.shoulder * up,
        "neck": neck,
        "head_cm": neck + body.head_cm * from_top(trunk if head is None else head),
        "pelvis_cm": body.pelvis_cm * up,
        "chest_cm": body.chest_cm * up,
        "seat": complex(0, 0),
        "back": (BACK_PLACE * body.shoulder) * up - BACK_DEPTH * ahead,
    }
    planted: dict[str, str] = {}
    for contact in contacts:
        if contact.at == "hand":
            planted.update({side: contact.on for side in ("lead", "rear") if contact.limb in (side, "both")})
    soles = {side: c.cop for c in contacts if c.at == "foot" for side in ("lead", "rear") if c.limb in (side, "both")}
    front = view == "front"
    for side in ("lead", "rear"):
        out = (1.0 if (side == "lead") == (down == "lead") else -1.0) if front else 0.0
        hip = ahead * (out * body.hip_half)
        turn = out * (angles[side + ".leg_spread"] or 0.0)
        thigh, shin = angles[side + ".thigh"], angles[side + ".shin"]
        seen = cos(angles[side + ".leg_out"] or 0.0) if front else 1.0
        along_thigh = 0j if thigh is None else seen * hanging(thigh + turn)
        along_shin = 0j if shin is None else -seen * from_top(shin - turn)
        knee = hip + body.thigh * along_thigh
        ankle = knee + body.shin * along_shin
        points[side + ".hip"] = hip
        points[side + ".knee"] = knee
        points[side + ".ankle"] = ankle
        points[side + ".midshin"] = (knee + ankle) / 2
        points[side + ".thigh_cm"] = hip + body.thigh_cm * along_thigh
        points[side + ".shin_cm"] = knee + body.shin_cm * along_shin
        if front:
            sole = ankle + body.ankle * along_shin
            for name in (".heel", ".ball", ".toe", ".sole"):
                points[side + name] = sole
            points[side + ".foot_cm"] = (ankle + sole) / 2
        else:
            flat = rect(1.0, -(angles[side + ".foot"] or 0.0))
            points[side + ".heel"] = ankle + complex(body.heel, -body.ankle) * flat
            points[side + ".ball"] = ankle + complex(body.ball, -body.ankle) * flat
            points[side + ".toe"] = ankle + complex(body.toe, -body.ankle) * flat
            points[side + ".foot_cm"] = ankle + complex(body.foot_cm, -body.ankle / 2) * flat
            cop = soles.get(side)
            points[side + ".sole"] = (
                ankle + complex(body.heel + (0.45 if cop is None else cop) * body.foot, -body.ankle) * flat
            )
        _arm(points, angles, body, side, out, planted, wrist)
    return points


def _arm(
    points: Points,
    angles: Mapping[str, float | None],
    body: Body,
    side: str,
    out: float,
    planted: Mapping[str, str],
    wrist: complex | None,
) -> None:
    shoulder = points["shoulder"] + points["ahead"] * (out * body.shoulder_half)
    on = planted.get(side, "")
    if wrist is not None and on:
        hand = wrist
        elbow = bend(shoulder, wrist, body.upper_arm, body.forearm)
        along_upper = (elbow - shoulder) / body.upper_arm
        along_fore = (wrist - elbow) / body.forearm
    else:
        turn = out * (angles[side + ".arm_spread"] or 0.0)
        upper, fore = angles[side + ".upper_arm"], angles[side + ".forearm"]
        along_upper = 0j if upper is None else hanging(upper + turn)
        along_fore = 0j if fore is None else hanging(fore + turn)
        elbow = shoulder + body.upper_arm * along_upper
        hand = elbow + body.forearm * along_fore
    points[side + ".shoulder"] = shoulder
    points[side + ".elbow"] = elbow
    points[side + ".wrist"] = hand
    points[side + ".upper_arm_cm"] = shoulder + body.upper_arm_cm * along_upper
    points[side + ".forearm_cm"] = elbow + body.forearm_cm * along_fore
    points[side + ".hand_cm"] = hand + body.hand_cm * along_fore
    if on == "wall":
        points[side + ".palm"] = hand + complex(WRIST_DEPTH, PALM)
    elif on and on != "bar":
        points[side + ".palm"] = hand + complex(PALM, -WRIST_DEPTH)
    else:
        points[side + ".palm"] = hand + PALM * along_fore


def wrist_for(palm: complex, contact: Contact) -> complex:
    """Where the wrist is when the palm is planted there."""
    return palm - (complex(WRIST_DEPTH, PALM) if contact.on == "wall" else complex(PALM, -WRIST_DEPTH))


def contact_point(points: Points, contact: Contact) -> complex:
    """Where the support presses; on two limbs alike, the lead one's."""
    side = "lead" if contact.limb == "both" else contact.limb
    at = contact.at
    if at in ("ball", "heel"):
        return points[f"{side}.{at}"]
    if at == "foot":
        return points[side + ".sole"]
    if at == "hand":
        return points[side + ".palm"]
    if at == "upper back":
        return points["back"]
    if at == "seat":
        return points["seat"] - complex(0, SEAT_DEPTH)
    if at == "forearm":
        elbow = points[side + ".elbow"]
        return elbow + FOREARM_PLACE * (points[side + ".wrist"] - elbow) - complex(0, ELBOW_DEPTH)
    return points[f"{side}.{at}"] - complex(0, DOWN[at])
