"""Joint angles of a posture seen from the side, and how far joints go.

The ranges are those of a healthy grown-up, at the wide end, so that a pose outside them is a slip of the pen and not a
supple runner. They judge figures; nobody's own range is inferred from them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees, pi

from ferrule.body.angles import SIDES
from ferrule.body.chain import chain_of
from ferrule.body.posture import Posture


@dataclass(frozen=True, slots=True)
class Range:
    """Degrees from `low` to `high`, with where they come from."""

    low: float
    high: float
    source: str


RANGES: Mapping[str, Range] = {
    "hip": Range(-35, 165, "30 back to 125 forward: AAOS 1965, from memory; the rest is the lower back's, one stiff part "
                 "with the pelvis here"),
    "knee": Range(-6, 160, "0 to 150: AAOS 1965; 155 to 165 in deep squats and kneeling: Mulholland & Wyss 2001; both "
                  "from memory"),
    "ankle": Range(-75, 46, "50 down, 20 up without weight: AAOS 1965; about 40 up in a lunge: Bennell 1998; both from "
                   "memory; lying or kneeling on the instep 75 with the midfoot, common practice, no source"),
    "shoulder": Range(-65, 200, "60 back to 180 up: AAOS 1965, from memory; the rest is the girdle's and the upper "
                      "back's"),
    "elbow": Range(-5, 155, "0 to 150: AAOS 1965, from memory"),
    "neck": Range(-65, 60, "45 to 60 each way: AAOS 1965, from memory"),
}  # fmt: skip
"""Flexion positive; ankle: dorsiflexion positive; neck: chin towards the chest positive."""


def _turned(joint: str, angle: float) -> float:
    """Degrees, counted from the side on which the joint's range lies: an arm behind the head is past 180."""
    middle = (RANGES[joint].low + RANGES[joint].high) / 2
    return middle + (degrees(angle) - middle + 180) % 360 - 180


def joint_angles(p: Posture) -> dict[str, float]:
    """Degrees of each joint by name ("hip.lead", "neck"); empty in a front view, whose joints bend out of the picture."""
    if p.movement.view == "front":
        return {}
    chain = chain_of(p.points)
    at = chain.angles
    found = {"neck": _turned("neck", at["trunk"] - at["head"])}
    for side in SIDES:
        thigh, shin, upper, fore = (f"{side}.{part}" for part in ("thigh", "shin", "upper_arm", "forearm"))
        bent = {
            "hip": (at[thigh] - at["trunk"] + pi, thigh, thigh),
            "knee": (at[thigh] - at[shin], thigh, shin),
            "ankle": (at[f"{side}.foot"] - at[shin] - pi / 2, shin, shin),
            "shoulder": (at[upper] - at["trunk"] + pi, upper, upper),
            "elbow": (at[fore] - at[upper], upper, fore),
        }
        for joint, (angle, *parts) in bent.items():
            if min(chain.lengths[part] for part in parts) > 1e-6:
                found[f"{joint}.{side}"] = _turned(joint, angle)
    return found


def beyond_range(p: Posture) -> tuple[str, ...]:
    """Joints past their range, furthest first: "knee.lead 171 (to 155)"."""
    found = []
    for name, angle in joint_angles(p).items():
        span = RANGES[name.split(".")[0]]
        over = max(span.low - angle, angle - span.high)
        if over > 0.5:
            limit = f"from {span.low:g}" if angle < span.low else f"to {span.high:g}"
            found.append((over, f"{name} {angle:.0f} ({limit})"))
    return tuple(text for _, text in sorted(found, reverse=True))
