"""What a load carried on one side asks of the hip one stands on.

Standing on one leg the hip's side muscles keep the pelvis level against everything that hangs beyond it. A load in the
hand of the free side hangs furthest out; one in the hand over the standing leg helps. Upright, seen from the front. How
large the moment is nobody should read off this model (5 degrees of lean change it by a quarter, docs/body.md); how a
load changes it follows from where the load hangs, and that is what is reported.
"""

from __future__ import annotations

from ferrule.body.segments import REFERENCE
from ferrule.body.statics import solve
from ferrule.model.pose import Contact, Movement, Pose
from ferrule.model.words import Place

STANCE = Movement(
    hold=Pose(trunk=0, lead={"spread": "~-4"}, rear={"spread": 0, "shin": "out"}, arms={"spread": 8}),
    contacts=(Contact("foot", "lead"),),
    demand="hip.lead",
    view="front",
)
"""On one leg, the other knee bent, the body leaned until its mass centre is over the foot."""


def pelvis_moment(place: Place | None = None, load_kg: float = 0.0) -> float:
    """Side moment at the standing hip, N·m per kg of body mass, outward positive; a load may turn its sign.

    `load_kg` on a body of 70 kg. Raises NoSuchPosture when the load cannot be balanced.
    """
    return solve(STANCE, load_kg=load_kg, place=place).moments["hip.lead"]


def pelvis_slope(place: Place, load_kg: float = 10.0) -> float:
    """Its change per (kg of load / kg of body mass)."""
    return (pelvis_moment(place, load_kg) - pelvis_moment()) * REFERENCE.mass_kg / load_kg


def pelvis_times(place: Place, load_kg: float, body_kg: float) -> float:
    """How many times the moment without a load one asks with it: 2.0 is twice as much."""
    return 1.0 + pelvis_slope(place) * load_kg / body_kg / pelvis_moment()
