"""The family on an axis of share of best: its exercises with the loads there are, and the coach's band, once.

The band is shaded once and fades out on both sides by what is not known of this runner (80 % of the belief).
"""

from __future__ import annotations

import math

from ferrule.capacity.explain import ExerciseBelief, Point
from ferrule.deliver.ink import GROUND, HAIR, INK, NOTE, RUST, line, picture, px, rect, words
from ferrule.deliver.plain import clean
from ferrule.model.quantity import Range, number

TICKS = (0.25, 0.5, 0.75, 1.0, 1.5)
_LEAST, _MOST = 0.15, 2.2
_WIDE, _LEFT, _RIGHT, _ROW, _TOP = 640.0, 12.0, 612.0, 40.0, 46.0
_FADES = 10
_LABEL_PX = 34.0


def explain_picture(belief: ExerciseBelief, band: Range, band_words: str) -> str:
    """The picture as SVG, with everything it shows in its description."""
    rows: dict[str, list[Point]] = {}
    for point in belief.points:
        rows.setdefault(point.variant_id, []).append(point)
    bottom = _TOP + _ROW * len(rows)
    parts = _band(band, belief, bottom)
    for tick in TICKS:
        best = tick == 1
        parts.append(
            line(_x(tick), _TOP - 6, _x(tick), bottom, stroke=INK if best else HAIR, dash="3 3" if best else "")
        )
        parts.append(words(_x(tick), bottom + 16, f"{tick:.0%}", size=11, fill=NOTE, anchor="middle"))
    parts.append(
        words(
            min(max(_x(band.middle), 150), 480), 14, f"meant: {band_words.split(' (')[0]}", fill=RUST, anchor="middle"
        )
    )
    sure = belief.sure if belief.own_sets == 0 else f"{belief.sure}, {belief.own_sets} sets"
    parts.append(
        words(_x(1.0), 32, f"best, as far as we know ({sure})", size=11, fill=NOTE, anchor="middle", halo=True)
    )
    for at, (variant_id, points) in enumerate(rows.items()):
        parts += _row(points, _TOP + _ROW * at + 24, variant_id == belief.variant_id)
    parts.append(words(_LEFT, bottom + 36, _key(belief), size=11, fill=NOTE))
    return picture(_WIDE, bottom + 44, _alt(rows, band, band_words), *parts)


def _key(belief: ExerciseBelief) -> str:
    loads = any(p.kg for p in belief.points)
    filled = any(p.asked for p in belief.points)
    said = ["ring: no weight" if loads else "ring: an exercise of the family"]
    said += ["tick: with that many kg"] if loads else []
    said += ["filled: what the week asks"] if filled else []
    return "; ".join(said) + ". Share of this runner's best."


def _row(points: list[Point], y: float, chosen: bool) -> list[str]:
    fill = RUST if chosen else INK
    parts = [
        words(_LEFT, y - 8, points[0].name, fill=fill, bold=chosen, halo=True),
        line(_LEFT, y, _RIGHT, y, stroke=HAIR),
    ]
    far = max(p.share.middle for p in points)
    if len(points) > 1:
        parts.append(line(_x(points[0].share.middle), y, _x(far), y, stroke=fill, wide=1.6))
    taken = -math.inf
    for p in points:
        x = _x(p.share.middle)
        if p.asked:
            parts.append(_dot(x, y, 6, RUST, fill))
        elif p.kg:
            parts.append(line(x, y - 4, x, y + 4, stroke=fill, wide=1.6))
        else:
            parts.append(_dot(x, y, 4, GROUND, fill))
        if p.kg and (x - taken >= _LABEL_PX or p.asked):
            parts.append(words(x, y + 14, f"{number(p.kg)} kg", size=10, fill=NOTE, anchor="middle", halo=True))
            taken = x
    return parts


def _band(band: Range, belief: ExerciseBelief, bottom: float) -> list[str]:
    """The band once, its edges fading over what the belief may be off to either side."""
    here = next((p.share for p in belief.points if p.variant_id == belief.variant_id), None)
    down = 1.0 if here is None else here.low / here.middle
    up = 1.0 if here is None else here.high / here.middle
    high, parts = bottom - _TOP + 6, []
    for n in range(_FADES + 1):  # from the widest in: each adds its part of the shade
        part = 1 - n / _FADES
        low, top = _x(band.low * down**part), _x(band.high * up**part)
        parts.append(rect(low, _TOP - 6, max(2.0, top - low), high, fill=RUST, opacity=0.016 if n < _FADES else 0.06))
    return parts


def _dot(x: float, y: float, radius: float, fill: str, stroke: str) -> str:
    return f'<circle cx="{px(x)}" cy="{px(y)}" r="{px(radius)}" fill="{fill}" stroke="{stroke}" stroke-width="1.6"/>'


def _x(share: float) -> float:
    held = min(_MOST, max(_LEAST, share))
    return _LEFT + (_RIGHT - _LEFT) * math.log(held / _LEAST) / math.log(_MOST / _LEAST)


def _alt(rows: dict[str, list[Point]], band: Range, band_words: str) -> str:
    said = []
    for points in rows.values():
        shares = ", ".join(
            f"{'with ' + number(p.kg) + ' kg ' if p.kg else ''}{p.share.middle:.0%} (likely {p.share.low:.0%} to {p.share.high:.0%})"
            + (", asked this week" if p.asked else "")
            for p in points
        )
        said.append(f"{clean(points[0].name)} {shares}")
    return f"Share of this runner's best: {'; '.join(said)}. Meant, {band_words}: {band.low:.0%} to {band.high:.0%}."
