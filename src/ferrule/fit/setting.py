"""What a line's choices depend on besides the line."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from ferrule.fit.effort import Nodes, believed
from ferrule.fit.screen import screen_load, screen_variant
from ferrule.model.bound import Bounds
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.house import House
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Place
from ferrule.squad.loads import load_choices


@dataclass(frozen=True, slots=True)
class Setting:
    """What a line's choices depend on besides the line; the dictionaries only remember what was worked out.

    where   the site whose kit the runner has, by name; "" where there is one kit only, or none is named
    """

    runner: Runner
    capacity: Capacity
    nodes: Nodes
    library: Library
    house: House
    monday: date
    mass_kg: float
    margin_rir: float
    bounds: Bounds = field(default_factory=dict)
    where: str = ""
    _screened: dict[str, Reason | None] = field(default_factory=dict)
    _loads: dict[Place, tuple[LoadChoice, ...]] = field(default_factory=dict)
    _believed: dict[str, tuple[float, float]] = field(default_factory=dict)

    def barred(self, variant: Variant) -> Reason | None:
        """Kit and wishes, remembered by variant."""
        if variant.id not in self._screened:
            why = screen_variant(variant, self.runner)
            at = f" at {self.where}" if self.where else ""
            self._screened[variant.id] = Reason("kit", why.text + at) if why is not None and why.code == "kit" else why
        return self._screened[variant.id]

    def barred_load(self, variant: Variant, load: LoadChoice | None) -> Reason | None:
        """Limits and sore places."""
        r = self.runner
        if not r.limits and not r.sore:
            return None
        variants = self.library.variants
        return screen_load(variant, load, r, variants, self.house, self.capacity, self.monday, self.mass_kg)

    def barred_unknown(self) -> Reason | None:
        """An exercise the library does not know cannot be held against a limit, a sore place or a note."""
        r = self.runner
        if any(x.until is None or x.until >= self.monday for x in r.limits):
            return Reason("limit", "not in the library: it cannot be held against the limit")
        if r.sore:
            return Reason("sore", "not in the library: it cannot be held against the sore place")
        return (
            Reason("wish", f"not in the library: it cannot be held against {r.wishes[0].text!r}") if r.wishes else None
        )

    def believed(self, variant: Variant) -> tuple[float, float]:
        """What is believed of a dosed variant (`effort.believed`), remembered."""
        if variant.id not in self._believed:
            self._believed[variant.id] = believed(self.capacity, variant)
        return self._believed[variant.id]

    def loads(self, place: Place) -> tuple[LoadChoice, ...]:
        """Loads this runner's kit can make at a place, remembered."""
        if place not in self._loads:
            self._loads[place] = load_choices(self.runner.kit, place, self.mass_kg)
        return self._loads[place]
