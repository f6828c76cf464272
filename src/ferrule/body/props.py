"""What stands beside the body: supports, props of the movement, and the load."""

from __future__ import annotations

from cmath import rect
from dataclasses import dataclass
from typing import Literal

from ferrule.body.posture import Posture
from ferrule.body.shapes import (
    FLOOR,
    LOAD,
    LOAD_FAR,
    PROP,
    PROP_FILL,
    block,
    dot,
    line,
    path,
    strokes,
    xy,
)
from ferrule.body.skeleton import Points
from ferrule.model.pose import Contact, Prop
from ferrule.model.words import Place

_LINE = 0.013
_BESIDE, _AHEAD = -0.95, 1.35  # where a band is fixed, seen from what the body stands or sits on, m
_BALL = 0.1
_ROPE = 1.15  # from the hand to the middle of a rope
Box = tuple[float, float, float, float]
"""Left, bottom, right, top, m."""

_WIDTH = {"hand": 0.3, "forearm": 0.42, "upper back": 0.42, "foot": 0.46, "ball": 0.3, "seat": 0.42}


def slab(box: Box) -> str:
    """A flat prop drawn as a slab: a mat or a bench top."""
    left, bottom, right, top = box
    return (
        f"M{xy(complex(left, bottom))}L{xy(complex(left, top))}L{xy(complex(right, top))}L{xy(complex(right, bottom))}Z"
    )


def stand(kind: str, centre: float, top: float, width: float) -> tuple[str, Box]:
    """One support with its top at that height: a block, or a seat or bench on legs."""
    box = (centre - width / 2, 0.0, centre + width / 2, top)
    if kind in ("chair", "bench", "sofa"):
        seat = slab((box[0], top - 0.05, box[2], top))
        lines = [(complex(x, top - 0.05), complex(x, 0)) for x in (box[0] + 0.03, box[2] - 0.03)]
        if kind == "chair":
            lines.append((complex(box[0] + 0.015, top), complex(box[0] - 0.03, top + 0.4)))
            box = (box[0] - 0.05, 0.0, box[2], top + 0.42)
        return strokes(lines, PROP, 0.025) + path(seat, PROP_FILL, PROP, _LINE), box
    return path(slab(box), PROP_FILL, PROP, _LINE), box


def wall(at: float, height: float) -> tuple[str, Box]:
    """A wall whose face is at `at`, ahead of the body."""
    top = height + 0.6
    return (
        path(slab((at, 0, at + 0.07, top)), PROP_FILL) + line((complex(at, 0), complex(at, top)), PROP, _LINE),
        (at, 0.0, at + 0.08, top),
    )


def support(contact: Contact, where: complex, p: Posture) -> tuple[str, Box | None]:
    """What a contact rests on, unless it is the floor."""
    if contact.on == "wall":
        return wall(where.real, contact.height_m)
    if contact.on == "bar":
        return path(dot(where, 0.035), PROP), (where.real - 0.1, 0, where.real + 0.1, where.imag + 0.06)
    if contact.height_m <= 0:
        return "", None
    kind = contact.on if contact.on != "floor" else "box"
    width = _WIDTH.get(contact.at, 0.3)
    centre = where.real
    side = "lead" if contact.limb == "both" else contact.limb
    if contact.at == "foot" and p.movement.view == "side":
        centre = (p.points[side + ".heel"].real + p.points[side + ".toe"].real) / 2 + 0.05
    elif contact.at == "seat":
        centre = where.real + 0.06
    elif contact.at == "ball":
        centre = where.real + 0.09
    elif contact.at == "hand":
        centre = where.real + 0.02
    if contact.at == "seat" and p.movement.view == "front":
        kind, centre = "bench" if kind == "chair" else kind, where.real
    return stand(kind, centre, contact.height_m, width)


