"""How long `ferrule --help` takes beside an empty Python: both in one run, turn about, medians."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

TURNS = 21


def seconds(command: list[str]) -> float:
    """Wall time of one run of `command`, s."""
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def run() -> list[tuple[str, float, str]]:
    """Medians of both in ms, and their ratio (the aim is below 3)."""
    empty, ours = [], []
    for _ in range(TURNS):
        empty.append(seconds([sys.executable, "-c", "pass"]))
        ours.append(seconds([sys.executable, "-m", "ferrule", "--help"]))
    base, help_time = statistics.median(empty), statistics.median(ours)
    return [
        ("python -c pass, median", base * 1000, "ms"),
        ("ferrule --help, median", help_time * 1000, "ms"),
        ("ferrule --help against python -c pass", help_time / base, "ratio"),
    ]
