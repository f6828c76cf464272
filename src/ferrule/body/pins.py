"""Chains brought to fixed places: the least turn of the parts that puts hands, feet, knees and back where they rest."""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import acos

from ferrule.body.chain import Chain, points_of
from ferrule.body.newton import solve_linear
from ferrule.body.skeleton import Points

_ROUNDS = 15
_NEAR_M = 1e-6
_LARGEST_TURN = 0.3  # rad in one round
_HIP_GIVE = 1.0  # m for 1 rad of a limb
_GIVE: Mapping[str, float] = {"trunk": 0.3, "foot": 0.1}
"""How readily a part gives way when a limb counts 1; feet and trunk hardly."""
_LEG = (("thigh", "knee"), ("shin", "ankle"))
_ARM = (("upper_arm", "elbow"), ("forearm", "wrist"))
_WAY: Mapping[str, tuple[tuple[str, str], ...]] = {
    "knee": _LEG[:1], "ankle": _LEG, "midshin": (*_LEG[:1], ("shin", "midshin")),
    **{end: (*_LEG, ("foot", end)) for end in ("ball", "heel", "sole")},
    "elbow": _ARM[:1], "wrist": _ARM, "palm": _ARM,
}  # fmt: skip
"""The parts on the way from the trunk to a point, each with the point at its end."""


@dataclass(frozen=True, slots=True)
class Pin:
    """A point of the chain ("lead.ball", "lead.palm", "back", ...) and where it has to be, m."""

    point: str
    place: complex


def _lever(pin: Pin, points: Points) -> dict[str, complex]:
    """What each part adds to the way from the hips to the pinned point: its turn moves the point across that."""
    side, _, end = pin.point.rpartition(".")
    if not side:
        return {"trunk": points[end] - points["hip"]}
    last = points[f"{side}.{'shoulder' if _WAY[end][0][0] == 'upper_arm' else 'hip'}"]
    found = {"trunk": last - points["hip"]}
    for part, joint in _WAY[end]:
        found[f"{side}.{part}"] = points[f"{side}.{joint}"] - last
        last = points[f"{side}.{joint}"]
    return found


def pinned(chain: Chain, pins: Sequence[Pin], like: Points, stiff: bool = False) -> Chain:
    """The chain with every pinned point in its place, by the least weighted change of hips and angles.

    What cannot be reached is left as near as the parts allow. stiff: feet keep their direction.
    """
    give = {**_GIVE, "foot": 0.0} if stiff else _GIVE
    best, nearest = chain, float("inf")
    for _ in range(_ROUNDS if pins else 0):
        points = points_of(chain, like)
        gaps = [p.place - points[p.point] for p in pins]
        far = max(map(abs, gaps))
        if far < nearest:
            best, nearest = chain, far
        if far < _NEAR_M:
            break
        slopes: list[dict[str, float]] = []
        for pin in pins:
            across, up = {"x": _HIP_GIVE}, {"y": _HIP_GIVE}
            for name, lever in _lever(pin, points).items():
                ease = give.get(name.split(".")[-1], 1.0)
                across[name], up[name] = -lever.imag * ease, lever.real * ease
            slopes += [across, up]
        pull = _pull(slopes, [v for gap in gaps for v in (gap.real, gap.imag)])
        if pull is None:
            break
        chain = replace(
            chain,
            hip=chain.hip + _HIP_GIVE * complex(pull.get("x", 0.0), pull.get("y", 0.0)),
            angles={
                name: angle
                + max(-_LARGEST_TURN, min(_LARGEST_TURN, give.get(name.split(".")[-1], 1.0) * pull.get(name, 0.0)))
                for name, angle in chain.angles.items()
            },
        )
    return best


def _pull(slopes: Sequence[Mapping[str, float]], gaps: Sequence[float]) -> dict[str, float] | None:
    """The least change by name that closes the gaps: S' (S S' + e)^-1 gaps."""
    square = [
        [sum(v * b.get(k, 0.0) for k, v in a.items()) + (1e-7 if a is b else 0.0) for b in slopes] for a in slopes
    ]
    forces = solve_linear(square, list(gaps))
    if forces is None:
        return None
    change: dict[str, float] = {}
    for row, force in zip(slopes, forces, strict=True):
        for k, v in row.items():
            change[k] = change.get(k, 0.0) + force * v
    return change


def reached(chain: Chain, side: str, parts: tuple[str, str], end: complex, points: Points) -> Chain:
    """One free limb bent so that its ankle or wrist comes to `end`, its middle joint to the same side as before."""
    upper, lower = f"{side}.{parts[0]}", f"{side}.{parts[1]}"
    root = points[f"{side}.{'hip' if parts[0] == 'thigh' else 'shoulder'}"]
    a, b = chain.lengths[upper], chain.lengths[lower]
    way = end - root
    if a < 0.05 or b < 0.05 or abs(way) < 1e-6:
        return chain
    distance = max(abs(a - b) + 1e-6, min(abs(way), a + b - 1e-6))
    corner = acos(max(-1.0, min(1.0, (a * a + distance * distance - b * b) / (2 * a * distance))))
    bent = (chain.part(lower) / chain.part(upper)).imag
    forward = bent < 0 if abs(bent) > 1e-2 else parts[0] == "thigh"
    along = rect(1.0, phase(way))
    middle = a * along * rect(1.0, corner if forward else -corner)
    return replace(chain, angles={**chain.angles, upper: phase(middle), lower: phase(distance * along - middle)})
