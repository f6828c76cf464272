"""Time of the body model: the whole library in a new process, every stored pose cold, every demand, one figure."""

from __future__ import annotations

import json
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

from ferrule.body.demand import demand_of
from ferrule.body.figure import both_ends, figure
from ferrule.body.moving import moving
from ferrule.body.pose_reader import read_movement
from ferrule.body.statics import NoSuchPosture, solve
from ferrule.model.words import PLACES

WHOLE = """
import json, time
start = time.perf_counter()
from ferrule.library.build import build
from ferrule.library.computed import built_in_texts
from ferrule.body.figure import both_ends
from ferrule.body.moving import moving
imported = time.perf_counter()
variants = [v for v in build(built_in_texts()).built.variants if v.movement is not None]
demanded = time.perf_counter()
for v in variants:
    both_ends(v.movement, load_place=v.loading[0] if v.loading else None, title=v.name)
drawn = time.perf_counter()
for v in variants:
    moving(v.movement, load_place=v.loading[0] if v.loading else None, title=v.name, rep_s=v.rep_s)
moved = time.perf_counter()
print(json.dumps([len(variants), imported - start, demanded - imported, drawn - demanded, moved - drawn]))
"""
"""Demand and figures of the whole library worked out from its texts, nothing stored, in a process of its own."""

POSES = Path(__file__).parents[1] / "golden" / "body" / "poses.toml"


def _seconds(work: Callable[[], object], times: int = 5) -> float:
    """The best of several runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def _whole() -> list[tuple[str, float, str]]:
    best: list[float] = []
    for _ in range(3):
        done = subprocess.run([sys.executable, "-c", WHOLE], capture_output=True, check=True, text=True)
        found = json.loads(done.stdout)
        if not best or sum(found[1:4]) < sum(best[1:4]):
            best = found
    count, imported, demanded, drawn, moved = best
    return [
        (f"whole library ({count:.0f}), new process: demand and figures", imported + demanded + drawn, "s"),
        ("  of it: imports", imported, "s"),
        ("  of it: read and demand", demanded, "s"),
        ("  of it: both ends drawn", drawn, "s"),
        ("moving figures of the whole library", moved, "s"),
    ]


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
        *_whole(),
        (f"read and solve {len(movements)} poses, cold", cold * 1e3, "ms"),
        ("solve one pose (squat)", _seconds(lambda: solve(squat), 20) * 1e3, "ms"),
        (f"{count} demands, every place a load can be", _seconds(demands, 2), "s"),
        ("draw one figure", _seconds(lambda: figure(squat), 20) * 1e3, "ms"),
        ("one figure, size", len(figure(squat).svg.encode()) / 1024, "kB"),
        ("both ends, size", len(both_ends(squat).svg.encode()) / 1024, "kB"),
        ("draw one moving figure", _seconds(lambda: moving(squat), 20) * 1e3, "ms"),
        ("moving figure, size", len(moving(squat).svg.encode()) / 1024, "kB"),
    ]
