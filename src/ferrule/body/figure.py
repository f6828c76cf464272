"""Figures drawn from the same solved points as the demand."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.body.alt import alt_text
from ferrule.body.limbs import drawn_points, outline
from ferrule.body.posture import End, NoSuchPosture, Posture, posture
from ferrule.body.props import Box, extra, load, support
from ferrule.body.shapes import FAR, FLOOR, NEAR, TRUNK, arrow, line, num, path, text
from ferrule.model.pose import Movement
from ferrule.model.words import Place

HEIGHT_PX = 122.0
"""Height of a standing figure on the page; every figure keeps that scale, so that lying ones are low and wide."""

_STANDING_M = 1.9
_MARGIN = 0.06
_GAP = 0.25
_FIGURE_KG = 10.0  # stands for any load: how far the body leans to carry it


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawn figure: a whole `<svg>` element, its words, and its size on the page in px.

    It holds no ids, styles or scripts, so that many can stand in one page.
    """

    svg: str
    alt: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """One posture drawn: pieces, and the box they fill in metres."""

    pieces: str
    box: Box
    posture: Posture


def solved(movement: Movement, at: End, place: Place | None) -> Posture:
    """The posture with a load there, or without one where the load cannot be balanced."""
    if place is not None:
        try:
            return posture(movement, at=at, load_kg=_FIGURE_KG, place=place)
        except NoSuchPosture:
            pass
    return posture(movement, at=at)


def drawing(p: Posture, place: Place | None = None, hold: Posture | None = None) -> Drawing:
    """Supports behind, then the far limbs, the trunk, the near limbs and the load.

    hold  the held end, by which the props stand, when `p` is the other one
    """
    body = outline(p, place)
    left = min(c.real - r for c, r in body.rounds)
    right = max(c.real + r for c, r in body.rounds)
    top = max(c.imag + r for c, r in body.rounds)
    box = (left, 0.0, right, top)
    behind = over = ""
    boxes = [box]
    for contact, where in zip(p.contacts, p.supports, strict=True):
        piece, size = support(contact, where, p)
        if contact.on == "bar":
            over += piece
        else:
            behind += piece
        boxes += [size] if size else []
    for prop in p.movement.props:
        piece, size = extra(prop, p, box, hold or p)
        if prop.kind == "band" or (prop.kind == "towel" and prop.under in ("hand", "hands")):
            over += piece
        else:
            behind += piece
        boxes += [size] if size else []
    far_load = near_load = ""
    if place is not None:
        far_load, near_load, size = load(place, p, drawn_points(p, place))
        boxes.append(size)
    whole = (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
    pieces = (
        behind + path(body.far, FAR) + far_load + path(body.trunk, TRUNK) + path(body.near, NEAR) + near_load + over
    )
    return Drawing(pieces, whole, p)


def _svg(pieces: str, box: Box, title: str, height_px: float) -> tuple[str, float, float]:
    left, bottom, right, top = box[0] - _MARGIN, box[1] - 0.03, box[2] + _MARGIN, box[3] + _MARGIN
    width, height = right - left, top - bottom
    scale = height_px / _STANDING_M
    floor = line((complex(left, 0), complex(right, 0)), FLOOR, 0.015)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="{num(left)} {num(-top)} {num(width)} {num(height)}" '
        f'width="{width * scale:.0f}" height="{height * scale:.0f}"><title>{text(title)}</title>{floor}{pieces}</svg>'
    )
    return svg, round(width * scale), round(height * scale)


def figure(
    movement: Movement,
    *,
    at: End = "hold",
    load_place: Place | None = None,
    title: str = "",
    height_px: float = HEIGHT_PX,
) -> Figure:
    """One end of a repetition, with its load. `height_px` is the height of a standing figure.

    Raises NoSuchPosture when the pose cannot be taken.
    """
    hold = solved(movement, "hold", load_place) if at == "other" and movement.props else None
    one = drawing(solved(movement, at, load_place), load_place, hold)
    alt = alt_text(one.posture, load_place)
    svg, width, height = _svg(one.pieces, one.box, f"{title}: {alt}" if title else alt, height_px)
    return Figure(svg, alt, width, height)


def both_ends(
    movement: Movement, *, load_place: Place | None = None, title: str = "", height_px: float = HEIGHT_PX
) -> Figure:
    """Start and end side by side, with an arrow for what moves most; one figure when held still.

    `other` comes first, unless the movement says that it begins at `hold` or is a heel rise.
    """
    if movement.other is None:
        return figure(movement, load_place=load_place, title=title, height_px=height_px)
    hold = solved(movement, "hold", load_place)
    start = drawing(solved(movement, "other", load_place), load_place, hold)
    end = drawing(hold, load_place)
    if movement.starts == "hold" or (not movement.starts and movement.demand.startswith("ankle")):
        start, end = end, start  # a heel rise is hardest where it begins
    shift = start.box[2] + _GAP - end.box[0]
    pieces = f'{start.pieces}<g transform="translate({num(shift)} 0)">{end.pieces}{_moved(start, end)}</g>'
    right = end.box[2] + shift + 0.12
    box = (start.box[0], min(start.box[1], end.box[1]), right, max(start.box[3], end.box[3]))
    words = alt_text(start.posture, load_place), alt_text(end.posture, load_place)
    alt = words[0] if words[0] == words[1] else f"from {words[0]}, to {words[1]}"
    svg, width, height = _svg(pieces, box, f"{title}: {alt}" if title else alt, height_px)
    return Figure(svg, alt, width, height)


_MOVING = ("head_cm", "hip", "lead.knee", "rear.knee", "lead.ankle", "rear.ankle", "lead.wrist", "lead.heel")


def _moved(start: Drawing, end: Drawing) -> str:
    """An arrow beside the end figure, over the way of the joint that moves furthest."""
    ways = [(end.posture.points[name] - start.posture.points[name], end.posture.points[name]) for name in _MOVING]
    way, at = max(ways, key=lambda w: abs(w[0].imag))
    if abs(way.imag) >= 0.04:
        x = end.box[2] + 0.05 if at.real > (end.box[0] + end.box[2]) / 2 else end.box[0] - 0.08
        return arrow(complex(x, at.imag - way.imag), complex(x, at.imag))
    way, at = max(ways, key=lambda w: abs(w[0].real))
    if abs(way.real) < 0.04:
        return ""
    y = end.box[3] + 0.04
    return arrow(complex(at.real - way.real, y), complex(at.real, y))
