"""Left and right: which way a figure is turned so that it shows the side that works."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.pose import Movement
from ferrule.model.words import Place

OneSide = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Seen:
    """side: the working side by name, None where both work alike or nobody asked; flip: turned left to right."""

    side: OneSide | None = None
    flip: bool = False


def drawn_side(movement: Movement) -> OneSide:
    """The body's own side that `lead` is in an unturned figure.

    A side view looks along the floor at somebody who faces right: the near side, `lead`, is the right one. A front view
    looks somebody in the face: what is to the right of the picture is the left, and lying down turns that with the body.
    """
    return "left" if movement.view == "front" and movement.down == "lead" else "right"


def one_sided(movement: Movement, place: Place | None = None) -> bool:
    """True when the working and the other side do not do the same."""
    if place in ("opposite hand", "same hand", "ankle") or movement.down:
        return True
    contacts = (*movement.contacts, *(movement.other_contacts or ()))
    if any(c.limb != "both" for c in contacts):
        return True
    poses = (movement.hold, movement.other) if movement.other is not None else (movement.hold,)
    return any(
        {**p.legs, **p.lead} != {**p.legs, **p.rear} or {**p.arms, **p.lead_arm} != {**p.arms, **p.rear_arm}
        for p in poses
    )


def sided(movement: Movement, side: OneSide | None, place: Place | None = None) -> Seen:
    """How to draw a movement for one working side; a movement that is the same on both sides is left as it is."""
    if side is None or not one_sided(movement, place):
        return Seen()
    return Seen(side, side != drawn_side(movement))


def mirrored(pieces: str) -> str:
    """Pieces turned left to right about x = 0."""
    return f'<g transform="scale(-1 1)">{pieces}</g>'
