"""One sync of a phone file: read against its sent week, asked about, kept in the record; beside bare sqlite3 and json.
And a table of many rows, each held against the line of its sent week; beside bare sqlite3 and csv."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import UUID

from ferrule.cli.log import handed_over, keep
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import Runner, Squad
from ferrule.store.opening import open_record
from ferrule.store.record import Record
from ferrule.store.sample import MONDAY, sample_week

NOW = datetime(2026, 1, 17, 9, 30, tzinfo=UTC)
LINES, ROUNDS, WEEKS = 20, 4, 26
TURNS = 9
ROWS, RUNNERS, DAYS = 100_000, 24, (0, 2, 4)


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
        *_tables(library),
    ]


def _tables(library: Library) -> list[tuple[str, float, str]]:
    """Processor time of one table of all rows, of a tenth of them, and of the whole again."""
    variants = [v for v in library.variants.values() if v.dose_kind == "reps" and set(v.loading) - {"band"}][:7]
    people = tuple(
        Runner(f"R{n:02d}", f"Runner {n}", "some", (), (), (), None, Span("squad.csv", n + 2)) for n in range(RUNNERS)
    )
    weeks = -(-ROWS // (RUNNERS * len(DAYS) * len(variants) * 3))
    mondays = [MONDAY + timedelta(weeks=w) for w in range(weeks)]
    copies = [_week_of(p.id, monday, [v.id for v in variants]) for monday in mondays for p in people]
    rows = [
        (p.id, monday + timedelta(days=d), v.name, n, 5 + (n + d) % 4, 12.5, 2 if n == 3 else "")
        for monday in mondays for p in people for d in DAYS for v in variants for n in (1, 2, 3)
    ][:ROWS]  # fmt: skip
    squad, now = Squad("squad.csv", people), datetime.combine(mondays[-1] + timedelta(weeks=1), NOW.timetz())
    taken = []
    with tempfile.TemporaryDirectory() as folder:
        for many in (ROWS // 10, ROWS):
            with open_record(Path(folder) / f"{many}.db") as record:
                record.send_all(copies, "Coach", NOW)
                data = _csv(rows[:many])
                for _ in range(2):
                    began = time.process_time()
                    keep("t.csv", data, handed_over(squad, library, record, now), record, now)
                    taken.append(time.process_time() - began)
        began = time.process_time()
        _bare_table(Path(folder) / "bare.db", data)
        bare = time.process_time() - began
    few, _, all_rows, again = taken
    return [
        (f"a table of {ROWS:,} rows, processor time", all_rows, "s"),
        ("the same again", again, "s"),
        (f"a row of {ROWS:,} beside one of {ROWS // 10:,}", all_rows / few / 10, "ratio"),
        ("bare csv and sqlite3, one table, processor time", bare, "s"),
        ("a table", all_rows / bare, "x peer"),
    ]


def _week_of(runner_id: str, monday: date, variant_ids: list[str]) -> FittedWeek:
    """A sent week with a session of these exercises on each of DAYS."""
    week = sample_week(runner_id, monday=monday, lines=len(variant_ids))
    session = week.sessions[0]
    block = session.blocks[0]
    items = tuple(replace(i, variant_id=v) for i, v in zip(block.items, variant_ids, strict=True))
    days = [(f"s{d}", monday + timedelta(days=d)) for d in DAYS]
    return replace(
        week,
        sessions=tuple(replace(session, key=k, day=day, blocks=(replace(block, items=items),)) for k, day in days),
    )


def _csv(rows: Sequence[tuple[object, ...]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["runner", "date", "exercise", "set", "reps", "kg", "RIR"])
    writer.writerows(rows)
    return text.getvalue().encode()


def _bare_table(path: Path, data: bytes) -> None:
    """The least that could be done: each row of the CSV a row of a table, in one durable transaction."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("CREATE TABLE entry (id INTEGER PRIMARY KEY, content TEXT NOT NULL) STRICT")
        with connection:
            rows = ((json.dumps(cells),) for cells in csv.DictReader(io.StringIO(data.decode())))
            connection.executemany("INSERT INTO entry (content) VALUES (?)", rows)


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
