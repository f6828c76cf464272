"""What moves between two ends that the same words describe."""

from __future__ import annotations

from ferrule.body.angles import SIDES
from ferrule.body.names import Names
from ferrule.body.posture import Posture

_PARTS = {"heel": "heel", "toe": "toes", "ankle": "foot", "knee": "knee", "wrist": "hand"}
_LEAST_M = 0.03
_BOTH = 0.5  # of the same way: the other side goes along


def change_words(start: Posture, end: Posture, names: Names) -> str:
    """ "the working foot moving up", "the hands moving ahead and down", "the head moving down", or nothing.

    Seen from the trunk's own support: from the hips where these move least, else from what the body rests on.
    """
    hips = end.points["hip"] - start.points["hip"]
    ways = {name: end.points[name] - start.points[name] for name in ("head_cm", "hip")}
    for side in SIDES:
        for part in _PARTS:
            name = f"{side}.{part}"
            ways[name] = end.points[name] - start.points[name] - (0 if start.contacts else hips)
    # the fleshy end of a moving foot is said only when nothing nearer the trunk moves
    told = [n for n in ways if n.split(".")[-1] not in ("heel", "toe")]
    best = max(told, key=lambda n: abs(ways[n]))
    if abs(ways[best]) < 0.1:
        best = max(ways, key=lambda n: abs(ways[n]))
    way = ways[best]
    if abs(way) < _LEAST_M:
        return ""
    side, _, part = best.rpartition(".")
    if not side:
        return f"the {'head' if part == 'head_cm' else 'hips'} moving {_direction(way, start, '')}"
    other = ways[f"{'lead' if side == 'rear' else 'rear'}.{part}"]
    if (other * way.conjugate()).real > _BOTH * abs(way) ** 2:
        plural = {"foot": "feet", "toes": "toes"}.get(_PARTS[part], _PARTS[part] + "s")
        return f"the {plural} moving {_direction(way, start, '')}"
    return f"the {names.of(side)} {_PARTS[part]} moving {_direction(way, start, side)}"


def _direction(way: complex, p: Posture, side: str) -> str:
    words = []
    if abs(way.real) > 0.45 * abs(way):
        if p.movement.view == "side":
            words.append("ahead" if way.real > 0 else "back")
        elif side:
            outward = (p.points[f"{side}.hip"] - p.points["hip"]).real * way.real > 0
            words.append("out to the side" if outward else "inward")
        else:
            words.append("to the side")
    if abs(way.imag) > 0.45 * abs(way):
        words.append("up" if way.imag > 0 else "down")
    return " and ".join(words)
