"""How long the whole job takes on the invented squad: `ferrule demo` as its own process, warm."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

TURNS = 3


def run() -> list[tuple[str, float, str]]:
    """Median wall time in s over a few turns, the first one not counted (the aim is below 15 s on two cores)."""
    turns = []
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(TURNS + 1):
            start = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "ferrule", "demo", "--out", str(Path(folder) / "demo")],
                check=True,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
            turns.append(time.perf_counter() - start)
    return [
        ("ferrule demo, 24 runners, median", statistics.median(turns[1:]), "s"),
        ("ferrule demo, 24 runners, worst", max(turns[1:]), "s"),
    ]
