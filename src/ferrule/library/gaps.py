"""Is each step from an exercise to the next one small enough to be taken?

A step is the demand without a load of the harder one against that of its easier neighbour in the same group. Up to
MOST is fine. A larger one is bridged when the easier one can be made harder by itself before the change:

    load    base + per_kg * kg / body mass at a place where it may be carried, up to MOST_KG there
    band    base + per_kg["band"] * what the thick one pulls beyond the thin one / body mass
    reps    (1 + k (most - 1)) / (1 + k (least - 1)), the way from few to many repetitions
    hold    (most / least) ** (1 / b), the way from a short to a long hold
"""

from __future__ import annotations

from collections.abc import Mapping

from ferrule.library.bands import demand_with
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import Finding, Span
from ferrule.model.words import Place

MOST = 1.35
"""Largest step taken at once (house choice, common practice, no source)."""

MOST_KG: Mapping[Place, float] = {
    "hands": 24, "opposite hand": 16, "same hand": 16, "chest": 16, "back": 20, "hips": 30, "ankle": 3,
}  # fmt: skip
"""What is at hand in a home at each place, in all (common practice, no source)."""
BODY_KG = 70.0
LEAST_REPS, MOST_REPS, K_GENERAL = 4, 20, 0.0305
"""Repetitions of a set, and the slope of the repetition curve: Nuzzo 2024 (seen; see the capacity curves)."""
LEAST_S, MOST_S, B_TRUNK = 20.0, 60.0, 2.27
"""Seconds of a hold, and the exponent of the endurance curve of the trunk: Frey Law and Avin 2010, table 2 (seen)."""
BY_REPS = (1 + K_GENERAL * (MOST_REPS - 1)) / (1 + K_GENERAL * (LEAST_REPS - 1))
BY_HOLD = (MOST_S / LEAST_S) ** (1 / B_TRUNK)


def step(easier: Variant, harder: Variant) -> float | None:
    """Demand of the harder one against the easier one; None when they are not dosed on the same group."""
    a, b = easier.main, harder.main
    return b.base / a.base if a and b and a.group == b.group and a.base > 0 else None


def bridge(easier: Variant, harder: Variant) -> str:
    """What takes a runner over a step larger than MOST: "load", "band", "reps", "hold" or "note"; "" when nothing does."""
    ratio, main = step(easier, harder), easier.main
    if ratio is None or main is None or ratio <= MOST:
        return ""
    if harder.gap_note:
        return "note"
    most = max((main.demand(MOST_KG[p], p, BODY_KG) for p in easier.loading), default=main.base)
    if ratio * main.base / most <= MOST and most > main.base:
        return "load"
    thick = demand_with(main, "thick", BODY_KG)
    if thick is not None and ratio * main.base / thick <= MOST:
        return "band"
    if easier.dose_kind == "reps" and harder.dose_kind == "reps" and ratio <= BY_REPS:
        return "reps"
    if easier.dose_kind == "hold" and harder.dose_kind == "hold" and ratio <= BY_HOLD:
        return "hold"
    return ""


def gap_findings(library: Library, spans: Mapping[str, Span]) -> tuple[Finding, ...]:
    """One finding for each step that is too large and that nothing bridges, whichever neighbour names the other."""
    found: list[Finding] = []
    by_id = library.variants
    pairs = {(e, v.id): None for v in by_id.values() for e in v.easier}
    pairs |= {(v.id, h): None for v in by_id.values() for h in v.harder}
    for low, high in pairs:
        if low in by_id and high in by_id:
            easier, variant = by_id[low], by_id[high]
            ratio = step(easier, variant)
            if ratio is None or ratio <= MOST or bridge(easier, variant):
                continue
            what = f"{variant.name} asks {100 * (ratio - 1):.0f} % more than {easier.name}, the one before it"
            why = (
                f"a step above {100 * (MOST - 1):.0f} % needs a load, a band, more repetitions or a longer hold between"
            )
            fix = "put an exercise between them, or say in `gap_note` of the harder one how runners get across"
            found.append(Finding("library-gap", "advice", what, why, fix, spans.get(variant.id)))
    return tuple(found)
