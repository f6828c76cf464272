"""The way of a repetition for drawing it: what rests on a support stays there, what steps is lifted and set down.

The demand takes its own way (`path`), along which balance and shares are solved. Where that way exists its postures are
used here too, and the parts give way a little so that no contact slides; where it does not, because a foot leaves the
ground or another one takes the weight, the parts turn evenly between the solved ends.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import pi, sin

from ferrule.body.angles import SIDES
from ferrule.body.chain import Chain, blend, chain_of, points_of, turn
from ferrule.body.figure import solved
from ferrule.body.path import Path, path_of
from ferrule.body.pins import Pin, pinned, reached
from ferrule.body.posture import FREE, NoSuchPosture, Posture, through_floor
from ferrule.body.props import slid_on
from ferrule.body.skeleton import Points, contact_point
from ferrule.model.pose import Contact, Movement
from ferrule.model.words import Place

FIGURE_KG = 10.0
_SAME_M = 0.02  # two supports at one height
_KNEE_M = 0.045  # the middle of a knee that lies on the floor
_HAND_M = 0.03  # the wrist of a hand that lies on the floor
_FINGERS_M = 0.06  # so much higher it is when the hand hangs
_STEP_M = 0.12  # a longer way between the ends is a step, a shorter one is a slip of the written angles
_LIFT_M = 0.08
_FLIGHT = 0.4  # the part of a jump's time that is spent in the air
_TRAVEL_M = 0.5  # how far ahead one jumps or steps off to another level

_LEG, _ARM = ("thigh", "shin"), ("upper_arm", "forearm")
_FEET = {f"{side}.{end}" for side in SIDES for end in ("ankle", "ball", "heel", "knee", "midshin")}
_JOINTS = ("hip", "shoulder", *(f"{side}.{j}" for side in SIDES for j in ("knee", "ankle", "elbow", "wrist")))

Held = dict[str, complex]
"""What rests, by point ("lead.ball", "back", ...), and where, m."""


@dataclass(frozen=True, slots=True)
class Motion:
    """A repetition from its `other` end (0) to its `hold` end (1).

    fixed    what rests on the same place all the way, by point
    flying   the `other` end is in the air
    """

    movement: Movement
    place: Place | None
    start: Posture
    end: Posture
    first: Chain
    last: Chain
    turns: Mapping[str, float]
    fixed: tuple[Pin, ...]
    steps: Mapping[str, tuple[complex, complex, float]]
    path: Path | None
    flying: bool

    def at(self, t: float) -> Posture:
        """The posture at `t`, joints in their places; its forces are not solved."""
        if t >= 1.0:
            return self.end
        if not self.flying:
            return self._grounded(t)
        if t > _FLIGHT:
            return self._grounded((t - _FLIGHT) / (1 - _FLIGHT))
        down = self._grounded(0.0)
        rise = complex(0, (1 - (t / _FLIGHT) ** 2) * _air(self.movement))
        points = {k: p if k in ("up", "ahead") else p + rise for k, p in down.points.items()}
        return replace(down, points=points, contacts=(), supports=())

    def _grounded(self, t: float) -> Posture:
        like = self.end.points
        chain = blend(self.first, self.last, t, self.turns)
        if self.path is not None:
            chain = chain_of(self.path.at(t).points)
        if self.fixed:
            points = points_of(chain, like)
            gap = sum(pin.place - points[pin.point] for pin in self.fixed) / len(self.fixed)
            chain = replace(chain, hip=chain.hip + gap)
        elif self.path is not None:
            chain = replace(chain, hip=(1 - t) * self.first.hip + t * self.last.hip)
        chain = pinned(chain, self.fixed, like, stiff=self.movement.view == "front")
        sunk = max(_KNEE_M - points_of(chain, like)[f"{side}.knee"].imag for side in SIDES)
        if sunk > 0.005 and self.end.contacts:  # a free knee that swings low: the hips make room
            pins = (*self.fixed, Pin("hip", chain.hip + complex(0, sunk)))
            chain = pinned(chain, pins, like, stiff=self.movement.view == "front")
        for limb, (begin, finish, lift) in self.steps.items():
            side, part = limb.split(".")
            goal = (1 - t) * begin + t * finish + complex(0, lift * sin(pi * t))
            chain = reached(chain, side, _LEG if part == "ankle" else _ARM, goal, points_of(chain, like))
        if self.end.contacts:
            chain = _cleared(chain, like, {pin.point.split(".")[0] for pin in self.fixed if pin.point in _FEET})
            planted = {pin.point.split(".")[0] for pin in self.fixed if pin.point not in _FEET}
            chain = _hands_cleared(chain, like, planted, t)
        if t <= 0.0 and not self.flying:
            contacts: tuple[Contact, ...] = self.start.contacts
        else:
            held = {pin.point.rpartition(".")[0] for pin in self.fixed}
            contacts = tuple(c for c in self.end.contacts if _sides(c) <= held or c.at in ("upper back", "seat"))
        points = points_of(chain, like)
        supports = tuple(contact_point(points, c) for c in contacts)
        backs = [p.angles.get("back") or 0.0 for p in (self.start, self.end)]
        angles = {**self.end.angles, "back": (1 - t) * backs[0] + t * backs[1]}
        return replace(self.end, points=points, angles=angles, contacts=contacts, supports=supports)


def _cleared(chain: Chain, like: Points, standing: set[str]) -> Chain:
    """The free feet lifted as far as they would go through the floor."""
    for side in set(SIDES) - standing:
        points = points_of(chain, like)
        low = min(points[f"{side}.{end}"].imag for end in ("heel", "ball"))
        if low < 0:
            chain = reached(chain, side, _LEG, points[f"{side}.ankle"] + complex(0, -low), points)
            points = points_of(chain, like)
    return chain


def _hands_cleared(chain: Chain, like: Points, planted: set[str], t: float) -> Chain:
    """The free hands lifted, by bending the elbow, as far as they would go through the floor on the way."""
    low = _HAND_M + _FINGERS_M * min(1.0, 4 * t, 4 * (1 - t))
    for side in set(SIDES) - planted:
        points = points_of(chain, like)
        wrist = points[f"{side}.wrist"]
        if wrist.imag < low:
            chain = reached(chain, side, _ARM, complex(wrist.real, low), points)
    return chain


def _air(movement: Movement) -> float:
    return next((c.height_m for c in movement.other_contacts or () if c.at == "air"), 0.0)


def _sides(contact: Contact) -> set[str]:
    return set(SIDES) if contact.limb == "both" else {contact.limb}


def held_points(p: Posture) -> Held:
    """Each resting point of a posture; a foot rests on heel and ball."""
    found: Held = {}
    for contact in p.contacts:
        if contact.at in FREE:
            continue
        if contact.at in ("upper back", "seat"):
            on = "back" if contact.at == "upper back" else "hip"
            found[on] = p.points[on]
            continue
        ends = {"foot": ("ball", "heel"), "hand": ("palm",), "forearm": ("elbow",)}.get(contact.at, (contact.at,))
        for side in sorted(_sides(contact)):
            found |= {f"{side}.{end}": p.points[f"{side}.{end}"] for end in ends}
    return found


def _touching(p: Posture, held: Held) -> Held:
    """Balls and heels on the floor that no contact names: they bear no weight but they stay."""
    if p.movement.view == "front" or any(c.at in ("lying", "upper back", "seat") for c in p.movement.contacts):
        return held
    ends = {f"{side}.{end}" for side in SIDES for end in ("ball", "heel")}
    return {n: p.points[n] for n in ends if abs(p.points[n].imag) < 0.025} | held


def _pairs(first: Held, last: Held, starts: Held, ends: Held) -> list[str]:
    """Points that rest on one height at both ends, the ball before the heel of the same foot."""
    both = (set(first) & set(ends)) | (set(starts) & set(last))
    return sorted(n for n in both if abs((ends.get(n) or last[n]).imag - (starts.get(n) or first[n]).imag) < _SAME_M)


def _pins(names: list[str], end: Posture) -> tuple[Pin, ...]:
    """One pin a foot: its ankle where it stays flat, else the end it turns about."""
    pins = []
    for name in names:
        side, _, what = name.rpartition(".")
        flat = what in ("ball", "heel") and {f"{side}.ball", f"{side}.heel"} <= set(names)
        if what == "heel" and flat:
            continue
        point = f"{side}.ankle" if flat and end.movement.view == "side" else name
        pins.append(Pin(point, end.points[point]))
    return tuple(pins)


def motion_of(movement: Movement, place: Place | None = None) -> Motion:
    """Both ends solved, set on one floor, and what stays fixed between them. Raises NoSuchPosture."""
    if movement.other is None:
        raise NoSuchPosture("this movement is held still: it has no other end")
    end, start = solved(movement, "hold", place), solved(movement, "other", place)
    flying = any(c.at == "air" for c in movement.other_contacts or ())
    if flying:
        low = min(start.points[f"{s}.{e}"].imag for s in SIDES for e in ("heel", "ball"))
        start = _moved(start, complex(0, -low))
    held_start, held_end = held_points(start), held_points(end)
    touch_start, touch_end = _touching(start, held_start), _touching(end, held_end)
    if flying:
        held_start = {n: start.points[n] for n in held_end if n.endswith(".ball")}
    slid = _slid(end)
    names = [*held_start] if flying else _pairs(held_start, held_end, touch_start, touch_end)
    names = [n for n in names if n not in slid]
    ways = {n: end.points[n] - start.points[n] for n in names}
    root = _root(names, ways, movement.steps or "rear")
    if root:
        shift = sum(ways[n].real for n in root) / len(root)
    elif held_start and held_end:
        shift = min(p.real for p in held_end.values()) - max(p.real for p in held_start.values()) - _TRAVEL_M
    else:
        shift = end.points["hip"].real - start.points["hip"].real
    start = _moved(start, complex(shift, 0))
    fixed = _pins([n for n in names if abs(ways[n].real - shift) < _STEP_M], end)
    hangs = bool(end.contacts) and all(c.on == "bar" for c in end.contacts)
    if hangs:
        fixed = ()  # one who hangs stays below the bar: the arms follow, the body does not lean
    first, last = _facing(chain_of(start.points), chain_of(end.points))
    return Motion(
        movement=movement,
        place=place,
        start=start,
        end=end,
        first=first,
        last=last,
        turns=_turns(start, end, first, last),
        fixed=fixed,
        steps=_steps(start, end, {**touch_start, **held_start}, touch_end, fixed, slid),
        path=None if hangs or flying else _usable_path(movement, place, start, end),
        flying=flying,
    )


def _moved(p: Posture, way: complex) -> Posture:
    points = {k: v if k in ("up", "ahead") else v + way for k, v in p.points.items()}
    return replace(p, points=points, supports=tuple(s + way for s in p.supports), centre=p.centre + way)


def _usable_path(movement: Movement, place: Place | None, start: Posture, end: Posture) -> Path | None:
    """The way of the demand when every support holds all along it and it begins where the figure does."""
    if movement.other_contacts is not None and set(movement.other_contacts) != set(movement.contacts):
        bare = [[(c.at, c.limb, c.height_m) for c in cs] for cs in (movement.contacts, movement.other_contacts)]
        if bare[0] != bare[1]:
            return None
    load = FIGURE_KG if place is not None and end.loads else 0.0
    try:
        path = path_of(movement, load_kg=load, place=place)
        if any(through_floor(path.at(i / 8)) for i in range(8)):
            return None
        first = path.at(0.0)
    except NoSuchPosture:
        return None
    ways = [first.points[n] - start.points[n] for n in _JOINTS]
    return path if max(abs(way - ways[0]) for way in ways) < _SAME_M else None


def _facing(first: Chain, last: Chain) -> tuple[Chain, Chain]:
    """A part that points at the one who looks at one end comes out of there straight to where it points at the other."""

    def known(one: Chain, other: Chain) -> Chain:
        return replace(one, angles={n: other.angles[n] if one.lengths[n] < 1e-6 else a for n, a in one.angles.items()})

    return known(first, last), known(last, first)


def _turns(start: Posture, end: Posture, first: Chain, last: Chain) -> dict[str, float]:
    """How far each part turns. An arm that would pass through the floor goes the other way round."""
    turns: dict[str, float] = {}
    for name, angle in first.angles.items():
        written = None
        a, b = start.angles.get(name), end.angles.get(name)
        if a is not None and b is not None and not name.startswith(("trunk", "head")):
            # trunk, head and shin lean clockwise, limbs swing forward, which is the other way round
            written = (a - b) if name.endswith(("shin", "foot")) else (b - a)
        turns[name] = turn(angle, last.angles[name], written)
    for side in SIDES:
        half = points_of(blend(first, last, 0.5, turns), end.points)
        if half[f"{side}.wrist"].imag < 0.0 or half[f"{side}.elbow"].imag < 0.0:
            for part in ("upper_arm", "forearm"):
                way = turns[f"{side}.{part}"]
                if abs(way) > pi / 2:
                    turns[f"{side}.{part}"] = way - 2 * pi if way > 0 else way + 2 * pi
    return turns


def _steps(
    start: Posture, end: Posture, first: Held, last: Held, fixed: tuple[Pin, ...], slid: set[str]
) -> dict[str, tuple[complex, complex, float]]:
    """Ankles and wrists that rest in different places at the two ends: from, to, lift."""
    held = {pin.point for pin in fixed}
    found: dict[str, tuple[complex, complex, float]] = {}
    for side in SIDES:
        for joint, kinds in (("ankle", ("ball", "heel", "ankle", "knee")), ("wrist", ("palm", "elbow"))):
            rests = {f"{side}.{k}" for k in kinds}
            if rests & held or not (rests & set(first) and rests & set(last)):
                continue
            name = f"{side}.{joint}"
            a, b = start.points[name], end.points[name]
            lift = _LIFT_M if abs(a.imag - b.imag) < 0.05 else 1.3 * _LIFT_M
            found[name] = (a, b, 0.0 if rests & slid else lift if abs(a - b) > 0.03 else 0.0)
    return found


def _slid(p: Posture) -> set[str]:
    """The points of feet on a towel: they slide, they neither stay nor step."""
    names = [name for name in (slid_on(prop, p) for prop in p.movement.props) if name]
    sides = {name.split(".")[0] for name in names}
    if names and any(c.limb == "both" and c.at in ("foot", "ball", "heel") for c in p.contacts):
        sides = set(SIDES)
    return {f"{side}.{end}" for side in sides for end in ("ball", "heel", "ankle")}


def _root(names: list[str], ways: Mapping[str, complex], steps: str) -> list[str]:
    """The points that stay while others step: back or seat, else the side that does not step, feet before hands."""
    found = [n for n in names if n in ("back", "hip")]
    found = found or [n for n in names if not n.startswith(steps)] or names
    feet = [n for n in found if n in _FEET]
    far = max((abs(ways[a].real - ways[b].real) for a in found for b in found), default=0.0)
    return feet if feet and far > _STEP_M else found
