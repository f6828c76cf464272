"""Why this variant: the variants of a family on an axis of share of best, and the band the coach meant. For the coach only."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ferrule.capacity.curves import k_of, share_at, share_at_hold
from ferrule.deliver import amounts
from ferrule.deliver.ink import GROUND, HAIR, INK, NOTE, RUST, line, picture, px, rect, words
from ferrule.deliver.plain import clean
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.fitted import FittedItem, Prediction
from ferrule.model.quantity import Range

TICKS = (0.25, 0.5, 0.75, 1.0, 1.5)
_LEAST, _MOST = 0.2, 1.7
_WIDE, _LEFT, _RIGHT, _ROW = 420.0, 8.0, 404.0, 34.0


@dataclass(frozen=True, slots=True)
class Point:
    """A variant of the family and its shares of this runner's best: without load, and with the one fitted.

    loaded   None where no load is fitted, or the variant cannot carry it there
    """

    name: str
    bare: float
    loaded: float | None
    chosen: bool
    written: bool


def points(item: FittedItem, library: Library, mass_kg: float | None) -> tuple[Point, ...]:
    """Every variant of the chosen one's family that the same group is dosed on, in the family's order.

    capacity = demand(chosen) / share(chosen), in anchor units; another variant's share = its demand / capacity.
    Empty without a prediction or a family, and when a load was used but the body mass is not known.
    """
    chosen = library.variants.get(item.variant_id)
    if chosen is None or chosen.main is None or item.prediction is None or item.prediction.share <= 0:
        return ()
    load = item.load if item.load is not None and item.load.kg > 0 else None
    if load is not None and mass_kg is None:
        return ()
    kg, place, mass = (load.kg, load.place, mass_kg or 1.0) if load is not None else (0.0, None, 1.0)
    capacity = chosen.main.demand(kg, place, mass) / item.prediction.share
    family = library.families.get(chosen.family)
    written = library.find(item.written) or library.find(item.written.split(":")[0])
    made: list[Point] = []
    for variant_id in () if family is None else family.variant_ids:
        variant = library.variants.get(variant_id)
        ask = None if variant is None else _same_group(variant, chosen.main)
        if variant is None or ask is None:
            continue
        carries = place in variant.loading or (place == "band" and "band" in ask.per_kg)
        loaded = ask.demand(kg, place, mass) / capacity if carries else None
        made.append(
            Point(clean(variant.name), ask.base / capacity, loaded, variant_id == chosen.id, variant == written)
        )
    return tuple(made)


def _same_group(variant: Variant, main: Ask) -> Ask | None:
    ask = variant.main
    return ask if ask is not None and ask.group == main.group else None


def band(item: FittedItem, library: Library) -> Range | None:
    """Shares at which the count leaves the reserve the coach meant; None when the count is none that the curves know."""
    chosen = library.variants.get(item.variant_id)
    if chosen is None or chosen.main is None or item.prediction is None:
        return None
    meant, group = item.prediction.intended, chosen.main.group
    if item.reps is not None:
        k = k_of(group)
        return Range(share_at(item.reps.high + meant.high, k), share_at(max(1.0, item.reps.low + meant.low), k))
    if item.hold_s is not None and item.hold_s.low > 0:
        far = item.hold_s.high * (1 + meant.high / 10)
        near = item.hold_s.low * (1 + meant.low / 10)
        ends = share_at_hold(far, group), share_at_hold(near, group)
        return Range(min(ends), max(ends))
    return None


def family_picture(item: FittedItem, library: Library, mass_kg: float | None) -> str:
    """The picture, or an empty text when there is nothing to compare."""
    shown = points(item, library, mass_kg)
    meant = band(item, library)
    if len(shown) < 2 or meant is None or item.prediction is None:
        return ""
    load = amounts.load_brief(item.load) if any(p.loaded is not None for p in shown) else ""
    bottom = 34 + _ROW * len(shown)
    high = bottom + (44 if load else 24)
    parts = _shading(meant, item.prediction, bottom)
    for tick in TICKS:
        x = _x(tick)
        dash = "3 3" if tick == 1 else ""
        parts.append(line(x, 30, x, bottom, stroke=INK if tick == 1 else HAIR, dash=dash))
        parts.append(words(x, bottom + 14, f"{tick:.0%}", size=11, fill=NOTE, anchor="middle"))
    parts.append(words(min(_x(meant.low), 320), 12, "what you meant", fill=RUST))
    parts.append(words(_x(1.0), 26, "best, as far as we know", size=11, fill=NOTE, anchor="middle"))
    for row, point in enumerate(shown):
        y = 34 + _ROW * row
        said = point.name + (" (fitted)" if point.chosen else " (written)" if point.written else "")
        fill = RUST if point.chosen else INK
        parts.append(words(_LEFT, y + 13, said, fill=fill, bold=point.chosen))
        parts.append(line(_LEFT, y + 24, _RIGHT, y + 24, stroke=HAIR))
        if point.loaded is not None:
            parts.append(line(_x(point.bare), y + 24, _x(point.loaded), y + 24, stroke=fill, wide=1.6))
            parts.append(_dot(point.bare, y + 24, 3.5, GROUND, fill))
        here = point.bare if point.loaded is None else point.loaded
        parts.append(_dot(here, y + 24, 6 if point.chosen else 4.5, RUST if point.chosen else GROUND, fill))
    if load:
        parts.append(
            words(_LEFT, high - 6, f"small dot: no weight; at the end of its line: {load}", size=11, fill=NOTE)
        )
    return picture(_WIDE, high, _alt(shown, meant, load), *parts)


def _shading(meant: Range, prediction: Prediction, bottom: float) -> list[str]:
    """The band once, and round it paler what the spread of our belief adds on either side."""
    down = max(0.2, prediction.share_low / prediction.share)
    up = prediction.share_high / prediction.share
    outer, inner = (_x(meant.low * down), _x(meant.high * up)), (_x(meant.low), _x(meant.high))
    return [
        rect(outer[0], 30, outer[1] - outer[0], bottom - 30, fill=RUST, opacity=0.07),
        rect(inner[0], 30, max(2.0, inner[1] - inner[0]), bottom - 30, fill=RUST, opacity=0.14),
    ]


def _dot(share: float, y: float, radius: float, fill: str, stroke: str) -> str:
    return (
        f'<circle cx="{px(_x(share))}" cy="{px(y)}" r="{px(radius)}" fill="{fill}" stroke="{stroke}" '
        f'stroke-width="1.6"/>'
    )


def _x(share: float) -> float:
    held = min(_MOST, max(_LEAST, share))
    return _LEFT + (_RIGHT - _LEFT) * math.log(held / _LEAST) / math.log(_MOST / _LEAST)


def _alt(shown: tuple[Point, ...], meant: Range, load: str) -> str:
    rows = "; ".join(
        f"{p.name} {p.bare:.0%}"
        + ("" if p.loaded is None else f", with {load} {p.loaded:.0%}")
        + (" (fitted)" if p.chosen else " (written)" if p.written else "")
        for p in shown
    )
    return f"Share of this runner's best: {rows}. What you meant: {meant.low:.0%} to {meant.high:.0%}."
