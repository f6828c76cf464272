"""A figure that moves: one SVG with CSS, from the solved postures between both ends of a repetition.

Every rigid piece of the body is drawn once and turned and shifted by keyframes, so the file is small and nothing is
redrawn. It goes there and back a few times and stops; where a reader asks for less motion, and in print, it stands still
and shows both ends, the beginning as a pale shape behind the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise
from math import acos, pi

from ferrule.body.figure import (
    HEIGHT_PX,
    Figure,
    around,
    begins_at_hold,
    body_box,
    both_words,
    figure,
    supports_of,
    svg_of,
)  # fmt: skip
from ferrule.body.limbs import Piece, drawn_points, outline
from ferrule.body.motion import Motion, motion_of
from ferrule.body.posture import Posture
from ferrule.body.props import Box, Mark, marks, slab, slid_on, string, towel
from ferrule.body.shapes import FAR, FLOOR, NEAR, TRUNK, Round, line, path
from ferrule.body.sides import OneSide, mirrored, sided
from ferrule.body.tracks import Frames, Key, Track, keyframes, long, rides, stretched, track_of
from ferrule.model.pose import Movement
from ferrule.model.words import Place

FRAMES = 8
"""Intervals between the solved postures."""
TIMES = 3
"""Repetitions shown before it stops."""
_REST = 5.0  # per cent of a phase it waits at each end
_LEAST_S = 0.6
_FILL = {"far": FAR, "trunk": TRUNK, "near": NEAR}


@dataclass(frozen=True, slots=True)
class Moving:
    """A moving figure in two parts, for a page that keeps its styles apart. `svg` stands still without `style`."""

    svg: str
    style: str
    alt: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Group:
    """Pieces that move as one, drawn about the track's origin, and where they stand when nothing moves.

    home  None when they are drawn where they are
    """

    shape: str
    track: Track
    home: Key | None


def moving(
    movement: Movement,
    *,
    load_place: Place | None = None,
    title: str = "",
    height_px: float = HEIGHT_PX,
    rep_s: float = 3.0,
    side: OneSide | None = None,
) -> Figure:
    """One self-contained SVG that moves between both ends; the still figure when the movement is held.

    rep_s  seconds of one repetition there and back
    Raises NoSuchPosture when an end cannot be taken.
    """
    if movement.other is None:
        return figure(movement, load_place=load_place, title=title, height_px=height_px, side=side)
    parts = moving_parts(movement, load_place=load_place, title=title, height_px=height_px, rep_s=rep_s, side=side)
    svg = parts.svg.replace("</title>", f"</title><style>{parts.style}</style>", 1)
    return Figure(svg, parts.alt, parts.width, parts.height)


def moving_parts(
    movement: Movement,
    *,
    load_place: Place | None = None,
    title: str = "",
    height_px: float = HEIGHT_PX,
    rep_s: float = 3.0,
    side: OneSide | None = None,
) -> Moving:
    """The same with the style apart. Raises NoSuchPosture when an end cannot be taken or the movement is held."""
    seen = sided(movement, side, load_place)
    way = motion_of(movement, load_place)
    backward = begins_at_hold(movement)
    order = range(FRAMES, -1, -1) if backward else range(FRAMES + 1)
    frames = [way.at(i / FRAMES) for i in order]
    home = 0 if backward else FRAMES
    groups, behind, over, boxes = scene(way, frames, home, load_place)
    ghost = "".join(outline(frames[FRAMES - home], load_place).path(layer) for layer in ("far", "trunk", "near"))
    times = [_REST + (100 - 2 * _REST) * acos(1 - 2 * i / FRAMES) / pi for i in range(FRAMES + 1)]
    rules = {keyframes(g.track, times): g for g in groups if not g.track.still}
    key = "m" + sha256("".join((*rules, title)).encode()).hexdigest()[:5]
    names = {rule: f"{key}{i}" for i, rule in enumerate(rules)}
    drawn = "".join(_drawn(g, names.get(keyframes(g.track, times), "")) for g in groups)
    body = f'{behind}<path class="g" d="{ghost}" fill="{FLOOR}"/>{drawn}{over}'
    box = around(boxes)
    if seen.flip:
        body, box = mirrored(body), (-box[2], box[1], -box[0], box[3])
    ends = (way.end, way.start) if backward else (way.start, way.end)
    alt = both_words(*ends, load_place, seen.side)
    head = f"{title}: {alt}" if title else alt
    svg, width, height = svg_of(f'<g class="{key}">{body}</g>', box, head, height_px)
    return Moving(svg, _style(key, names, rep_s), alt, width, height)


def _style(key: str, names: dict[str, str], rep_s: float) -> str:
    phase_s = max(_LEAST_S, rep_s / 2)
    return (
        f".{key} .g{{display:none}}.{key} [class^={key}]{{animation:{phase_s:g}s linear {2 * TIMES} alternate both}}"
        + "".join(f".{key} .{name}{{animation-name:{name}}}@keyframes {name}{{{rule}}}" for rule, name in names.items())
        + f"@media (prefers-reduced-motion:reduce),print{{.{key} .g{{display:inline}}"
        f".{key} [class^={key}]{{animation:none}}}}"
    )


def _drawn(group: Group, name: str) -> str:
    """A piece at its home place; one that moves has a class."""
    if group.home is None:
        return group.shape
    kind = f' class="{name}"' if name else ""
    return group.shape.replace("<path", f'<path{kind} transform="{group.home.attribute()}"', 1)


def scene(
    way: Motion, frames: Sequence[Posture], home: int, place: Place | None
) -> tuple[list[Group], str, str, list[Box]]:
    """(moving and still pieces from behind to the front, supports behind, supports in front, all boxes)."""
    drawn = [outline(p, place) for p in frames]
    boxes = [body_box(o) for o in drawn]
    behind, over, more = supports_of(way.end, boxes[home], way.end, towels=False)
    boxes += more
    first, late, more = _starting_supports(way)
    behind, over, boxes = first + behind, over + late, boxes + more
    loads = [marks(place, p, drawn_points(p, place)) if place is not None else () for p in frames]
    boxes += [m.box for one in loads for m in one]
    pins = [pin.place for pin in way.fixed]
    groups = _towels(way, frames, home)
    for layer in ("far", "trunk", "near"):
        groups += _layer([o.layers[layer] for o in drawn], _FILL[layer], home, pins)
        groups += _loads(loads, layer, home)
    groups += _strings(way, frames, max(box[2] for box in boxes[: len(frames)]), home)
    return groups, behind, over, boxes


def _starting_supports(way: Motion) -> tuple[str, str, list[Box]]:
    """What the body rests on at the other end alone."""
    known = {(c.on, c.height_m) for c in way.end.contacts}
    pairs = [
        (c, s) for c, s in zip(way.start.contacts, way.start.supports, strict=True) if (c.on, c.height_m) not in known
    ]
    if not pairs:
        return "", "", []
    bare = Posture(
        movement=Movement(way.movement.hold, (), ""), body=way.start.body, points=way.start.points,
        angles=way.start.angles, angles_deg={}, contacts=tuple(c for c, _ in pairs), supports=tuple(s for _, s in pairs),
        loads=(), resting=frozenset(), mass=1.0, centre=way.start.centre,
    )  # fmt: skip
    return supports_of(bare, (0.0, 0.0, 0.0, 0.0), bare)


def _atoms(pieces: Sequence[Piece]) -> list[Piece]:
    """Pieces that are rigid by themselves: two circles at most, or a closed one whole."""
    found: list[Piece] = []
    for piece in pieces:
        if piece.closed or len(piece.rounds) < 3:
            found.append(piece)
        else:
            found += [Piece(pair) for pair in pairwise(piece.rounds)]
    return found


def _places(piece: Piece) -> list[complex]:
    return (
        [c for c, _ in (piece.rounds[0], piece.rounds[3], *piece.rounds[1:3])]
        if piece.closed
        else [c for c, _ in piece.rounds]
    )


def _layer(frames: Sequence[Sequence[Piece]], fill: str, home: int, pins: Sequence[complex]) -> list[Group]:
    """The pieces of one layer, those that keep together as one."""
    split = [_atoms(pieces) for pieces in frames]
    ways = [[_places(pieces[i]) for pieces in split] for i in range(len(split[home]))]
    together: list[tuple[Track, list[Piece]]] = []
    found = []
    # what has a direction first, so that a head can ride on a neck
    for i in sorted(range(len(ways)), key=lambda i: len(ways[i][home]) < 2):
        piece = split[home][i]
        if len(piece.rounds) == 2 and min(abs(a - b) for a, b in ways[i]) < _SHORT * long(ways[i]):
            found.append(_shortened(piece, ways[i], fill, home))
            continue
        for track, pieces in together:
            if rides(track, ways[i], home):
                pieces.append(piece)
                break
        else:
            near = [pin for pin in pins if any(abs(pin - c) < r + 0.06 for c, r in piece.rounds)]
            together.append((track_of(ways[i], home, near), [piece]))
    for track, pieces in together:
        d = "".join(_shifted(p, track).path() for p in pieces)
        found.append(Group(path(d, fill), track, _home(track, home)))
    return found


_SHORT = 0.85  # a limb seen so much shorter than at its longest points out of the picture


def _shortened(piece: Piece, way: Frames, fill: str, home: int) -> Group:
    (_, first), (_, last) = piece.rounds
    track = stretched(way)
    return Group(path(Piece(((0j, first), (complex(long(way)), last))).path(), fill), track, track.keys[home])


def _home(track: Track, home: int) -> Key | None:
    return None if track.still else track.keys[home]


def _shifted(piece: Piece, track: Track) -> Piece:
    """The piece about its track's origin when it moves, else where it is."""
    origin = _zero(track)
    rounds: tuple[Round, ...] = tuple((c - origin, r) for c, r in piece.rounds)
    return Piece(rounds, piece.closed)


