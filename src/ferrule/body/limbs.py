"""The body's outline from a solved posture: tapered limbs, trunk and head, far side light, near side dark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, radians, tan
from typing import Literal

from ferrule.body.posture import Posture
from ferrule.body.shapes import Round, chain, dot, hull
from ferrule.body.skeleton import Points, bend
from ferrule.model.words import Place

Layer = Literal["far", "trunk", "near"]
HEAD = 0.105
_FAR_SHIFT = 0.03  # the far limbs of a side view stand a little ahead, so that a pair shows as two
_LIMB_GIVE = 0.02  # how far flesh gives way to the floor in the drawing
_TRUNK_GIVE = 0.16
_HAND = 0.085


@dataclass(frozen=True, slots=True)
class Piece:
    """A shape through circles: one dot, one after the other, or (`closed`) the clockwise way round them."""

    rounds: tuple[Round, ...]
    closed: bool = False

    def path(self) -> str:
        if self.closed:
            return hull(self.rounds)
        return dot(*self.rounds[0]) if len(self.rounds) == 1 else chain(self.rounds)


@dataclass(frozen=True, slots=True)
class Outline:
    """The pieces of each layer, in the same number and order for every posture of a movement."""

    layers: Mapping[Layer, tuple[Piece, ...]]

    def path(self, layer: Layer) -> str:
        """Path data of one layer."""
        return "".join(piece.path() for piece in self.layers[layer])

    @property
    def rounds(self) -> tuple[Round, ...]:
        """All circles, for sizes and tests."""
        return tuple(r for pieces in self.layers.values() for piece in pieces for r in piece.rounds)


def lifted(rounds: Sequence[Round], give: float) -> list[Round]:
    """Circles that dip into the floor by less than `give` are laid on it."""
    return [(complex(c.real, r), r) if -give - 1e-9 <= c.imag - r < 0 else (c, r) for c, r in rounds]


def drawn_points(p: Posture, place: Place | None) -> Points:
    """The posture's points, with the arms brought to a load held at the chest and bent elbows of a press-up turned out."""
    points = dict(p.points)
    if p.movement.demand == "share hand" and p.movement.view == "side":
        for side in {
            s
            for c in p.contacts
            if c.at == "hand" and c.on != "wall"
            for s in ("lead", "rear")
            if c.limb in (s, "both")
        }:
            points[f"{side}.elbow"] = _flared(*(points[f"{side}.{j}"] for j in ("shoulder", "elbow", "wrist")))
    busy = any(c.at in ("hand", "elbow", "forearm") for c in p.contacts) or "arms" in p.movement.rests
    if place != "chest" or busy or p.movement.arms_as_drawn:
        return points
    up, ahead = points["up"], points["ahead"]
    front = p.movement.view == "front"
    for side in ("lead", "rear"):
        shoulder = points[f"{side}.shoulder"]
        out = 1.0 if ((shoulder - points["shoulder"]) / ahead).real > 0 else -1.0
        wrist = points["hip"] + 0.72 * p.body.shoulder * up + (out * 0.05 if front else 0.15) * ahead
        if front:
            elbow = shoulder + p.body.upper_arm * (out * 0.35 * ahead - up) / abs(0.35 * ahead - up)
        else:
            elbow = bend(shoulder, wrist, p.body.upper_arm, p.body.forearm)
        points[f"{side}.elbow"], points[f"{side}.wrist"] = elbow, wrist
    return points


def _flared(shoulder: complex, elbow: complex, wrist: complex) -> complex:
    """Where one sees an elbow that is bent half way between back and out of the picture, further out on a high support,
    so that the forearm never lies on it (common practice, no source).
    """
    along = (wrist - shoulder) / abs(wrist - shoulder)
    off = (elbow - shoulder) / along
    foot, aside = shoulder + along * off.real, along * complex(0, off.imag)
    least = wrist.imag + 0.33 * (shoulder.imag - wrist.imag)
    part = cos(radians(45))
    if aside.imag < 0 and foot.imag + part * aside.imag < least:
        part = max(0.0, (least - foot.imag) / aside.imag)
    return foot + part * aside


