"""Which runs were key and which were long, against the runner's own weeks, in words. What the coach or the runner said stands.

In this order: what was told; a race day of the squad list; the longest run of its week, well beyond the usual; clearly
faster than the usual; the weekday of the usual week; else easy. All numbers: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from statistics import median
from typing import Literal

from ferrule.model.fact import RunTold
from ferrule.model.house import House
from ferrule.model.squad import RunKind, Runner
from ferrule.model.words import DAYS
from ferrule.notice.race_curve import flat_km
from ferrule.squad.place import monday_of

BACK_DAYS = 28
LEAST_RUNS = 4
"""Other runs of the last four weeks that are needed before anything is called usual."""
LONG_TIMES = 1.3
"""A long run is the longest of its week and at least this many times the usual distance."""
KEY_FASTER = 0.06
"""A key run is at least this share faster than the usual pace, climb counted as flat."""


@dataclass(frozen=True, slots=True)
class KnownRun:
    """A run with the kind it counts as. kind "" when nothing tells. told: somebody said it, so that nothing was worked out."""

    run: RunTold
    kind: RunKind | Literal[""]
    because: str
    told: bool = False


def kinds(runs: Sequence[RunTold], runner: Runner | None, house: House) -> tuple[KnownRun, ...]:
    """Each run with its kind, in the order given. Runs after it do not change a run, save those of its own week."""
    return tuple(_kind(run, runs, runner, house) for run in runs)


def _kind(run: RunTold, runs: Sequence[RunTold], runner: Runner | None, house: House) -> KnownRun:
    if run.kind:
        return KnownRun(run, run.kind, "as told", told=True)
    if runner is not None and run.day in runner.races:
        return KnownRun(run, "race", "a race day of the squad list")
    week = [r for r in runs if monday_of(r.day) == monday_of(run.day)]
    back = [r for r in runs if r is not run and timedelta(0) <= run.day - r.day <= timedelta(days=BACK_DAYS)]
    if len(back) >= LEAST_RUNS:
        usual_km = median(r.distance_km for r in back)
        longest = all(r is run or r.distance_km < run.distance_km for r in week)
        if longest and run.distance_km >= LONG_TIMES * usual_km:
            return KnownRun(
                run, "long", f"longest of its week, {run.distance_km / usual_km:.1f} times the usual {usual_km:.1f} km"
            )
        faster = _faster(run, back, house)
        if faster is not None and faster >= KEY_FASTER:
            return KnownRun(run, "key", f"{faster:.0%} faster than the usual pace")
    planned = [r.kind for r in runner.runs if r.day == run.day.weekday()] if runner else []
    for kind in ("long", "key", "race", "easy"):
        if kind in planned:
            return KnownRun(run, kind, f"{DAYS[run.day.weekday()]} is {kind} in the usual week")
    if len(back) >= LEAST_RUNS:
        return KnownRun(run, "easy", "neither longer nor faster than usual")
    return KnownRun(run, "", f"fewer than {LEAST_RUNS} runs before it")


def _faster(run: RunTold, back: Sequence[RunTold], house: House) -> float | None:
    """Share by which the speed lies above the median one of the runs before; None when times are not known."""
    as_flat = house.value("climb-as-flat")
    speeds = [flat_km(r, as_flat) / r.minutes for r in back if r.minutes]
    if not run.minutes or len(speeds) < LEAST_RUNS:
        return None
    return flat_km(run, as_flat) / run.minutes / median(speeds) - 1
