"""The longest-run rule: a single run far beyond the longest of the 30 days before it. A finding, never a gate.

Source: Frandsen 2025, a cohort of 5205 adult runners and 588071 runs (abstract seen): hazard rate ratio of an injury 1.64
(1.31-2.05) for runs more than 10 to 30 % beyond it, 1.52 (1.16-2.00) for more than 30 to 100 %, 2.28 (1.50-3.48) beyond
that. In the same cohort the ratio of one week's distance to the last showed no relation: it is not used here at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from ferrule.model.fact import RunTold
from ferrule.model.finding import Finding
from ferrule.model.house import House

DAYS = 30
SOURCE = "Frandsen 2025 (seen), doi 10.1136/bjsports-2024-109380"
BANDS: tuple[tuple[float, str], ...] = (
    (100.0, "more than double: 2.28 times the injuries (1.50-3.48)"),
    (30.0, "30 to 100 % beyond: 1.52 times the injuries (1.16-2.00)"),
    (10.0, "10 to 30 % beyond: 1.64 times the injuries (1.31-2.05)"),
)


def longest_before(run: RunTold, runs: Iterable[RunTold]) -> RunTold | None:
    """The longest run of the 30 days before the day of `run`; None when none is known."""
    before = [r for r in runs if timedelta(0) < run.day - r.day <= timedelta(days=DAYS)]
    return max(before, key=lambda r: (r.distance_km, r.day), default=None)


def beyond_percent(run: RunTold, runs: Iterable[RunTold]) -> float | None:
    """How far `run` goes beyond the longest of the 30 days before it, %; None when none is known."""
    longest = longest_before(run, runs)
    return None if longest is None else round(100 * (run.distance_km / longest.distance_km - 1), 6)


def longest_run(run: RunTold, runs: Iterable[RunTold], house: House) -> Finding | None:
    """A finding when `run`, done or planned, goes more than `longest-run-percent` beyond the longest one before it."""
    known = tuple(runs)
    longest, beyond = longest_before(run, known), beyond_percent(run, known)
    if longest is None or beyond is None or beyond <= house.value("longest-run-percent"):
        return None
    band = next((words for low, words in BANDS if beyond > low), "")
    return Finding(
        "longest-run",
        "advice",
        f"{run.day.isoformat()}: {run.distance_km:.1f} km, {beyond:.0f} % beyond the longest run told in the {DAYS} days"
        f" before it ({longest.distance_km:.1f} km on {longest.day.isoformat()})",
        f"Of many runners, those with such a run were injured more often ({band}). It says nothing about this one."
        if band
        else "It is beyond the line of the house.",
        "Ask how it went; lay the next long run from the longest one that went well.",
        source=SOURCE,
        strength="moderate",
    )
