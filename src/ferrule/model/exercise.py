"""Exercise variants, families and what each asks of a runner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ferrule.model.pose import Movement
from ferrule.model.words import Group, KitKind, Pattern, Place, Region, Tag, Trust

DoseKind = Literal["reps", "hold", "distance", "contacts"]


@dataclass(frozen=True, slots=True)
class Ask:
    """What one variant asks of one group, on each working side, in units of the group's anchor variant.

    demand(kg, mass_kg) = base + per_kg[place] * kg / mass_kg            (dimensionless)

    base     demand without load; the group's anchor variant has exactly 1.0
    per_kg   slope for each loading place, in anchor units per (kg of load / kg of body mass); >= 0. Where a band is
             part of the exercise, `base` is with the thin one and kg at `band` is what another pulls beyond it
    trust    how far `base` and `per_kg` may be believed
    main     True for the one group the variant is dosed on
    """

    group: Group
    base: float
    per_kg: Mapping[Place, float]
    trust: Trust
    main: bool

    def demand(self, kg: float, place: Place | None, mass_kg: float) -> float:
        """Relative demand with `kg` in all at `place`; a place this ask has no slope for counts as the largest one."""
        if kg <= 0 or place is None:
            return self.base
        slope = self.per_kg.get(place, max(self.per_kg.values(), default=0.0))
        return self.base + slope * kg / mass_kg


@dataclass(frozen=True, slots=True)
class Fault:
    """A common fault and how to mend it."""

    seen: str
    mend: str


@dataclass(frozen=True, slots=True)
class Shot:
    """How a clip of an exercise is filmed.

    view   where the camera stands, seen from the one who moves
    side   the side that is nearer to it;  see: what must be seen;  say: the cue to say
    """

    view: Literal["side", "front", "behind"]
    side: Literal["working side", "other side", "either side"]
    see: str
    say: str


@dataclass(frozen=True, slots=True)
class Variant:
    """One way of doing an exercise.

    rank         place in its family, easier to harder, from 0 (the author's order)
    dose_kind    what a set of it is counted in
    one_leg      works one leg at a time (a `/side` exercise for legs)
    sided        done on each side in turn (legs, or a side plank)
    kit          kinds that must be there, without the load itself
    step_cm      least and most height a step, box or bench must have, or None
    loading      places where a load may be carried; empty means it takes none
    asks         demands by group; empty for mobility, balance and impact work
    impact       0 none, 1 soft landings on two feet or skipping, 2 two-foot jumps, 3 one-foot hops, 4 hardest
    contacts_per_rep  foot contacts a repetition (each landing is one)
    lifts        the load is what is lifted: without one nobody is sent to it
    end_range    works at the end of a joint's range;  below_level: heel or knee goes below the support
    rep_s        seconds a repetition by default;  setup_s: seconds to get ready
    easier, harder    neighbours' ids (the family order unless the author says otherwise)
    balance_help what to hold when balance fails
    muscles      that do most of the work, helping: that help or hold still; anatomical terms (ferrule.library.muscles)
    shot         how it is filmed, where its author says so;  see ferrule.library.shot
    order_note   why it stands where it does although its demand says otherwise
    gap_note     why the step up to it from its easier neighbour may be larger than the others
    inferred     fields taken from its neighbours because the coach did not write them
    spread_log   SD of its demand on the log axis where the demand was inferred from neighbours; 0 elsewhere
    """

    id: str
    name: str
    family: str
    rank: int
    pattern: Pattern
    dose_kind: DoseKind
    one_leg: bool
    sided: bool
    kit: tuple[KitKind, ...]
    loading: tuple[Place, ...]
    cues: tuple[str, ...]
    faults: tuple[Fault, ...]
    setup: str
    asks: tuple[Ask, ...]
    regions: tuple[Region, ...]
    spoken: str
    aliases: tuple[str, ...] = ()
    tags: Mapping[Tag, int] = field(default_factory=dict)
    impact: int = 0
    contacts_per_rep: int = 0
    end_range: bool = False
    below_level: bool = False
    step_cm: tuple[float, float] | None = None
    rep_s: float = 3.0
    setup_s: float = 20.0
    cautions: tuple[str, ...] = ()
    balance_help: str = ""
    easier: tuple[str, ...] = ()
    harder: tuple[str, ...] = ()
    movement: Movement | None = None
    source: str = "common practice, no source"
    muscles: tuple[str, ...] = ()
    helping: tuple[str, ...] = ()
    shot: Shot | None = None
    order_note: str = ""
    gap_note: str = ""
    inferred: tuple[str, ...] = ()
    spread_log: float = 0.0
    lifts: bool = False

    @property
    def main(self) -> Ask | None:
        """The ask this variant is dosed on, or None when it is never a dose (mobility, impact)."""
        for ask in self.asks:  # a loop: read some thousand times a fitted week
            if ask.main:
                return ask
        return None

    def ask(self, group: Group) -> Ask | None:
        return next((a for a in self.asks if a.group == group), None)


@dataclass(frozen=True, slots=True)
class Family:
    """One movement, easier to harder. `variant_ids` in the author's order; `kit_note` why none of them does without kit."""

    id: str
    name: str
    variant_ids: tuple[str, ...]
    order_source: str = "common practice, no source"
    kit_note: str = ""


@dataclass(frozen=True, slots=True)
class Library:
    """Every variant by id, the families, and the anchor variant of each group.

    names   lower-case name, alias or id -> variant id
    """

    variants: Mapping[str, Variant]
    families: Mapping[str, Family]
    anchors: Mapping[Group, str]
    names: Mapping[str, str]

    def find(self, name: str) -> Variant | None:
        """The variant of that name, alias or id, whatever the case and spacing; None when unknown."""
        key = " ".join(name.lower().split())
        found = self.names.get(key)
        return None if found is None else self.variants[found]