def _leg(points: Points, side: str, front: bool, grounded: bool) -> list[list[Round]]:
    hip, knee, ankle = (points[f"{side}.{j}"] for j in ("hip", "knee", "ankle"))
    leg: list[Round] = [(hip, 0.078), (knee, 0.052)]
    below: list[Round] = [(knee, 0.052), (ankle, 0.034)]
    if front:
        sole = points[side + ".sole"]
        along = (sole - ankle) / abs(sole - ankle) if abs(sole - ankle) > 1e-6 else -1j
        end = (sole - along * 0.037, 0.037)
        if along.imag > -0.9:
            return [leg, below, [(ankle, 0.034), end]]
        out = 1.0 if (hip - points["hip"]).real > 0 else -1.0  # standing: the toes show, turned a little outward
        return [leg, below, [(ankle, 0.034), (end[0] + out * 0.02, 0.042)]]
    heel, ball, toe = (points[f"{side}.{j}"] for j in ("heel", "ball", "toe"))
    flat = (ball - heel) / abs(ball - heel)
    up = flat * 1j
    toes, up_toes = toe, up
    if grounded and -flat.imag > 0.15 and flat.real > -0.4:
        toes, up_toes = ball + abs(toe - ball), 1j  # the toes stay flat when the heel lifts
    foot: list[Round] = [
        (ankle, 0.034),
        (heel + flat * 0.03 + up * 0.03, 0.03),
        (ball + up * 0.02, 0.02),
    ]
    tips: list[Round] = [
        (ball + up * 0.02, 0.02),
        (toes + up_toes * 0.013 - 0.013 * (toes - ball) / abs(toes - ball), 0.013),
    ]
    return [leg, below, foot, tips, [(ankle, 0.034), (ball + up * 0.03, 0.022)]]


def _arm(points: Points, side: str, planted: str) -> list[list[Round]]:
    shoulder, elbow, wrist = (points[f"{side}.{j}"] for j in ("shoulder", "elbow", "wrist"))
    if planted == "wall":
        tip = wrist + complex(0.012, 0.1)
    elif planted and planted != "bar":
        tip = wrist + complex(0.1, -0.016)
    else:
        fore = wrist - elbow
        tip = wrist + _HAND * fore / abs(fore) if abs(fore) > 1e-6 else wrist
    hand: list[Round] = [(wrist, 0.024), (tip, 0.016 if planted and planted != "bar" else 0.022)]
    arm: list[Round] = [(shoulder, 0.046), (elbow, 0.036), (wrist, 0.024)]
    return [arm, hand]


def _trunk(points: Points, p: Posture) -> list[list[Round]]:
    hip, up, ahead = points["hip"], points["up"], points["ahead"]
    length = p.body.shoulder
    deep = 2 * length * tan((p.angles.get("back") or 0.0) / 4)  # four times the height of the arc

    def at(part: float) -> complex:
        return hip + part * length * up - deep * part * (1 - part) * ahead

    return [
        [
            (hip + 0.01 * up, 0.086),
            (at(p.body.lumbar / length), 0.08),
            (at(0.6) + 0.008 * ahead, 0.094),
            (at(0.82) + 0.008 * ahead, 0.09),
            (hip + length * up, 0.062),
        ]
    ]


def _front_trunk(points: Points, p: Posture) -> list[Round]:
    """Shoulders and hips, clockwise in the picture."""
    up, ahead = points["up"], points["ahead"]
    top = points["hip"] + (p.body.shoulder - 0.025) * up
    wide, narrow = (p.body.shoulder_half - 0.045) * ahead, (p.body.hip_half - 0.01) * ahead
    waist = points["hip"] + p.body.lumbar * up
    return [
        (top - wide, 0.06),
        (top + wide, 0.06),
        (waist + narrow * 0.9, 0.065),
        (points["hip"] + narrow, 0.08),
        (points["hip"] - narrow, 0.08),
        (waist - narrow * 0.9, 0.065),
    ]


def outline(p: Posture, place: Place | None = None) -> Outline:
    """Layers of the figure. Far is the rear side; in a front view it is the side that does not work."""
    points = drawn_points(p, place)
    front = p.movement.view == "front"
    planted = {
        side: c.on for c in p.contacts if c.at == "hand" for side in ("lead", "rear") if c.limb in (side, "both")
    }
    grounded = {
        side
        for side in ("lead", "rear")
        if points[f"{side}.ball"].imag < 0.03 or any(c.at == "ball" and c.limb in (side, "both") for c in p.contacts)
    }

    def laid(chains: Sequence[Sequence[Round]], give: float, shift: float = 0.0) -> tuple[Piece, ...]:
        return tuple(Piece(tuple(lifted([(c + shift, r) for c, r in one], give))) for one in chains)

    def limbs(side: str, shift: float) -> tuple[Piece, ...]:
        arm = _arm(points, side, planted.get(side, ""))
        return laid([*_leg(points, side, front, side in grounded), *arm], _LIMB_GIVE, shift)

    trunk = (Piece(tuple(_front_trunk(points, p)), closed=True),) if front else laid(_trunk(points, p), _TRUNK_GIVE)
    head = lifted([(points["head_cm"], HEAD)], 0.25)[0]
    neck = lifted([(points["hip"] + 0.96 * p.body.shoulder * points["up"], 0.055), (points["neck"], 0.05)], _TRUNK_GIVE)
    return Outline(
        {
            "far": limbs("rear", 0.0 if front else _FAR_SHIFT),
            "trunk": (*trunk, Piece(tuple(neck)), Piece((neck[1], (head[0], 0.05))), Piece((head,))),
            "near": limbs("lead", 0.0),
        }
    )
