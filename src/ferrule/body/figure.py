"""Figures drawn from the same solved points as the demand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ferrule.body.alt import alt_text, step_words
from ferrule.body.angles import SIDES
from ferrule.body.change import change_words
from ferrule.body.limbs import Outline, drawn_points, outline
from ferrule.body.load_line import load_line_of
from ferrule.body.names import Names
from ferrule.body.posture import End, NoSuchPosture, Posture, posture
from ferrule.body.props import Box, extra, marks, slid_on, string, support
from ferrule.body.shapes import FAR, FLOOR, NEAR, TRUNK, Round, arrow, line, num, path, text
from ferrule.body.sides import OneSide, mirrored, sided
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
    """One posture drawn: pieces, and the box they fill in metres; `flipped` when both are turned left to right."""

    pieces: str
    box: Box
    posture: Posture
    flipped: bool = False

    def at(self, name: str) -> complex:
        """A point of the posture as it is drawn."""
        return self._seen(self.posture.points[name])

    def rounds(self) -> list[Round]:
        """The circles of the body as they are drawn, and those between two that make a limb."""
        found = []
        for pieces in outline(self.posture).layers.values():
            for piece in pieces:
                pairs = zip(piece.rounds, piece.rounds[1:] or piece.rounds, strict=False)
                found += [(a + (b - a) * i / 4, max(r, q)) for (a, r), (b, q) in pairs for i in range(5)]
        return [(self._seen(c), r) for c, r in found]

    def _seen(self, point: complex) -> complex:
        return complex(-point.real, point.imag) if self.flipped else point


def solved(movement: Movement, at: End, place: Place | None) -> Posture:
    """The posture with a load there, or without one where the load cannot be balanced."""
    if place is not None:
        try:
            return posture(movement, at=at, load_kg=_FIGURE_KG, place=place)
        except NoSuchPosture:
            pass
    return posture(movement, at=at)


def supports_of(p: Posture, box: Box, hold: Posture, *, towels: bool = True) -> tuple[str, str, list[Box]]:
    """(behind the body, in front of it, boxes they fill): what the body rests on and what stands beside it.

    towels  with what slides along under a foot, and a rope
    """
    behind = over = ""
    boxes: list[Box] = []
    for contact, where in zip(p.contacts, p.supports, strict=True):
        piece, size = support(contact, where, p)
        if contact.on == "bar":
            over += piece
        else:
            behind += piece
        boxes += [size] if size else []
    for prop in p.movement.props:
        if not towels and (slid_on(prop, p) or prop.kind == "rope"):
            continue
        piece, size = extra(prop, p, box, hold)
        behind += piece
        boxes += [size] if size else []
    return behind, over, boxes


def around(boxes: Sequence[Box]) -> Box:
    """The box round all of them."""
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def body_box(body: Outline) -> Box:
    """The box of the body down to the floor."""
    rounds = body.rounds
    left, right = min(c.real - r for c, r in rounds), max(c.real + r for c, r in rounds)
    return left, 0.0, right, max(c.imag + r for c, r in rounds)


def drawing(
    p: Posture,
    place: Place | None = None,
    hold: Posture | None = None,
    *,
    flip: bool = False,
    load_line: bool = False,
) -> Drawing:
    """Supports behind, then the far limbs, the trunk, the near limbs and the load.

    hold  the held end, by which the props stand, when `p` is the other one
    flip  turned left to right;  load_line: with the line on which body and load weigh
    """
    body = outline(p, place)
    box = body_box(body)
    behind, over, boxes = supports_of(p, box, hold or p)
    strings = [s for prop in p.movement.props if (s := string(prop, p, box[2])) is not None]
    over += "".join(s.drawn() for s in strings)
    boxes += [s.box for s in strings]
    loads = marks(place, p, drawn_points(p, place)) if place is not None else ()
    far_load, near_load = (
        "".join(path(m.about(), m.fill) for m in loads if m.layer == layer) for layer in ("far", "near")
    )
    pieces = (
        behind
        + path(body.path("far"), FAR)
        + far_load
        + path(body.path("trunk"), TRUNK)
        + path(body.path("near"), NEAR)
        + near_load
        + over
        + (load_line_of(p) if load_line else "")
    )
    whole = around([box, *boxes, *(m.box for m in loads)])
    if flip:
        return Drawing(mirrored(pieces), (-whole[2], whole[1], -whole[0], whole[3]), p, True)
    return Drawing(pieces, whole, p)


def svg_of(pieces: str, box: Box, title: str, height_px: float, style: str = "") -> tuple[str, float, float]:
    """(the whole element, width, height in px) of pieces that fill a box."""
    left, bottom, right, top = box[0] - _MARGIN, box[1] - 0.03, box[2] + _MARGIN, box[3] + _MARGIN
    width, height = right - left, top - bottom
    scale = height_px / _STANDING_M
    floor = line((complex(left, 0), complex(right, 0)), FLOOR, 0.015)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="{num(left)} {num(-top)} {num(width)} {num(height)}" '
        f'width="{width * scale:.0f}" height="{height * scale:.0f}"><title>{text(title)}</title>{style}{floor}{pieces}'
        "</svg>"
    )
    return svg, round(width * scale), round(height * scale)


def figure(
    movement: Movement,
    *,
    at: End = "hold",
    load_place: Place | None = None,
    title: str = "",
    height_px: float = HEIGHT_PX,
    side: OneSide | None = None,
    load_line: bool = False,
) -> Figure:
    """One end of a repetition, with its load. `height_px` is the height of a standing figure.

    side       which side works: the figure is turned so that this is the side one sees, and the words name it
    load_line  draws the line on which body and load weigh, from their common mass centre down
    Raises NoSuchPosture when the pose cannot be taken.
    """
    seen = sided(movement, side, load_place)
    hold = solved(movement, "hold", load_place) if at == "other" and movement.props else None
    one = drawing(solved(movement, at, load_place), load_place, hold, flip=seen.flip, load_line=load_line)
    alt = alt_text(one.posture, load_place, seen.side)
    svg, width, height = svg_of(one.pieces, one.box, f"{title}: {alt}" if title else alt, height_px)
    return Figure(svg, alt, width, height)


def both_ends(
    movement: Movement,
    *,
    load_place: Place | None = None,
    title: str = "",
    height_px: float = HEIGHT_PX,
    side: OneSide | None = None,
    load_line: bool = False,
) -> Figure:
    """Start and end of a repetition side by side, an arrow for what moves most; one figure when held still.

    `other` comes first, unless the movement says that it begins at `hold` or is a heel rise.
    """
    if movement.other is None:
        return figure(movement, load_place=load_place, title=title, height_px=height_px, side=side, load_line=load_line)
    pieces, box, start, end = pair(movement, load_place, side, load_line=load_line)
    alt = both_words(start, end, load_place, sided(movement, side, load_place).side)
    svg, width, height = svg_of(pieces, box, f"{title}: {alt}" if title else alt, height_px)
    return Figure(svg, alt, width, height)


def pair(
    movement: Movement, place: Place | None, side: OneSide | None = None, *, load_line: bool = False
) -> tuple[str, Box, Posture, Posture]:
    """(pieces, the box they fill, where the repetition begins, where it goes) of both ends beside each other."""
    flip = sided(movement, side, place).flip
    hold = solved(movement, "hold", place)
    start = drawing(solved(movement, "other", place), place, hold, flip=flip, load_line=load_line)
    end = drawing(hold, place, flip=flip, load_line=load_line)
    if begins_at_hold(movement):
        start, end = end, start
    shift = start.box[2] + _GAP - end.box[0]
    step, under = _stepped(start, end)
    pieces = (
        f'{start.pieces}<g transform="translate({num(shift)} 0)">{end.pieces}{_moved(start, end, bool(step))}{step}</g>'
    )
    right = end.box[2] + shift + 0.12
    box = (start.box[0], min(start.box[1], under[1]), right, max(start.box[3], end.box[3]))
    return pieces, box, start.posture, end.posture


def begins_at_hold(movement: Movement) -> bool:
    """True where a repetition begins at its hardest end; a heel rise does."""
    return movement.starts == "hold" or (not movement.starts and movement.demand.startswith("ankle"))


def both_words(start: Posture, end: Posture, place: Place | None, side: OneSide | None) -> str:
    """Both ends in words, once where they are the same, with what moves between them."""
    words = alt_text(start, place, side), alt_text(end, place, side)
    if words[0] == words[1]:
        moves = step_words(start.movement, side).removeprefix(", ") or change_words(start, end, Names(side))
        return f"{words[0]}, {moves}" if moves else words[0]
    return f"from {words[0]}, to {words[1]}" + step_words(start.movement, side)


_MOVING = (
    "head_cm", "hip", "lead.knee", "rear.knee", "lead.ankle", "rear.ankle", "lead.wrist", "rear.wrist", "lead.heel",
    "lead.toe", "rear.toe",
)  # fmt: skip
_SHORTEST = 0.05  # m; a shorter arrow is a dot
_STEEP = 0.7  # so much of the way to the side is what one sees first when it goes up or down
_BOW = 0.33  # m; a head that comes down so far, wherever it goes
_DROP = 0.12  # m; hips that go up or down so far and no further aside are what one sees first


def _moved(start: Drawing, end: Drawing, steps: bool) -> str:
    """An arrow for the joint that moves furthest: beside the end figure when it goes up or down, else above it.

    steps  an arrow already shows the way to the side
    """
    movement = end.posture.movement
    held = {c.at for c in end.posture.contacts if c.limb != "rear"}
    slides = any(slid_on(prop, end.posture) for prop in movement.props)
    rests = {"upper back": "back"} | ({"hand": "lead.palm", "forearm": "lead.elbow"} if slides else {})
    still = next((point for at, point in rests.items() if at in held), "")
    if movement.steps == "lead":
        still = "rear.ankle"
    slip = (end.at(still) - start.at(still)).real if still else 0.0
    names = ("lead.heel",) if movement.demand.startswith("ankle") else _MOVING
    ways = [(end.at(name) - start.at(name) - slip, end.at(name)) for name in names]
    rise, high = max(ways, key=lambda w: abs(w[0].imag))
    travel, wide = max(ways, key=lambda w: abs(w[0].real))
    hips = end.at("hip") - start.at("hip") - slip
    head = end.at("head_cm") - start.at("head_cm")
    drops = abs(hips.imag) >= max(_DROP, 0.8 * abs(hips.real)) or abs(head.imag) > _BOW
    drops = drops or not (start.posture.supports and end.posture.supports)
    steep = abs(rise.imag) >= max(_SHORTEST, _STEEP * abs(travel.real))
    if steep or (drops and abs(rise.imag) >= _SHORTEST) or len(names) == 1:
        x = end.box[2] + 0.05 if high.real > (end.box[0] + end.box[2]) / 2 else end.box[0] - 0.08
        return arrow(complex(x, high.imag - rise.imag), complex(x, high.imag))
    if abs(travel.real) < _SHORTEST or steps:
        return ""
    tail = max(wide.real - travel.real, end.box[0] - 0.15)
    begin, finish = sorted((tail, wide.real))
    above = [c.imag + r for c, r in end.rounds() if begin - 0.05 < c.real < finish + 0.05]
    y = min(max(above, default=end.box[3]) + 0.08, max(start.box[3], end.box[3]) + 0.03)  # within the picture
    return arrow(complex(tail, y), complex(wide.real, y))


_BELOW = 0.06  # m below the floor, where the way of a stepping foot is shown
_STEP = 0.3  # m; less is no step


def _stepped(start: Drawing, end: Drawing) -> tuple[str, Box]:
    """An arrow under the floor for a foot that stands elsewhere at the end, with its box; nothing where none steps."""
    movement = end.posture.movement
    step, stays = ("lead", "rear") if movement.steps == "lead" else ("rear", "lead")
    feet = [
        {
            side
            for c in p.contacts
            if c.at in ("foot", "ball") and c.height_m == 0
            for side in SIDES
            if c.limb in (side, "both")
        }
        for p in (start.posture, end.posture)
    ]
    if feet[0] & feet[1] != set(SIDES) or len(movement.contacts) > 2:
        return "", end.box
    way = end.at(f"{step}.ball") - start.at(f"{step}.ball") - (end.at(f"{stays}.ball") - start.at(f"{stays}.ball")).real
    if abs(way.real) < _STEP:
        return "", end.box
    to = complex(end.at(f"{step}.ball").real, -_BELOW)
    return arrow(to - way.real, to), (min(end.box[0], (to - way).real), -_BELOW - 0.03, end.box[2], end.box[3])