def extra(prop: Prop, p: Posture, box: Box, hold: Posture) -> tuple[str, Box | None]:
    """A prop of the movement: under a named part of the held end, or of its own height ahead of the body."""
    points = p.points if prop.kind in ("band", "towel") else hold.points
    under = points.get(prop.under) or points.get(f"lead.{prop.under}")
    if prop.under == "pelvis":
        under = points["hip"]
    if prop.kind == "mat":
        mat = (box[0] - 0.05, -0.03, box[2] + 0.05, 0.0)
        return path(slab(mat), FLOOR), mat
    if prop.kind == "wall" and prop.under == "back" and under is not None:
        return wall(under.real - 0.08, prop.height_m or 1.2)  # behind the body
    if prop.kind == "wall":
        return wall(under.real + 0.09 if under is not None else box[2] + 0.02, prop.height_m or 1.2)
    if prop.kind == "band":
        return "", None
    if prop.kind == "towel":
        name = slid_on(prop, p)
        box = towel(points[name] if name else 0j)
        return (path(slab(box), FLOOR), box) if name else ("", None)
    if prop.kind == "ball":
        centre = under if under is not None else 0j
        return path(dot(centre, _BALL), PROP_FILL, PROP, _LINE), None
    if prop.kind == "rope":
        hand, low = p.points["lead.wrist"], min(p.points["lead.ball"].imag, p.points["rear.ball"].imag)
        mid = complex(p.points["lead.ball"].real - 0.05, 0.012) if low > 0.03 else hand + _ROPE * rect(1.0, 1.8)
        ends = (hand.real, mid.real)
        return line((hand, mid), LOAD, 0.018), (min(ends), 0.0, max(ends), max(hand.imag, mid.imag))
    if prop.kind == "bar":
        where = under if under is not None else complex(box[2], prop.height_m)
        return path(dot(where, 0.02), PROP), None
    if under is None:
        return stand(prop.kind, box[2] + 0.3, prop.height_m or 0.45, 0.42)
    if "wrist" in prop.under:  # a hand rests on its back
        return stand(prop.kind, under.real + 0.29, prop.height_m or 0.45, 0.42)
    top = prop.height_m or max(0.05, under.imag - 0.087)
    return stand(prop.kind, under.real, top, 0.42)


def slid_on(prop: Prop, p: Posture) -> str:
    """The point of the foot that a towel on the floor lies under; "" for another prop."""
    if prop.kind != "towel" or prop.under in ("hand", "hands"):
        return ""
    end = prop.under if prop.under in ("heel", "ball") else "sole"
    limbs = [c.limb for c in p.movement.contacts if c.at in ("foot", "heel", "ball")]
    side = limbs[0] if len(limbs) == 1 else p.movement.steps or "rear"
    return f"{'lead' if side == 'both' else side}.{end}"


def towel(where: complex) -> Box:
    """The box of a towel on the floor under a foot."""
    return where.real - 0.16, -0.02, where.real + 0.16, 0.0


@dataclass(frozen=True, slots=True)
class String:
    """A band or a towel drawn tight between two places."""

    start: complex
    end: complex
    stroke: str
    width: float

    def drawn(self) -> str:
        return line((self.start, self.end), self.stroke, self.width)

    @property
    def box(self) -> Box:
        xs, ys = (self.start.real, self.end.real), (self.start.imag, self.end.imag)
        return min(xs) - self.width, min(ys), max(xs) + self.width, max(ys)


