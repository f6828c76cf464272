"""Pictures of a variant, drawn once a process."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.body.figure import HEIGHT_PX, both_ends, figure
from ferrule.body.moving import Moving, moving_parts
from ferrule.model.exercise import Variant
from ferrule.model.pose import Movement
from ferrule.model.words import Place

__all__ = ["HEIGHT_PX", "Drawing", "Moving", "drawing", "moving"]


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG, its alt text, and its size in px."""

    svg: str
    alt: str
    width: float
    height: float


_DRAWN: dict[tuple[str, Place | None], tuple[Movement, Drawing]] = {}


def drawing(variant: Variant | None, place: Place | None) -> Drawing | None:
    """Start and end of `variant` side by side with its load at `place`; None without a pose that can be drawn.

    A band is drawn as part of the exercise, not as a load.
    """
    if variant is None or variant.movement is None:
        return None
    place = None if place == "band" else place
    key = (variant.id, place)
    known = _DRAWN.get(key)
    if known is not None and known[0] is variant.movement:
        return known[1]
    try:
        made = (both_ends if variant.movement.other is not None else figure)(
            variant.movement, load_place=place, title=variant.name
        )
    except ValueError:
        return None
    drawn = Drawing(made.svg, made.alt, made.width, made.height)
    _DRAWN[key] = (variant.movement, drawn)
    return drawn


_MOVING: dict[tuple[str, Place | None], tuple[Movement, Moving]] = {}


def moving(variant: Variant | None, place: Place | None) -> Moving | None:
    """The repetition of `variant` moving between its ends, its style apart; None where nothing moves or can be drawn."""
    if variant is None or variant.movement is None or variant.movement.other is None:
        return None
    place = None if place == "band" else place
    key = (variant.id, place)
    known = _MOVING.get(key)
    if known is not None and known[0] is variant.movement:
        return known[1]
    try:
        made = moving_parts(variant.movement, load_place=place, title=variant.name, rep_s=variant.rep_s)
    except ValueError:
        return None
    _MOVING[key] = (variant.movement, made)
    return made
