"""What a band pulls, and what an exercise asks with each.

Nobody sells bands by one scale, so each kind has a pull of our own: what one strand (for a loop, both strands together)
pulls when it is drawn to STRETCH times its slack length. The three stand for the middle of what is sold for exercise at
home. Where a band is part of an exercise its demand without a load is with the thin band, so that nobody who owns any band
is asked for less than was counted; a thicker one adds its pull beyond the thin one at the place `band`:

    demand(band) = base + per_kg["band"] * (pull(band) - pull(thin)) / body mass
"""

from __future__ import annotations

from collections.abc import Mapping

from ferrule.model.exercise import Ask
from ferrule.model.words import BANDS, Band

STRETCH = 2.0
"""Length drawn to against the slack length (common practice, no source)."""
PULL_KG: Mapping[Band, float] = {"thin": 2.0, "medium": 4.0, "thick": 7.0}
"""Pull at STRETCH, as the weight of so many kg (common practice, no source: makers differ by half and more)."""
BODY_KG = 70.0
"""The body mass that demands with a band are told for."""


def beyond_thin_kg(band: Band) -> float:
    """The load of `band` at the place `band`: what it pulls more than the thin one, kg."""
    return PULL_KG[band] - PULL_KG["thin"]


def demand_with(ask: Ask, band: Band, mass_kg: float = BODY_KG) -> float | None:
    """Relative demand with `band`; None where a band has no part in this ask."""
    return ask.demand(beyond_thin_kg(band), "band", mass_kg) if "band" in ask.per_kg else None


def band_words(ask: Ask) -> str:
    """The demand with each band, in words; "" where a band has no part in this ask."""
    told = [(b, demand_with(ask, b)) for b in BANDS]
    parts = [f"{band} {demand:.2g}" for band, demand in told if demand is not None]
    pulls = ", ".join(f"{PULL_KG[b]:g}" for b in BANDS)
    return (
        f"{', '.join(parts)} at {BODY_KG:g} kg of body mass; the three are taken to pull like {pulls} kg at twice their slack "
        "length, and makers differ"
        if parts
        else ""
    )