def string(prop: Prop, p: Posture, right: float) -> String | None:
    """A band round both limbs at a joint, from the hands to the feet or to what it is fixed to; a towel to what is ahead.

    right  the right end of the body, m
    """
    points = p.points
    if prop.kind == "towel" and prop.under in ("hand", "hands"):
        hand = points["lead.wrist"]
        return String(hand, complex(max(right, hand.real + 0.1), hand.imag), PROP, 0.03)
    if prop.kind != "band":
        return None
    if prop.under in ("hand", "hands"):
        return String(points["lead.wrist"], (points["lead.ball"] + points["rear.ball"]) / 2, LOAD, 0.022)
    if "." in prop.under:  # fixed beside the body, or ahead of it in a side view
        start = points[prop.under]
        stands = p.supports[0].real if p.supports else points["hip"].real
        return String(
            start, complex(stands + (_BESIDE if p.movement.view == "front" else _AHEAD), prop.height_m), LOAD, 0.022
        )
    joint = {"foot": "ball", "feet": "ball", "knees": "knee", "ankles": "ankle"}.get(prop.under, prop.under)
    lead, rear = points.get(f"lead.{joint}"), points.get(f"rear.{joint}")
    if lead is None or rear is None:
        return None
    if abs(lead - rear) < 0.06:
        return String(lead - 0.06, lead + 0.08, LOAD, 0.03)
    out = (lead - rear) / abs(lead - rear) * 0.05
    return String(lead + out, rear - out, LOAD, 0.025)


@dataclass(frozen=True, slots=True)
class Mark:
    """A drawn load: its place and direction, its layer, the box it fills, and the length and width of a block."""

    fill: str
    centre: complex
    along: complex
    layer: Literal["far", "near"]
    box: Box
    size: tuple[float, float] | None = None

    def about(self, origin: complex = 0j) -> str:
        """Path data with `origin` as the zero; a load without a size is a dumbbell."""
        at = self.centre - origin
        return _dumbbell(at) if self.size is None else block(at, self.along, *self.size)


def marks(place: Place, p: Posture, points: Points) -> tuple[Mark, ...]:
    """The load drawn where it is carried: a dumbbell in each loaded hand, or one block."""
    hip, up, ahead = points["hip"], points["up"], points["ahead"]
    trunk = p.body.shoulder
    flat = 0.0 if p.movement.view == "front" else 1.0
    if place in ("hands", "opposite hand", "same hand"):
        hands = {"opposite hand": ("rear",), "same hand": ("lead",)}.get(place, ("rear", "lead"))
        found = []
        for side in hands:
            at = _grip(points, side)
            box = (at.real - 0.13, at.imag - 0.06, at.real + 0.13, at.imag + 0.06)
            behind = side == "rear" and len(hands) == 2
            mark = Mark(LOAD_FAR if behind else LOAD, at, 1 + 0j, "far" if behind else "near", box)
            found.append(mark)
        return tuple(found)
    if place == "ankle":
        ankle, knee = points["lead.ankle"], points["lead.knee"]
        along = (ankle - knee) / abs(ankle - knee) if abs(ankle - knee) > 1e-6 else -1j
        centre, length, width = ankle - 0.03 * along, 0.08, 0.1
    elif place == "chest":
        along, centre, length, width = up, hip + 0.74 * trunk * up + 0.165 * flat * ahead, 0.2, 0.1
    elif place == "back":
        along, centre, length, width = up, hip + 0.66 * trunk * up - 0.165 * flat * ahead, 0.36, 0.15
    else:
        along, centre, length, width = up, hip + 0.02 * up + 0.12 * flat * ahead, 0.2, 0.075
    box = (centre.real - length / 2, centre.imag - length / 2, centre.real + length / 2, centre.imag + length / 2)
    # a rucksack is behind the body, all else in front of it
    layer: Literal["far", "near"] = "far" if place == "back" else "near"
    return (Mark(LOAD, centre, along, layer, box, (length, width)),)


def _grip(points: Points, side: str) -> complex:
    wrist, elbow = points[f"{side}.wrist"], points[f"{side}.elbow"]
    fore = (wrist - elbow) / abs(wrist - elbow) if abs(wrist - elbow) > 1e-6 else -1j
    return wrist + 0.06 * fore


def _dumbbell(centre: complex) -> str:
    """Seen from the side: two heads, 7 by 11 cm, and a handle between them."""
    return f"M{xy(centre + complex(-0.12, 0.055))}h7v4h10v-4h7v11h-7v-4h-10v4h-7z"
