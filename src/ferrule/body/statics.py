"""Support forces and net joint moments of a held pose.

A planar chain of rigid parts at rest. Net moment at a joint = sum over the parts beyond it of (r - r_joint) x F, with
their weights, loads and supports, divided by the body mass (N·m/kg). Signs: hip and knee extensor, ankle plantar
flexor, shoulder flexor, elbow and lumbar extensor positive; front view: hip abductor positive. What can be trusted of
it, and what cannot, is in docs/body.md; no moment leaves this folder except as a ratio.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ferrule.body.angles import SIDES
from ferrule.body.posture import ARM, End, NoSuchPosture, Posture, posture
from ferrule.body.segments import GRAVITY, REFERENCE, Person
from ferrule.model.pose import Contact, Movement
from ferrule.model.words import Place

__all__ = ["NoSuchPosture", "Solved", "forces_of", "moments_of", "solve", "solve_posture"]

CAPACITY = {"ankle": 2.0, "knee": 2.5, "hip": 2.5, "lumbar": 3.5, "shoulder": 1.0, "elbow": 0.8}
"""N·m/kg: weights of the least weighted effort, from memory. Press-ups move by 4 % or less with them, planks and
bridges by 11-38 %, which is why those are only ordered."""

FRICTION = 0.6
"""Largest horizontal push against a support, as a share of what it carries (modelling choice, from memory)."""

_BELOW_ANKLE = ("foot", "ball", "heel")
_BELOW_KNEE = (*_BELOW_ANKLE, "ankle", "midshin", "knee")
_BELOW_SHOULDER = ("hand", "forearm", "elbow")


@dataclass(frozen=True, slots=True)
class Solved:
    """A pose with its forces.

    shares    vertical share of the body weight by support ("hand", "foot.lead"); at a wall the horizontal one
    moments   net moments in N·m/kg by joint ("hip.lead", "hip+knee.lead", "hips", "lumbar", ...)
    friction  horizontal force of the pair of supports, in body weights, forward on the first one
    demand    the movement's own demand, N·m/kg or share; None when it has none
    """

    posture: Posture
    shares: Mapping[str, float]
    moments: Mapping[str, float]
    friction: float
    demand: float | None

    def quantity(self, name: str) -> float:
        """One solved quantity by name: "share hand", "hip.lead", ...; its size, without the sign."""
        if name.startswith("share "):
            return abs(self.shares[name.removeprefix("share ")])
        return abs(self.moments[name])


Force = tuple[Contact, complex, complex]
"""Contact, where it presses, force in N/kg of body mass (real: forward, imaginary: up)."""


def _cross(arm: complex, force: complex) -> float:
    return arm.real * force.imag - arm.imag * force.real


def forces_of(p: Posture, friction: float = 0.0) -> tuple[Force, ...]:
    """Support forces for a given friction pair (body weights, forward on the first support).

    Raises NoSuchPosture for more than two supports, or when a single support is not under the mass centre.
    """
    weight = p.mass * GRAVITY
    if not p.contacts:
        return ()
    if len(p.contacts) == 1:
        return ((p.contacts[0], _pressed(p), complex(0, weight)),)
    if len(p.contacts) > 2:
        raise NoSuchPosture("more than two supports: how they share the weight cannot be told")
    (a, b), (ra, rb) = p.contacts, p.supports
    if a.on == "wall" or b.on == "wall":
        wall, foot = (0, 1) if a.on == "wall" else (1, 0)
        lever = p.supports[wall].imag - p.supports[foot].imag
        push = weight * (p.centre.real - p.supports[foot].real) / lever
        forces = {wall: complex(-push, 0), foot: complex(push, weight)}
        return tuple((p.contacts[i], p.supports[i], forces[i]) for i in (0, 1))
    span = ra.real - rb.real
    if abs(span) < 1e-6:
        raise NoSuchPosture("both supports are on one vertical line: how they share the weight cannot be told")
    h = friction * GRAVITY
    on_a = (weight * (p.centre.real - rb.real) + (ra.imag - rb.imag) * h) / span
    return (a, ra, complex(h, on_a)), (b, rb, complex(-h, weight - on_a))


def _pressed(p: Posture) -> complex:
    """Where a single support presses; when nothing was solved it moves along the sole to below the mass centre."""
    point, contact = p.supports[0], p.contacts[0]
    off = p.centre.real - point.real
    if abs(off) < 1e-6 or contact.at in ("seat", "upper back"):
        return point
    side = "lead" if contact.limb == "both" else contact.limb
    if contact.at in ("foot", "ball") and p.movement.view == "side":
        ends = sorted(p.points[f"{side}.{e}"].real for e in ("heel", "toe"))
        if contact.at == "foot" and ends[0] <= p.centre.real <= ends[1]:
            return complex(p.centre.real, point.imag)
    raise NoSuchPosture(f"the mass centre is {abs(off) * 100:.0f} cm beside its only support, the {contact.at}")


def moments_of(p: Posture, forces: tuple[Force, ...]) -> dict[str, float]:
    """Net moments at every joint, N·m/kg."""
    at = p.points
    mass = p.body.mass
    front = p.movement.view == "front"

    def weight(joint: complex, parts: tuple[str, ...]) -> float:
        total = 0.0
        for part in parts:
            if part not in p.resting:
                total -= (at[part + "_cm"].real - joint.real) * mass[part.split(".")[-1]] * GRAVITY
        for part, where, share in p.loads:
            if part in parts and part not in p.resting:
                total -= (where.real - joint.real) * share * GRAVITY
        return total

    def support(joint: complex, side: str, kinds: tuple[str, ...]) -> float:
        total = 0.0
        for contact, where, force in forces:
            if contact.at in kinds and contact.limb in (side, "both"):
                total += _cross(where - joint, force) * (0.5 if contact.limb == "both" else 1.0)
        return total

    m: dict[str, float] = {}
    arms: float = 0.0
    lumbar = at["lumbar"]
    for side in SIDES:
        thigh, shin, foot = f"{side}.thigh", f"{side}.shin", f"{side}.foot"
        hip, knee, ankle = at[f"{side}.hip"], at[f"{side}.knee"], at[f"{side}.ankle"]
        at_hip = weight(hip, (thigh, shin, foot)) + support(hip, side, _BELOW_KNEE)
        if front:
            out = 1.0 if (side == "lead") == (p.movement.down == "lead") else -1.0
            at_hip *= -out
        m[f"hip.{side}"] = at_hip
        m[f"knee.{side}"] = -weight(knee, (shin, foot)) - support(knee, side, _BELOW_KNEE)
        m[f"ankle.{side}"] = weight(ankle, (foot,)) + support(ankle, side, _BELOW_ANKLE)
        if not front:
            m[f"hip+knee.{side}"] = m[f"hip.{side}"] + m[f"knee.{side}"]
        arm = tuple(f"{side}.{part}" for part in ARM)
        shoulder, elbow = at[f"{side}.shoulder"], at[f"{side}.elbow"]
        m[f"shoulder.{side}"] = -weight(shoulder, arm) - support(shoulder, side, _BELOW_SHOULDER)
        m[f"elbow.{side}"] = weight(elbow, arm[1:]) + support(elbow, side, _BELOW_SHOULDER)
        arms += weight(lumbar, arm) + support(lumbar, side, _BELOW_SHOULDER)
    back = sum(_cross(where - lumbar, force) for c, where, force in forces if c.at == "upper back")
    m["lumbar"] = -weight(lumbar, ("chest", "head")) - arms - back
    m["hips"] = m["hip.lead"] - m["hip.rear"] if front else m["hip.lead"] + m["hip.rear"]
    return m


def least_effort(p: Posture) -> float:
    """The friction pair (body weights) with the least sum of (moment / capacity)^2: one closed form.

    Cut at 0.6 of what the less loaded support carries; 0 when the share is imposed, when a wall or a single support
    decides it, or when no joint feels it.
    """
    if len(p.contacts) != 2 or any(c.share is not None or c.on == "wall" for c in p.contacts):
        return 0.0
    zero, one = moments_of(p, forces_of(p, 0.0)), moments_of(p, forces_of(p, 1.0))
    up = down = 0.0
    for name, value in zero.items():
        joint = name.split(".")[0]
        if joint in CAPACITY:
            slope = one[name] - value
            up -= value * slope / CAPACITY[joint] ** 2
            down += slope * slope / CAPACITY[joint] ** 2
    if down < 1e-9:
        return 0.0
    friction = up / down
    for _ in range(60):
        least = FRICTION * min(abs(f.imag) for _, _, f in forces_of(p, friction)) / GRAVITY
        if abs(friction) <= least + 1e-9:
            break
        friction = least if friction > 0 else -least
    return friction


def solve_posture(p: Posture, friction: float | None = None) -> Solved:
    """Forces and moments of a solved posture; the friction pair by least effort unless given."""
    chosen = least_effort(p) if friction is None else friction
    forces = forces_of(p, chosen)
    moments = moments_of(p, forces)
    shares = {
        c.at if c.limb == "both" else f"{c.at}.{c.limb}": (-f.real if c.on == "wall" else f.imag) / GRAVITY
        for c, _, f in forces
    }
    solved = Solved(p, shares, moments, chosen, None)
    name = p.movement.demand
    if not name:
        return solved
    try:
        demand = solved.quantity(name)
    except KeyError:
        raise NoSuchPosture(f"the demand {name!r} is not among what this pose gives") from None
    return Solved(p, shares, moments, chosen, demand)


def solve(
    movement: Movement,
    *,
    at: End = "hold",
    load_kg: float = 0.0,
    place: Place | None = None,
    person: Person = REFERENCE,
) -> Solved:
    """Solve one end of a repetition with `load_kg` at `place`. Raises NoSuchPosture (a ValueError) with the reason."""
    return solve_posture(posture(movement, at=at, load_kg=load_kg, place=place, person=person))
