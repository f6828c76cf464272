"""Poses as the library writes them: angles in degrees from upright standing; `"~30"` is solved, starting at 30."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Angle = float | str
"""Degrees, or "~30" (unknown, solved from 30), or a word the limb knows: "square", "along" (arm), "out" (forearm, thigh, shin).

trunk, head, line  lean from upright, forward positive; `line` is one straight line from heels to head
thigh, arm         from hanging straight down, forward positive (hip and shoulder flexion of an upright trunk)
shin               lean of the shin itself, knee ahead of the ankle positive
foot               0 flat on the floor, heel lifted positive
spread             front view only: turned outward from the body's line, inward negative
out (of a leg)     front view only: how far thigh and shin point out of the picture, so that they are seen shorter
back               the back rounded between hips and shoulders, hollowed negative; drawn only
square             arm at a right angle to the trunk;  along: arm beside the trunk
out                points straight at the one who looks (front view)
"""
Limb = Mapping[str, Angle]
"""thigh, shin, foot, spread, out for a leg; arm, forearm, spread for an arm."""

Support = Literal["floor", "step", "box", "wall", "chair", "bench", "bar", "sofa"]
"""What a contact rests on. A wall gives only a horizontal push; a bar is held from below."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Where the body meets a support.

    at      hand, elbow, forearm, foot, ball, heel, ankle, midshin, knee, upper back, seat; or, alone and without
            forces: lying (the lowest part touches the support), air (the lowest part is `height_m` up)
    limb    lead (working side), rear (other side) or both
    height_m  height of the support above the floor;  cop: place along the sole, 0 heel to 1 toe
    share   imposed share of the weight, which needs a `source`
    """

    at: str
    limb: Literal["lead", "rear", "both"] = "both"
    on: Support = "floor"
    height_m: float = 0.0
    cop: float | None = None
    share: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Pose:
    """One position of the whole body; parts left out take their resting angle."""

    trunk: Angle | None = None
    line: Angle | None = None
    head: Angle | None = None
    legs: Limb = field(default_factory=dict)
    lead: Limb = field(default_factory=dict)
    rear: Limb = field(default_factory=dict)
    arms: Limb = field(default_factory=dict)
    lead_arm: Limb = field(default_factory=dict)
    rear_arm: Limb = field(default_factory=dict)
    back: Angle | None = None


@dataclass(frozen=True, slots=True)
class Prop:
    """Something drawn beside the body: box, chair, band, wall. `under` names the body part it stands beneath.

    A band under one side's part ("lead.ankle") is fixed to something beside or ahead, `height_m` up.
    """

    kind: str
    under: str = ""
    height_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Movement:
    """The path of a repetition: `hold` is the hardest position, `other` the far end (None when held still).

    demand  which solved quantity is the demand: "hip+knee.lead", "ankle.lead", "share hand", "hips", ...
            "" where nothing is dosed
    reach   hands stay where straight arms planted them and the shoulders come down to elbow height
    rests   parts that lie on the floor and carry themselves: "head", "arms"
    down    front view: the side that is nearer the floor
    arms_as_drawn  a load in the hands does not make the arms hang (overhead, held in front)
    starts  the end at which a repetition begins, for the figure: a step-up begins at its hardest, a squat does not;
            "" is `other`, or `hold` where the ankle is what is dosed
    steps   the side whose foot is set down elsewhere between the ends ("" is rear), for the figure
    """

    hold: Pose
    contacts: tuple[Contact, ...]
    demand: str
    view: Literal["side", "front"] = "side"
    down: Literal["lead", "rear", ""] = ""
    other: Pose | None = None
    other_contacts: tuple[Contact, ...] | None = None
    reach: bool = False
    other_reach: bool = False
    rests: tuple[str, ...] = ()
    props: tuple[Prop, ...] = ()
    arms_as_drawn: bool = False
    starts: Literal["hold", "other", ""] = ""
    steps: Literal["lead", "rear", ""] = ""
