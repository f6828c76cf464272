"""From a written pose to one angle per part, each fixed or bound to one unknown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians

from ferrule.model.pose import Angle, Limb, Pose

SIDES = ("lead", "rear")


@dataclass(frozen=True, slots=True)
class Affine:
    """An angle in radians: `fixed + factor * unknown`; `unknown` is "" when nothing is to be solved."""

    fixed: float
    unknown: str = ""
    factor: float = 0.0

    def __neg__(self) -> Affine:
        return Affine(-self.fixed, self.unknown, -self.factor)

    def plus(self, offset: float) -> Affine:
        return Affine(self.fixed + offset, self.unknown, self.factor)

    def at(self, values: Mapping[str, float]) -> float:
        return self.fixed + self.factor * values[self.unknown] if self.unknown else self.fixed


ZERO = Affine(0.0)
RIGHT = radians(90.0)


@dataclass(frozen=True, slots=True)
class Angles:
    """Every part's angle, None where the part points out of the picture.

    parts    "trunk", "head", "back" and "<side>.<thigh|shin|foot|leg_spread|leg_out|upper_arm|forearm|arm_spread>"
    starts   the unknowns and where the search for them begins, radians
    """

    parts: Mapping[str, Affine | None]
    starts: Mapping[str, float]


def number_of(angle: Angle) -> float | None:
    """Degrees of a plain or "~" angle; None for a word."""
    if isinstance(angle, str):
        try:
            return float(angle.removeprefix("~"))
        except ValueError:
            return None
    return float(angle)


def angles_of(pose: Pose) -> Angles:
    """One angle per part; parts left out follow the line, hang (arms) or lie flat (feet)."""
    starts: dict[str, float] = {}

    def affine(angle: Angle, name: str) -> Affine:
        degrees = number_of(angle)
        if degrees is None:
            raise ValueError(f"{name}: {angle!r} is not an angle")
        if isinstance(angle, str):
            starts[name] = radians(degrees)
            return Affine(0.0, name, 1.0)
        return Affine(radians(degrees))

    parts: dict[str, Affine | None] = {}
    line = None if pose.line is None else affine(pose.line, "line")
    trunk = affine(pose.trunk, "trunk") if pose.trunk is not None else (line or ZERO)
    parts["trunk"] = trunk
    parts["head"] = affine(pose.head, "head") if pose.head is not None else trunk
    parts["back"] = affine(pose.back, "back") if pose.back is not None else ZERO

    def limb(both: Limb, own: Limb, side: str, word: str) -> dict[str, tuple[Angle, str]]:
        found = {key: (value, f"{word}s.{key}") for key, value in both.items()}
        name = side if word == "leg" else f"{side}_arm"
        return found | {key: (value, f"{name}.{key}") for key, value in own.items()}

    for side, leg, arm in (("lead", pose.lead, pose.lead_arm), ("rear", pose.rear, pose.rear_arm)):
        found = limb(pose.legs, leg, side, "leg")
        for key, rest in (
            ("thigh", -line if line else ZERO),
            ("shin", line or ZERO),
            ("foot", ZERO),
            ("spread", ZERO),
            ("out", ZERO),
        ):
            value, name = found.get(key, (None, ""))
            angle = rest if value is None else None if value == "out" else affine(value, name)
            parts[f"{side}.leg_{key}" if key in ("spread", "out") else f"{side}.{key}"] = angle
        found = limb(pose.arms, arm, side, "arm")
        value, name = found.get("arm", (0.0, ""))
        if value == "square":
            upper = (-trunk).plus(RIGHT)
        elif value == "along":
            upper = -trunk
        else:
            upper = affine(value, name)
        parts[f"{side}.upper_arm"] = upper
        value, name = found.get("forearm", (None, ""))
        parts[f"{side}.forearm"] = upper if value is None else None if value == "out" else affine(value, name)
        value, name = found.get("spread", (None, ""))
        parts[f"{side}.arm_spread"] = ZERO if value is None else affine(value, name)
    used = {a.unknown for a in parts.values() if a is not None}
    return Angles(parts, {name: start for name, start in starts.items() if name in used})
