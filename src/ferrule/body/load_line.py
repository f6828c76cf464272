"""The line on which body and load weigh: from their common mass centre straight down to the floor."""

from __future__ import annotations

from ferrule.body.posture import Posture
from ferrule.body.shapes import NEAR, PROP_FILL, dot, num, path, xy

_RADIUS = 0.028


def load_line_of(p: Posture) -> str:
    """A dashed line and a ring at the mass centre; nothing where parts of the body lie on the floor and are left out."""
    if p.resting:
        return ""
    down = (
        f'<path d="M{xy(p.centre)}V0" fill="none" stroke="{NEAR}" stroke-width="{num(0.012)}" stroke-dasharray="4 3"/>'
    )
    halo = f'<path d="M{xy(p.centre)}V0" fill="none" stroke="{PROP_FILL}" stroke-width="{num(0.028)}"/>'
    return halo + down + path(dot(p.centre, _RADIUS), PROP_FILL, NEAR, 0.012)


def falls(p: Posture) -> str:
    """Where that line meets the ground, in words: for the text beside a figure that shows it."""
    if p.resting or not p.supports:
        return ""
    x = p.centre.real
    if len(p.supports) == 1:
        return "the line of load falls on the support" if abs(x - p.supports[0].real) < 0.13 else ""
    left, right = min(s.real for s in p.supports), max(s.real for s in p.supports)
    if not left <= x <= right:
        return ""
    nearest = min(range(len(p.supports)), key=lambda i: abs(p.supports[i].real - x))
    share = abs(p.supports[nearest].real - x) / (right - left)
    part = p.contacts[nearest].at
    return "the line of load falls between the supports" + (f", nearer to the {part}" if share < 0.4 else "")
