"""The list of who needs a word, from a warm store: reading, deciding, and how both grow with squad and record.

Squads of invented runners who log every set. `warm`: the file is open and has been read once. There is no peer: beside it
stands the same record only read.
"""

from __future__ import annotations

import gc
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ferrule.cli.due import entries_for, listed, sent_weeks
from ferrule.model.house import House
from ferrule.notice.due import due
from ferrule.notice.sample import MONDAY, season
from ferrule.store.opening import open_record

SIZES = ((24, 4), (24, 8), (24, 16), (48, 8), (96, 8))
"""Runners, weeks."""
TURNS = 7
NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)


def run() -> list[tuple[str, float, str]]:
    """Medians over turns."""
    return [row for runners, weeks in SIZES for row in _one(runners, weeks)]


def _one(runners: int, weeks: int) -> list[tuple[str, float, str]]:
    squad, copies, told = season(runners, weeks)
    today = MONDAY + timedelta(weeks=weeks)
    gc.collect()
    gc.freeze()  # a command holds no season it made itself: it is not to be looked through for cycles
    with tempfile.TemporaryDirectory() as folder, open_record(Path(folder) / "ferrule.db") as record:
        record.send_all(copies, "Coach A", NOW)
        record.add(told, NOW)
        entries, sent = entries_for(record, House(), today), sent_weeks(record, House(), today)
        rows = listed(record, squad, House(), today)
        whole = _median(lambda: listed(record, squad, House(), today))
        reading = _median(lambda: (entries_for(record, House(), today), sent_weeks(record, House(), today)))
    deciding = _median(lambda: due(squad, sent, entries, House(), today))
    name = f"{runners} runners, {weeks} weeks, {len(told)} entries"
    return [
        (f"{name}: on the list", len(rows), "rows"),
        (f"{name}: the list from a warm store", whole, "ms processor"),
        (f"{name}: of it reading the record", reading, "ms processor"),
        (f"{name}: of it deciding", deciding, "ms processor"),
        (f"{name}: for each of the {len(entries)} entries read", 1000 * whole / len(entries), "us"),
    ]


def _median(ask: Callable[[], object]) -> float:
    """Milliseconds of processor time."""
    taken = []
    for _ in range(TURNS):
        start = time.process_time()
        ask()
        taken.append(time.process_time() - start)
    return 1000 * statistics.median(taken)