def _zero(track: Track) -> complex:
    return 0j if track.still else track.origin


def _loads(frames: Sequence[Sequence[Mark]], layer: str, home: int) -> list[Group]:
    found = []
    for i, mark in enumerate(frames[home]):
        if mark.layer != layer:
            continue
        track = track_of([[one[i].centre, one[i].centre + 0.1 * one[i].along] for one in frames], home)
        found.append(Group(path(mark.about(_zero(track)), mark.fill), track, _home(track, home)))
    return found


def _towels(way: Motion, frames: Sequence[Posture], home: int) -> list[Group]:
    """Towels on the floor, which go along with the foot on them."""
    found = []
    for name in filter(None, (slid_on(prop, way.end) for prop in way.movement.props)):
        track = track_of([[complex(p.points[name].real)] for p in frames], home)
        at = frames[home].points[name] if track.still else 0j
        found.append(Group(path(slab(towel(at)), FLOOR), track, _home(track, home)))
    return found


def _strings(way: Motion, frames: Sequence[Posture], right: float, home: int) -> list[Group]:
    """Bands and towels drawn tight: turned, shifted and drawn out."""
    found = []
    for prop in way.movement.props:
        drawn = [string(prop, p, right) for p in frames]
        ends = [s for s in drawn if s is not None]
        if len(ends) == len(frames):
            places = [(s.start, s.end) for s in ends]
            track = stretched(places)
            shape = line((0j, complex(long(places))), ends[home].stroke, ends[home].width)
            found.append(Group(shape, track, track.keys[home]))
    return found
