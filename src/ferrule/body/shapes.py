"""Small SVG pieces. Points in metres, y up; the drawing is in centimetres, y down, rounded to a millimetre."""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterable, Sequence
from html import escape
from itertools import pairwise
from math import acos

NEAR = "#1f2a30"
TRUNK = "#47535a"
FAR = "#b9b3a2"
FLOOR = "#cfc7b5"
PROP = "#5f5b50"
PROP_FILL = "#f1ece0"
LOAD = "#a8431a"
LOAD_FAR = "#d5b3a2"

Round = tuple[complex, float]
"""A circle: centre and radius, m."""


def num(value: float) -> str:
    """Centimetres with at most one decimal, no needless zeros."""
    written = f"{value * 100:.1f}".removesuffix(".0")
    return "0" if written == "-0" else written


def xy(point: complex) -> str:
    """Both coordinates as the drawing has them."""
    return f"{num(point.real)} {num(-point.imag)}"


def tapered(first: Round, second: Round) -> str:
    """Path of two circles and the tangents between them; always turned the same way, so that paths can be joined."""
    (a, ra), (b, rb) = first, second
    if abs(b - a) <= abs(ra - rb) + 1e-6:
        return dot(a if ra >= rb else b, max(ra, rb))
    along = rect(1.0, phase(b - a))
    turn = rect(1.0, acos((ra - rb) / abs(b - a)))
    left, right = along * turn, along * turn.conjugate()
    corners = [_rounded(p) for p in (a + ra * left, b + rb * left, b + rb * right, a + ra * right)]
    steps = [xy(q - p) for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)]
    wide, thin = num(ra), num(rb)
    return f"M{xy(corners[0])}l{steps[0]}a{thin} {thin} 0 0 1 {steps[1]}l{steps[2]}a{wide} {wide} 0 1 1 {steps[3]}z"


def _rounded(point: complex) -> complex:
    """The point as it is written, so that relative steps do not drift."""
    return complex(round(point.real, 3), round(point.imag, 3))


def chain(rounds: Sequence[Round]) -> str:
    """Tapered pieces through the circles, one after the other."""
    return "".join(tapered(a, b) for a, b in pairwise(rounds))


def dot(centre: complex, radius: float) -> str:
    """Path of a whole circle, turned as `tapered` is."""
    r, across = num(radius), num(2 * radius)
    return f"M{xy(centre - radius)}a{r} {r} 0 1 1 {across} 0a{r} {r} 0 1 1 -{across} 0z"


def hull(rounds: Sequence[Round]) -> str:
    """Path round circles given clockwise: the pieces between neighbours and what lies between all of them."""
    inner = "M" + "L".join(xy(c) for c, _ in rounds) + "Z"
    return chain([*rounds, rounds[0]]) + inner


def block(centre: complex, along: complex, length: float, width: float) -> str:
    """Path of a rectangle round `centre`, its length turned along a unit vector."""
    a, b = along * length / 2, along * 1j * width / 2
    corners = (centre + a + b, centre - a + b, centre - a - b, centre + a - b)
    return "M" + "L".join(xy(c) for c in corners) + "Z"


def path(d: str, fill: str, stroke: str = "", width: float = 0.0) -> str:
    """A filled piece, outlined when a stroke is named; nothing for empty path data."""
    if not d:
        return ""
    line = f' stroke="{stroke}" stroke-width="{num(width)}" stroke-linejoin="round"' if stroke else ""
    return f'<path d="{d}" fill="{fill}"{line}/>'


def line(points: Iterable[complex], stroke: str, width: float) -> str:
    """A drawn line through the points."""
    return strokes((points,), stroke, width)


def strokes(lines: Iterable[Iterable[complex]], stroke: str, width: float) -> str:
    """Several drawn lines as one piece."""
    d = "".join("M" + "L".join(xy(p) for p in one) for one in lines)
    return f'<path d="{d}" fill="none" stroke="{stroke}" stroke-width="{num(width)}" stroke-linecap="round"/>'


def arrow(start: complex, end: complex, stroke: str = PROP) -> str:
    """A line with an open head at `end`."""
    back = (start - end) / abs(start - end) * 0.05
    head = (end + back * rect(1.0, 0.5), end, end + back * rect(1.0, -0.5))
    return strokes(((start, end), head), stroke, 0.015)


def text(value: str) -> str:
    """Words made fit to stand in the drawing."""
    return escape(value, quote=False)
