"""What the two sides of the body, and the loads on them, are called in words."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.body.sides import OneSide
from ferrule.model.words import Place


@dataclass(frozen=True, slots=True)
class Names:
    """What the two sides are called: left and right where the working side is known, else working and other."""

    side: OneSide | None = None

    def of(self, limb: str) -> str:
        """ "working" or "other", "left" or "right"."""
        if self.side is None:
            return "other" if limb == "rear" else "working"
        return self.side if limb != "rear" else "left" if self.side == "right" else "right"

    def one(self, limb: str) -> str:
        """ "one", or "the left"."""
        return "one" if self.side is None else f"the {self.of(limb)}"

    def carried(self, place: Place) -> str:
        limb = {"opposite hand": "rear", "same hand": "lead"}.get(place, "")
        if limb and self.side is not None:
            return f"a weight in the {self.of(limb)} hand"
        return f"a weight at the {self.of('lead')} ankle" if self.side and place == "ankle" else _LOADS[place]


_LOADS: dict[Place, str] = {
    "hands": "a weight in each hand",
    "opposite hand": "a weight in the hand of the other side",
    "same hand": "a weight in the hand of the working side",
    "chest": "a weight held at the chest",
    "back": "a load on the back",
    "hips": "a weight on the hips",
    "ankle": "a weight at the ankle",
}
