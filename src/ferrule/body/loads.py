"""Where a load is carried and which part of the body carries it."""

from __future__ import annotations

from collections.abc import Sequence

from ferrule.body.segments import Body
from ferrule.body.skeleton import Points
from ferrule.model.pose import Contact
from ferrule.model.words import Place

# Along the trunk from mid-hip (fraction of hip to shoulder) and ahead of it (m); modelling choices, from memory.
_CHEST = (0.75, 0.22)
_BACK = (0.92, -0.12)
_HIPS_AHEAD = 0.12

Carried = tuple[tuple[str, complex, float], ...]
"""Part that carries, place, kg of load per kg of body mass."""


def hands_free(contacts: Sequence[Contact]) -> bool:
    """True when no hand, forearm or elbow holds the body up."""
    return not any(c.at in ("hand", "elbow", "forearm") for c in contacts)


def carried(place: Place, share: float, points: Points, body: Body, *, front: bool) -> Carried:
    """The load as weights on parts; `share` is kg of load per kg of body mass.

    The trunk's places lie in front of or behind it, which a front view cannot see. `opposite hand` is the rear one.
    """
    hip, up, ahead = points["hip"], points["up"], 0j if front else points["ahead"]
    if place == "hands":
        return tuple((f"{side}.hand", points[side + ".hand_cm"], share / 2) for side in ("lead", "rear"))
    if place == "opposite hand":
        return (("rear.hand", points["rear.hand_cm"], share),)
    if place == "same hand":
        return (("lead.hand", points["lead.hand_cm"], share),)
    if place == "chest":
        return (("chest", hip + _CHEST[0] * body.shoulder * up + _CHEST[1] * ahead, share),)
    if place == "back":
        return (("chest", hip + _BACK[0] * body.shoulder * up + _BACK[1] * ahead, share),)
    if place == "hips":
        return (("pelvis", hip + _HIPS_AHEAD * ahead, share),)
    return (("lead.shin", points["lead.ankle"], share),)
