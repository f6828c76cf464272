"""Time of the body model: every stored pose cold, every demand with its loading places, one figure."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from pathlib import Path

from ferrule.body.demand import demand_of
from ferrule.body.figure import both_ends, figure
from ferrule.body.pose_reader import read_movement
from ferrule.body.statics import NoSuchPosture, solve
from ferrule.model.words import PLACES

POSES = Path(__file__).parents[1] / "golden" / "body" / "poses.toml"


def _seconds(work: Callable[[], object], times: int = 5) -> float:
    """The best of several runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def run() -> list[tuple[str, float, str]]:
    """Rows of (what, value, unit)."""
    text = POSES.read_text(encoding="utf-8")
    start = time.perf_counter()
    read = [read_movement(table, name, also=("family",))[0] for name, table in tomllib.loads(text).items()]
    movements = [m for m in read if m is not None]
    for movement in movements:
        solve(movement)
    cold = time.perf_counter() - start

    def demands() -> int:
        found = 0
        for movement in movements:
            for place in (None, *PLACES):
                try:
                    demand_of(movement, place=place)
                    found += 1
                except NoSuchPosture:
                    continue
        return found

    count = demands()
    squat = next(m for m in movements if m.demand == "hip+knee.lead" and m.other is not None)
    return [
        (f"read and solve {len(movements)} poses, cold", cold * 1e3, "ms"),
        ("solve one pose (squat)", _seconds(lambda: solve(squat), 20) * 1e3, "ms"),
        (f"{count} demands, every place a load can be", _seconds(demands, 2), "s"),
        ("draw one figure", _seconds(lambda: figure(squat), 20) * 1e3, "ms"),
        ("one figure, size", len(figure(squat).svg.encode()) / 1024, "kB"),
        ("both ends, size", len(both_ends(squat).svg.encode()) / 1024, "kB"),
    ]
