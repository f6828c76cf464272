"""Sending the weeks of a squad of 24: our record beside bare sqlite3 with the same settings, bytes and transactions."""

from __future__ import annotations

import sqlite3
import statistics
import tempfile
import time
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from ferrule.model.fitted import FittedWeek
from ferrule.store.copies import digest_of, to_json
from ferrule.store.migrations import MIGRATIONS
from ferrule.store.opening import open_record
from ferrule.store.sample import sample_week
from ferrule.store.sqlite_record import PRAGMAS

RUNNERS = 24
TURNS = 9
NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)


def run() -> list[tuple[str, float, str]]:
    """Medians over turns taken about: opening is left out, one transaction a week is in."""
    weeks = [sample_week(f"R{n:02d}", lines=20) for n in range(1, RUNNERS + 1)]
    contents = [to_json(week) for week in weeks]
    ours, together, bare = [], [], []
    with tempfile.TemporaryDirectory() as folder:
        for turn in range(TURNS):
            ours.append(_ours(Path(folder) / f"ours{turn}.db", weeks))
            together.append(_together(Path(folder) / f"together{turn}.db", weeks))
            bare.append(_bare(Path(folder) / f"bare{turn}.db", contents))
    size_kb = statistics.mean(len(c) for c in contents) / 1000
    mine, at_once, peer = (statistics.median(times) * 1000 for times in (ours, together, bare))
    return [
        ("a week's JSON", size_kb, "kB"),
        (f"send {RUNNERS} weeks, one transaction each", mine, "ms"),
        (f"send {RUNNERS} weeks at once", at_once, "ms"),
        (f"bare sqlite3, {RUNNERS} inserts, one transaction each", peer, "ms"),
        ("send beside bare sqlite3", mine / peer, "x peer"),
    ]


def _ours(path: Path, weeks: list[FittedWeek]) -> float:
    with open_record(path) as record:
        start = time.perf_counter()
        for week in weeks:
            record.send(week, "Coach A", NOW)
        return time.perf_counter() - start


def _together(path: Path, weeks: list[FittedWeek]) -> float:
    with open_record(path) as record:
        start = time.perf_counter()
        record.send_all(weeks, "Coach A", NOW)
        return time.perf_counter() - start


def _bare(path: Path, contents: list[bytes]) -> float:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in (*PRAGMAS, *MIGRATIONS[0].statements):
            connection.execute(statement)
        start = time.perf_counter()
        for n, content in enumerate(contents):
            row = (f"id{n}", f"R{n:02d}", "2026-01-19", 1, digest_of(content), 1, content, "Coach A", NOW.isoformat())
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO sent_week VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
            connection.execute("COMMIT")
        return time.perf_counter() - start
