"""What stands beside the body: supports, props of the movement, and the load."""

from __future__ import annotations

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
    xy,
)
from ferrule.body.skeleton import Points
from ferrule.model.pose import Contact, Prop
from ferrule.model.words import Place

_LINE = 0.013
Box = tuple[float, float, float, float]
"""Left, bottom, right, top, m."""

_WIDTH = {"hand": 0.3, "forearm": 0.42, "upper back": 0.42, "foot": 0.46, "ball": 0.3, "seat": 0.42}


def _slab(box: Box) -> str:
    left, bottom, right, top = box
    return (
        f"M{xy(complex(left, bottom))}L{xy(complex(left, top))}L{xy(complex(right, top))}L{xy(complex(right, bottom))}Z"
    )


def stand(kind: str, centre: float, top: float, width: float) -> tuple[str, Box]:
    """One support with its top at that height: a block, or a seat or bench on legs."""
    box = (centre - width / 2, 0.0, centre + width / 2, top)
    if kind in ("chair", "bench", "sofa"):
        seat = _slab((box[0], top - 0.05, box[2], top))
        legs = "".join(
            line((complex(x, top - 0.05), complex(x, 0)), PROP, 0.025) for x in (box[0] + 0.03, box[2] - 0.03)
        )
        back = ""
        if kind == "chair":
            back = line((complex(box[0] + 0.015, top), complex(box[0] - 0.03, top + 0.4)), PROP, 0.025)
            box = (box[0] - 0.05, 0.0, box[2], top + 0.42)
        return back + legs + path(seat, PROP_FILL, PROP, _LINE), box
    return path(_slab(box), PROP_FILL, PROP, _LINE), box


def wall(at: float, height: float) -> tuple[str, Box]:
    """A wall whose face is at `at`, ahead of the body."""
    top = height + 0.6
    return (
        path(_slab((at, 0, at + 0.07, top)), PROP_FILL) + line((complex(at, 0), complex(at, top)), PROP, _LINE),
        (at, 0.0, at + 0.08, top),
    )


def support(contact: Contact, where: complex, p: Posture) -> tuple[str, Box | None]:
    """What a contact rests on, unless it is the floor."""
    if contact.on == "wall":
        return wall(where.real, contact.height_m)
    if contact.on == "bar":
        return path(dot(where, 0.02), PROP), (where.real - 0.1, 0, where.real + 0.1, where.imag + 0.1)
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
    return stand(kind, centre, contact.height_m, width)


def extra(prop: Prop, p: Posture, box: Box, hold: Posture) -> tuple[str, Box | None]:
    """A prop of the movement: under a named part of the held end, or of its own height ahead of the body."""
    points = p.points if prop.kind == "band" else hold.points
    under = points.get(prop.under) or points.get(f"lead.{prop.under}")
    if prop.under == "pelvis":
        under = points["hip"]
    if prop.kind == "mat":
        mat = (box[0] - 0.05, -0.03, box[2] + 0.05, 0.0)
        return path(_slab(mat), FLOOR), mat
    if prop.kind == "wall" and prop.under == "back" and under is not None:
        piece, size = wall(under.real - 0.1, prop.height_m or 1.2)
        return piece, size
    if prop.kind == "wall":
        return wall(under.real + 0.09 if under is not None else box[2] + 0.02, prop.height_m or 1.2)
    if prop.kind == "band":
        return _band(prop, points), None
    if prop.kind == "towel":
        where = under if under is not None else p.supports[0] if p.supports else complex(0)
        towel = (where.real - 0.16, -0.02, where.real + 0.16, 0.0)
        return path(_slab(towel), LOAD_FAR), towel
    if prop.kind == "bar":
        where = under if under is not None else complex(box[2], prop.height_m)
        return path(dot(where, 0.02), PROP), None
    if under is None:
        return stand(prop.kind, box[2] + 0.3, prop.height_m or 0.45, 0.42)
    top = prop.height_m or max(0.05, under.imag - 0.087)
    return stand(prop.kind, under.real, top, 0.42)


def _band(prop: Prop, points: Points) -> str:
    """A band round both limbs at a joint, or from the hands to the feet when it names `hands`."""
    if prop.under in ("hand", "hands"):
        feet = (points["lead.ball"] + points["rear.ball"]) / 2
        return line((points["lead.wrist"], feet), LOAD, 0.022)
    lead, rear = points.get(f"lead.{prop.under}"), points.get(f"rear.{prop.under}")
    if lead is None or rear is None:
        return ""
    if abs(lead - rear) < 0.06:
        return line((lead - 0.06, lead + 0.08), LOAD, 0.03)
    out = (lead - rear) / abs(lead - rear) * 0.05
    return line((lead + out, rear - out), LOAD, 0.025)


def load(place: Place, p: Posture, points: Points) -> tuple[str, str]:
    """(behind the body, in front of it): the load drawn where it is carried."""
    hip, up, ahead = points["hip"], points["up"], points["ahead"]
    trunk = p.body.shoulder
    front = p.movement.view == "front"
    if place in ("hands", "opposite hand", "same hand"):
        near = "" if place == "opposite hand" else path(_dumbbell(points, "lead"), LOAD)
        far = "" if place == "same hand" else path(_dumbbell(points, "rear"), LOAD if near == "" else LOAD_FAR)
        # one in the far hand alone is drawn in front, so that it is seen
        return (far, near) if near else ("", far)
    if place == "chest":
        centre = hip + 0.74 * trunk * up + (0 if front else 0.165) * ahead
        return "", path(block(centre, up, 0.2, 0.1), LOAD)
    if place == "back":
        centre = hip + 0.66 * trunk * up - (0 if front else 0.165) * ahead
        return path(block(centre, up, 0.36, 0.15), LOAD), ""
    if place == "hips":
        centre = hip + (0 if front else 0.12) * ahead + 0.02 * up
        return "", path(block(centre, up, 0.2, 0.075), LOAD)
    ankle, knee = points["lead.ankle"], points["lead.knee"]
    along = (ankle - knee) / abs(ankle - knee)
    return "", path(block(ankle - 0.03 * along, along, 0.08, 0.1), LOAD)


def _dumbbell(points: Points, side: str) -> str:
    wrist, elbow = points[f"{side}.wrist"], points[f"{side}.elbow"]
    fore = (wrist - elbow) / abs(wrist - elbow) if abs(wrist - elbow) > 1e-6 else -1j
    hand = wrist + 0.06 * fore
    along = 1 + 0j
    return (
        block(hand, along, 0.24, 0.03)
        + block(hand - 0.085 * along, along, 0.07, 0.11)
        + block(hand + 0.085 * along, along, 0.07, 0.11)
    )
