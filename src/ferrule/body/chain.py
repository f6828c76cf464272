"""The drawn body as a chain of parts: angles and lengths taken from solved points, and points put together from them."""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, tau

from ferrule.body.angles import SIDES
from ferrule.body.skeleton import Points

_LIMBS = {"thigh": ("hip", "knee"), "shin": ("knee", "ankle"), "upper_arm": ("shoulder", "elbow"),
          "forearm": ("elbow", "wrist")}  # fmt: skip
_ON_TRUNK = ("lumbar", "shoulder", "neck", "pelvis_cm", "chest_cm", "back")
_ON_FOOT = ("heel", "ball", "toe", "sole", "foot_cm")


@dataclass(frozen=True, slots=True)
class Chain:
    """One position of all parts.

    hip     middle of the hips, m
    angles  direction of each part in the drawing, rad: "trunk", "head", "<side>.<thigh|shin|foot|upper_arm|forearm>"
    lengths m, 0 where the part points at the one who looks
    """

    hip: complex
    angles: Mapping[str, float]
    lengths: Mapping[str, float]

    def part(self, name: str) -> complex:
        """The part from its upper to its lower joint."""
        return rect(self.lengths[name], self.angles[name])


def _vectors(points: Points) -> dict[str, complex]:
    found = {"trunk": points["shoulder"] - points["hip"], "head": points["head_cm"] - points["neck"]}
    for side in SIDES:
        for part, (upper, lower) in _LIMBS.items():
            found[f"{side}.{part}"] = points[f"{side}.{lower}"] - points[f"{side}.{upper}"]
        along = points[f"{side}.ball"] - points[f"{side}.heel"]
        found[f"{side}.foot"] = along if abs(along) > 1e-9 else points[f"{side}.sole"] - points[f"{side}.ankle"]
    return found


def chain_of(points: Points) -> Chain:
    """The chain that these points make."""
    vectors = _vectors(points)
    return Chain(
        points["hip"],
        {name: phase(v) if abs(v) > 1e-9 else 0.0 for name, v in vectors.items()},
        {name: abs(v) for name, v in vectors.items()},
    )


def points_of(chain: Chain, like: Points) -> Points:
    """Points of a chain; what is fixed to a part (mass centres, hips, the foot's ends) sits on it as in `like`."""
    model = chain_of(like)

    def turned(part: str, offset: complex) -> complex:
        return offset * rect(1.0, chain.angles[part] - model.angles[part])

    hip = chain.hip
    points: Points = {"hip": hip, "seat": hip}
    points["up"], points["ahead"] = turned("trunk", like["up"]), turned("trunk", like["ahead"])
    for name in _ON_TRUNK:
        points[name] = hip + turned("trunk", like[name] - like["hip"])
    points["head_cm"] = points["neck"] + chain.part("head")
    for side in SIDES:
        for joint in ("hip", "shoulder"):
            points[f"{side}.{joint}"] = hip + turned("trunk", like[f"{side}.{joint}"] - like["hip"])
        for part, (upper, lower) in _LIMBS.items():
            name = f"{side}.{part}"
            at = points[f"{side}.{upper}"]
            points[f"{side}.{lower}"] = at + chain.part(name)
            points[name + "_cm"] = at + turned(name, like[name + "_cm"] - like[f"{side}.{upper}"])
        ankle, wrist = points[f"{side}.ankle"], points[f"{side}.wrist"]
        points[f"{side}.midshin"] = (points[f"{side}.knee"] + ankle) / 2
        for end in _ON_FOOT:
            points[f"{side}.{end}"] = ankle + turned(f"{side}.foot", like[f"{side}.{end}"] - like[f"{side}.ankle"])
        points[f"{side}.hand_cm"] = wrist + turned(f"{side}.forearm", like[f"{side}.hand_cm"] - like[f"{side}.wrist"])
        points[f"{side}.palm"] = wrist + like[f"{side}.palm"] - like[f"{side}.wrist"]
    return points


def turn(first: float, last: float, written: float | None = None) -> float:
    """The turn from one direction to another, rad: the shorter way, or the one nearest to the turn written in a pose."""
    way = (last - first + pi) % tau - pi
    return way if written is None else way + tau * round((written - way) / tau)


def blend(first: Chain, last: Chain, t: float, turns: Mapping[str, float]) -> Chain:
    """Between two chains: each part turns evenly by `turns`."""
    return Chain(
        (1 - t) * first.hip + t * last.hip,
        {name: angle + t * turns[name] for name, angle in first.angles.items()},
        {name: (1 - t) * length + t * last.lengths[name] for name, length in first.lengths.items()},
    )
