"""A pose put on its supports: the unknown angles found, every point placed above the floor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import degrees
from typing import Literal

from ferrule.body.angles import SIDES, Affine, Angles, angles_of
from ferrule.body.loads import Carried, carried, hands_free
from ferrule.body.newton import newton
from ferrule.body.segments import REFERENCE, Body, Person, body_of
from ferrule.body.skeleton import Points, contact_point, skeleton, wrist_for
from ferrule.model.pose import Contact, Movement, Pose
from ferrule.model.words import Place

End = Literal["hold", "other"]

PARTS: tuple[tuple[str, str], ...] = (
    ("pelvis", "pelvis"),
    ("chest", "chest"),
    ("head", "head"),
    *((f"{side}.{p}", p) for side in SIDES for p in ("thigh", "shin", "foot", "upper_arm", "forearm", "hand")),
)
"""Every part with the name its mass goes by."""

ARM = ("upper_arm", "forearm", "hand")
FREE = ("lying", "air")
_HEIGHT_SLACK_M = 0.03  # a pose with nothing to solve may miss its supports by so much
# Flesh below a joint's centre, m.
_TRUNK_DEPTH = {"hip": 0.09, "shoulder": 0.06, "head_cm": 0.09, "chest_cm": 0.09}
_LIMB_DEPTH = {"knee": 0.045, "ankle": 0.03, "elbow": 0.03, "wrist": 0.02, "heel": 0.0, "ball": 0.0}


class NoSuchPosture(ValueError):  # noqa: N818 - the name says what is so
    """The pose cannot be taken: its supports, balance or share contradict its angles."""


@dataclass(frozen=True, slots=True)
class Posture:
    """A solved pose. Points in m: x forward from the first support (side view), y up from the floor.

    angles_deg   the unknowns, by name ("line", "lead.shin", ...)
    supports     each contact with the point where it presses
    loads        what is carried: part, place, kg per kg of body mass
    mass         of all that the supports carry, as a fraction of the body mass; parts in `resting` lie on the floor
    centre       mass centre of that, m
    """

    movement: Movement
    body: Body
    points: Points
    angles: Mapping[str, float | None]
    angles_deg: Mapping[str, float]
    contacts: tuple[Contact, ...]
    supports: tuple[complex, ...]
    loads: Carried
    resting: frozenset[str]
    mass: float
    centre: complex


@dataclass(frozen=True, slots=True)
class Plan:
    """What has to be solved: angles, contacts, and how far down planted hands let the shoulders (0 straight, 1 low)."""

    angles: Angles
    contacts: tuple[Contact, ...]
    reach: float | None = None


def plan_of(movement: Movement, at: End = "hold", place: Place | None = None) -> Plan:
    """The plan of one end of the repetition; a load in free hands makes the arms hang (side view)."""
    if at == "other":
        if movement.other is None:
            raise NoSuchPosture("this movement is held still: it has no other end")
        pose, contacts, reach = movement.other, movement.other_contacts or movement.contacts, movement.other_reach
    else:
        pose, contacts, reach = movement.hold, movement.contacts, movement.reach
    return Plan(angles_of(loaded_arms(pose, movement, contacts, place)), contacts, 1.0 if reach else None)


def loaded_arms(pose: Pose, movement: Movement, contacts: Sequence[Contact], place: Place | None) -> Pose:
    """The pose with the loaded arm hanging, or holding at the chest, as far as the movement lets it."""
    if (
        place is None
        or movement.arms_as_drawn
        or movement.view == "front"
        or movement.rests
        or not hands_free(contacts)
    ):
        return pose
    if place == "hands":
        return replace(pose, arms={"arm": 0.0}, lead_arm={}, rear_arm={})
    if place == "opposite hand":
        return replace(pose, rear_arm={"arm": 0.0, "forearm": 0.0})
    if place == "same hand":
        return replace(pose, lead_arm={"arm": 0.0, "forearm": 0.0})
    return pose


def resting_parts(movement: Movement) -> frozenset[str]:
    """Parts that lie on the floor and carry themselves."""
    parts = {"head"} & set(movement.rests)
    if "arms" in movement.rests:
        parts |= {f"{side}.{part}" for side in SIDES for part in ARM}
    return frozenset(parts)


def mass_centre(points: Points, body: Body, loads: Carried, resting: frozenset[str]) -> tuple[float, complex]:
    """(mass, centre) of everything that does not rest on the floor, mass in body masses."""
    total, moment = 0.0, 0j
    for part, name in PARTS:
        if part not in resting:
            mass = body.mass[name]
            total += mass
            moment += mass * points[part + "_cm"]
    for part, where, share in loads:
        if part not in resting:
            total += share
            moment += share * where
    return total, moment / total


def posture(
    movement: Movement,
    *,
    at: End = "hold",
    load_kg: float = 0.0,
    place: Place | None = None,
    person: Person = REFERENCE,
) -> Posture:
    """Solve one end of a repetition. Raises NoSuchPosture with the reason."""
    plan = plan_of(movement, at, place if load_kg > 0 else None)
    return settle(plan, movement, load_kg=load_kg, place=place, person=person)


def settle(
    plan: Plan, movement: Movement, *, load_kg: float = 0.0, place: Place | None = None, person: Person = REFERENCE
) -> Posture:
    """Find the unknown angles of a plan: heights of the supports first, then imposed share, then balance."""
    body = body_of(person)
    resting = resting_parts(movement)
    share = load_kg / person.mass_kg
    front = movement.view == "front"
    contacts = tuple(c for c in plan.contacts if c.at not in FREE)
    names = list(plan.angles.starts)
    parts = plan.angles.parts
    fixed = {name: a.fixed if a is not None else None for name, a in parts.items()}
    bindings = [(name, a) for name, a in parts.items() if a is not None and a.unknown]
    planted = _planted(plan, movement, person) if plan.reach is not None else None

    def put(values: Sequence[float]) -> tuple[dict[str, float | None], Points]:
        known = dict(zip(names, values, strict=True))
        angles = fixed | {name: bound.at(known) for name, bound in bindings}
        points = skeleton(angles, body, contacts, movement.view, movement.down)
        if planted is not None:
            hand, support, offset = planted
            wrist = wrist_for(contact_point(points, support) + offset, hand)
            points = skeleton(angles, body, contacts, movement.view, movement.down, wrist)
        return angles, points

    def weights(points: Points) -> tuple[Carried, float, complex]:
        loads = carried(place, share, points, body, front=front) if place is not None and share > 0 else ()
        return (loads, *mass_centre(points, body, loads, resting))

    kinds = _equations(contacts, len(names), planted is not None)

    def residual(values: Sequence[float]) -> list[float]:
        _, points = put(values)
        if kinds == ["reach"]:
            assert plan.reach is not None
            low, straight = body.forearm, body.upper_arm + body.forearm
            rise = points["shoulder"].imag - points["lead.wrist"].imag
            return [rise - (low * plan.reach + straight * (1 - plan.reach))]
        at = [contact_point(points, c) for c in contacts]
        above = [p.imag - c.height_m for p, c in zip(at, contacts, strict=True)]
        found = [above[0] - other for other in above[1:]]
        if "share" in kinds:
            _, _, centre = weights(points)
            i = 0 if contacts[0].share is not None else 1
            imposed = contacts[i].share or 0.0
            found.append(centre.real - at[1 - i].real - imposed * (at[i].real - at[1 - i].real))
        elif "balance" in kinds:
            _, _, centre = weights(points)
            found.append(centre.real - at[0].real)
        return found

    values, left = newton(residual, list(plan.angles.starts.values())) if names else ([], 0.0)
    angles, points = put(values)
    if left > 1e-6:
        raise NoSuchPosture(_reason(kinds, names, left))
    at = [contact_point(points, c) for c in contacts]
    shift = complex(-at[0].real, contacts[0].height_m - at[0].imag) if contacts else _lying_shift(points, plan)
    points = {k: p if k in ("up", "ahead") else p + shift for k, p in points.items()}
    supports = tuple(p + shift for p in at)
    for contact, point in zip(contacts, supports, strict=True):
        miss = point.imag - contact.height_m
        if abs(miss) > _HEIGHT_SLACK_M:
            word = "above" if miss > 0 else "below"
            raise NoSuchPosture(f"the {contact.at} would be {abs(miss) * 100:.0f} cm {word} its support")
    loads, mass, centre = weights(points)
    return Posture(
        movement=movement,
        body=body,
        points=points,
        angles=angles,
        angles_deg={name: degrees(v) for name, v in zip(names, values, strict=True)},
        contacts=contacts,
        supports=supports,
        loads=loads,
        resting=resting,
        mass=mass,
        centre=centre,
    )


def _equations(contacts: Sequence[Contact], unknowns: int, reach: bool) -> list[str]:
    """Which equations close the pose; raises NoSuchPosture when there are too many or too few for the unknowns."""
    if unknowns == 0:
        return []
    if reach:
        kinds = ["reach"]
    else:
        kinds = ["height"] * (len(contacts) - 1)
        if len(kinds) < unknowns and any(c.share is not None for c in contacts) and len(contacts) == 2:
            kinds.append("share")
        elif len(kinds) < unknowns and len(contacts) == 1:
            kinds.append("balance")
    if len(kinds) != unknowns:
        raise NoSuchPosture(
            f"{unknowns} angles are to be solved, but the supports give {len(kinds)} conditions: "
            + ("write one more angle as a number" if unknowns > len(kinds) else "write one more angle with ~")
        )
    return kinds


def _reason(kinds: Sequence[str], names: Sequence[str], left: float) -> str:
    what = {
        "reach": "the shoulders cannot come down to elbow height",
        "balance": "the mass centre cannot be brought over the foot",
        "share": "the supports cannot carry the stated share",
    }.get(kinds[-1], "the supports cannot be reached")
    return f"{what} by changing {' and '.join(names)} ({left * 100:.1f} cm are left)"


def _planted(plan: Plan, movement: Movement, person: Person) -> tuple[Contact, Contact, complex]:
    """(hand contact, other contact, palm seen from there) where straight arms, hanging down, plant the hands."""
    hand = next((c for c in plan.contacts if c.at == "hand"), None)
    other = next((c for c in plan.contacts if c.at != "hand"), None)
    if hand is None or other is None:
        raise NoSuchPosture("hands can only be reached for when they and one other part are supported")
    straight: dict[str, Affine | None] = {**plan.angles.parts}
    for side in SIDES:
        straight[f"{side}.upper_arm"] = straight[f"{side}.forearm"] = Affine(0.0)
    first = settle(
        Plan(Angles(straight, plan.angles.starts), plan.contacts), replace(movement, reach=False), person=person
    )
    at = dict(zip([c.at for c in first.contacts], first.supports, strict=True))
    return hand, other, at["hand"] - at[other.at]


def _lying_shift(points: Points, plan: Plan) -> complex:
    """The trunk laid on its support, or the lowest part in the air at the stated height."""
    free = plan.contacts[0] if plan.contacts else None
    depth = {**_TRUNK_DEPTH, **_LIMB_DEPTH} if free is not None and free.at == "air" else _TRUNK_DEPTH
    lowest = min(points[name].imag - depth[key] for name in points if (key := name.split(".")[-1]) in depth)
    return complex(0, (free.height_m if free else 0.0) - lowest)


def through_floor(p: Posture) -> tuple[str, ...]:
    """Limb joints more than 2 cm deeper than flesh lets them be: "rear.knee 6 cm", deepest first."""
    deep = {
        name: depth - point.imag
        for name, point in p.points.items()
        if (depth := _LIMB_DEPTH.get(name.split(".")[-1])) is not None and depth - point.imag > 0.02
    }
    return tuple(f"{name} {deep[name] * 100:.0f} cm" for name in sorted(deep, key=lambda n: -deep[n]))
