"""What a load does to the side of the standing hip on one leg: a weight in one hand tips the belt or holds it up."""

from __future__ import annotations

from functools import cache

from ferrule.body.pelvis import pelvis_times
from ferrule.model.exercise import Variant
from ferrule.model.words import Place

ONE_SIDED: dict[Place, str] = {
    "opposite hand": "the hand of the other side",
    "same hand": "the hand of the standing side",
}
SHARE = 0.1
"""The load that is told, as a share of the body mass: 7 kg at 70 kg."""


@cache
def stance_change(place: Place) -> float:
    """Share by which a load of SHARE of the body mass changes what the standing hip holds; below 0 where it helps.

    As an absolute value the stance is not to be believed (5 degrees of lean move it by 23 %): only the effect of a load is
    read from it (ferrule.body.pelvis).
    """
    return pelvis_times(place, SHARE, 1.0) - 1


def stands_on_one_leg(variant: Variant) -> bool:
    """True when only one foot is on the ground at the hardest point."""
    movement = variant.movement
    if movement is None or not variant.one_leg:
        return False
    return (
        len(movement.contacts) == 1
        and movement.contacts[0].at in ("foot", "ball")
        and movement.contacts[0].limb != "both"
    )


def stance_words(variant: Variant) -> tuple[str, ...]:
    """A line for each one-sided place a load may be carried at while standing on one leg."""
    if not stands_on_one_leg(variant):
        return ()
    lines = []
    for place, words in ONE_SIDED.items():
        if place in variant.loading:
            change = stance_change(place)
            more = "more" if change > 0 else "less"
            lines.append(
                f"a tenth of the body mass in {words} asks about {abs(change) * 100:.0f} % {more} of the side of the "
                "standing hip (one-leg stance, an order only)"
            )
    return tuple(lines)
