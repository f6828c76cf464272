"""The record beside bare sqlite3 with the same tables, triggers, settings, bytes and transactions: sending the weeks of a
squad of 24, and adding 100,000 logged sets."""

from __future__ import annotations

import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek
from ferrule.store.copies import digest_of, to_json
from ferrule.store.export import from_json_file
from ferrule.store.export import to_json as export_json
from ferrule.store.migrations import MIGRATIONS
from ferrule.store.opening import open_record
from ferrule.store.sample import sample_set, sample_week
from ferrule.store.sqlite_entries import moment_text, row_of
from ferrule.store.sqlite_record import PRAGMAS
from ferrule.store.tables import entry as entry_table

RUNNERS = 24
TURNS = 9
SETS = 100_000
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
        entries = _entries(Path(folder))
    size_kb = statistics.mean(len(c) for c in contents) / 1000
    mine, at_once, peer = (statistics.median(times) * 1000 for times in (ours, together, bare))
    return [
        ("a week's JSON", size_kb, "kB"),
        (f"send {RUNNERS} weeks, one transaction each", mine, "ms"),
        (f"send {RUNNERS} weeks at once", at_once, "ms"),
        (f"bare sqlite3, {RUNNERS} inserts, one transaction each", peer, "ms"),
        ("send beside bare sqlite3", mine / peer, "x peer"),
        *entries,
    ]


def _entries(folder: Path) -> list[tuple[str, float, str]]:
    """Adding, reading and taking in many entries; medians where a step is short."""
    moments = [NOW - timedelta(seconds=SETS - n) for n in range(SETS)]
    sets = [sample_set(n // RUNNERS, f"R{n % RUNNERS:02d}", recorded_at=moments[n]) for n in range(SETS)]
    rows = [tuple(row_of(entry, moment_text(NOW)).values()) for entry in sets]
    few = min(_added(folder / f"few{turn}.db", sets[: SETS // 8]) for turn in range(3))
    with open_record(folder / "many.db") as record:
        begun = time.process_time()
        adding = _timed(lambda: record.add(sets, NOW))
        busy = time.process_time() - begun
        again = _timed(lambda: record.add(sets, NOW))
        reading = _timed(record.entries)
        one = statistics.median(_timed(lambda: record.entries("R05")) for _ in range(5))
        phone = statistics.median(
            _timed(lambda turn=turn: record.add([sample_set(50_000 + turn * 60 + n) for n in range(60)], NOW))  # type: ignore[misc]
            for turn in range(9)
        )
        data = export_json(record.everything())
    size_kb = (folder / "many.db").stat().st_size / 1000  # its log was written back when it was let go of
    with open_record(folder / "taken.db") as record:
        taking = _timed(lambda: record.take(from_json_file(data, "record.json")[0]))
    with closing(_with_tables(folder / "bare.db")) as connection:
        begun = time.process_time()
        bare = _timed(lambda: _inserted(connection, rows))
        bare_busy = time.process_time() - begun
    return [
        (f"add {SETS:,} sets", adding, "s"),
        (f"bare sqlite3, {SETS:,} inserts, encoded before", bare, "s"),
        (f"add {SETS:,} sets, processor time", busy, "s"),
        ("bare sqlite3, processor time", bare_busy, "s"),
        ("add beside bare sqlite3, processor time", busy / bare_busy, "x peer"),
        (f"processor time a set at {SETS:,} beside {SETS // 8:,}", busy / SETS / (few / (SETS // 8)), "ratio"),
        ("the same again: all known", again, "s"),
        ("a set in the file", size_kb / (SETS + 9 * 60), "kB"),
        ("read all", reading, "s"),
        ("read one runner of 24", one * 1000, "ms"),
        ("add one phone file of 60 entries to them", phone * 1000, "ms"),
        ("take an export in JSON, read and checked", taking, "s"),
    ]


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _added(path: Path, sets: list[Entry]) -> float:
    """Processor time of adding to a new record."""
    with open_record(path) as record:
        begun = time.process_time()
        record.add(sets, NOW)
        return time.process_time() - begun


def _inserted(connection: sqlite3.Connection, rows: list[tuple[object, ...]]) -> None:
    connection.execute("BEGIN IMMEDIATE")
    names = ", ".join(column.name for column in entry_table.columns if column.name != "number")
    connection.executemany(f"INSERT INTO entry ({names}) VALUES ({', '.join('?' * len(rows[0]))})", rows)
    connection.execute("COMMIT")


def _with_tables(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None)
    for statement in (*PRAGMAS, *(statement for step in MIGRATIONS for statement in step.statements)):
        connection.execute(statement)
    return connection


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
    with closing(_with_tables(path)) as connection:
        start = time.perf_counter()
        for n, content in enumerate(contents):
            row = (f"id{n}", f"R{n:02d}", "2026-01-19", 1, digest_of(content), 1, content, "Coach A", NOW.isoformat())
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO sent_week VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
            connection.execute("COMMIT")
        return time.perf_counter() - start
