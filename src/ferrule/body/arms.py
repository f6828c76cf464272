"""Where arms go that hold nothing up, in words."""

from __future__ import annotations

from math import degrees, pi

from ferrule.body.angles import SIDES
from ferrule.body.chain import chain_of, turn
from ferrule.body.names import Names
from ferrule.body.posture import Posture

_HANGING = "hanging"


def free_arms(p: Posture, names: Names) -> str:
    """ "arms overhead", "arms forward, elbows bent", "one arm forward, the other back"; nothing where they hang or rest."""
    if "arms" in p.movement.rests or any(c.at in ("hand", "elbow", "forearm") for c in p.contacts):
        return ""
    where = {side: _place(p, side) for side in SIDES}
    lead, rear = where["lead"], where["rear"]
    if lead == rear:
        words = "" if lead == _HANGING else f"arms {lead}"
    elif _HANGING in (lead, rear):
        side = "lead" if rear == _HANGING else "rear"
        words = f"{names.one(side)} arm {where[side]}"
    else:
        words = f"{names.one('lead')} arm {lead}, {names.one('rear') if names.side else 'the other'} {rear}"
    bent = [side for side in SIDES if _bent(p, side)]
    elbows = "elbows bent" if len(bent) == 2 else f"{names.one(bent[0])} elbow bent" if bent else ""
    return ", ".join(part for part in (words, elbows) if part)


def _place(p: Posture, side: str) -> str:
    chain = chain_of(p.points)
    upper = f"{side}.upper_arm"
    down = abs(degrees(turn(-pi / 2, chain.angles[upper]))) < 25 and bool(p.contacts)
    if chain.lengths[upper] < 0.05 or down:
        return _HANGING
    swing = degrees(turn(chain.angles["trunk"], chain.angles[upper])) % 360 - 180  # 0 along the body, forward positive
    if p.movement.view == "front":
        return "overhead" if abs(swing) > 140 else "out to the side" if abs(swing) > 60 else _HANGING
    if swing > 140 or swing < -150:
        return "overhead"
    return "forward" if swing > 50 else "back" if swing < -25 else _HANGING


def _bent(p: Posture, side: str) -> bool:
    chain = chain_of(p.points)
    upper, fore = f"{side}.upper_arm", f"{side}.forearm"
    if chain.lengths[upper] < 0.05 or chain.lengths[fore] < 0.05:
        return False
    return abs(degrees(turn(chain.angles[upper], chain.angles[fore]))) > 60
