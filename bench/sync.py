"""One sync of a phone file: read against its sent week, asked about, kept in the record; beside bare sqlite3 and json."""

from __future__ import annotations

import json
import sqlite3
import statistics
import tempfile
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

from ferrule.cli.log import handed_over, keep
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.squad import Runner, Squad
from ferrule.store.opening import open_record
from ferrule.store.record import Record
from ferrule.store.sample import MONDAY, sample_week

NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)
LINES, ROUNDS, WEEKS = 20, 4, 26
TURNS = 9


def run() -> list[tuple[str, float, str]]:
    """Median of a first sync, of one after half a year of them, and of handing over again."""
    library, _ = load_library()
    squad = Squad("squad.csv", (Runner("R01", "Arla T", "some", (), (), (), None, Span("squad.csv", 2)),))
    first: list[float] = []
    late: list[float] = []
    again: list[float] = []
    busy: list[float] = []
    bare: list[float] = []
    with tempfile.TemporaryDirectory() as folder:
        for turn in range(TURNS):
            data = b""
            with open_record(Path(folder) / f"{turn}.db") as record:
                for week in range(WEEKS):
                    monday, moment = MONDAY + timedelta(weeks=week), NOW + timedelta(weeks=week)
                    sent = record.send(sample_week("R01", monday=monday, lines=LINES), "Coach", moment)
                    data = phone_file(sent.copy_id, week)
                    began = time.process_time()
                    spent = _sync(data, squad, library, record, moment)
                    busy += [time.process_time() - began] if week == WEEKS - 1 else []
                    first += [spent] if week == 0 else []
                    late += [spent] if week == WEEKS - 1 else []
                again.append(_sync(data, squad, library, record, NOW + timedelta(weeks=WEEKS)))
            bare.append(_bare(Path(folder) / f"bare{turn}.db", data))
    sets = LINES * ROUNDS
    return [
        (f"first phone file of a runner, {sets} sets", statistics.median(first) * 1e3, "ms"),
        (f"the same after {WEEKS - 1} weeks of them", statistics.median(late) * 1e3, "ms"),
        ("processor time of that", statistics.median(busy) * 1e3, "ms"),
        ("the same handed over again", statistics.median(again) * 1e3, "ms"),
        ("bare json and sqlite3, one table", statistics.median(bare) * 1e3, "ms"),
        ("after half a year", statistics.median(late) / statistics.median(bare), "x peer"),
    ]


def phone_file(copy_id: str, week: int) -> bytes:
    """A phone file with every set of a week: a tap a round, effort after the last."""
    at = (NOW + timedelta(weeks=week, days=2)).isoformat()
    entries = [
        {"id": str(UUID(int=(week * 1000 + i * ROUNDS + n) << 80 | 7 << 76 | 2 << 62)), "at": at, "kind": "set", "session": "c1/s1",
         "item": f"c1/s1/b1/i{i}", "n": n + 1, "day": (MONDAY + timedelta(weeks=week)).isoformat(),
         **({"outcome": "counted", "done": 6, "reserve": 2} if n == ROUNDS - 1 else {"outcome": "tapped"})}
        for i in range(LINES) for n in range(ROUNDS)
    ]  # fmt: skip
    head = {"ferrule": 1, "copy": copy_id, "runner": "R01", "made": at}
    return json.dumps({**head, "entries": entries, "end": len(entries)}).encode()


def _sync(data: bytes, squad: Squad, library: Library, record: Record, now: datetime) -> float:
    """Seconds from the bytes of a file to its entries kept."""
    start = time.perf_counter()
    keep("p.json", data, handed_over(squad, library, record, now), record, now)
    return time.perf_counter() - start


def _bare(path: Path, data: bytes) -> float:
    """The least that could be done: read the JSON, write a row an entry in one transaction, durable."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("CREATE TABLE entry (id TEXT PRIMARY KEY, content TEXT NOT NULL) STRICT")

        start = time.perf_counter()
        with connection:
            rows = [(e["id"], json.dumps(e)) for e in json.loads(data)["entries"]]
            connection.executemany("INSERT OR IGNORE INTO entry VALUES (?, ?)", rows)
        return time.perf_counter() - start
