"""The SQLite record: the behaviour of every record, and what is SQLite's own."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import create_engine

from ferrule.model.fact import Entry, Fact, PainTold, SessionTold
from ferrule.store.entry_suite import ARRIVED, EntrySuite
from ferrule.store.keeping_suite import KeepingSuite
from ferrule.store.migrations import MIGRATIONS, Migration
from ferrule.store.opening import open_record, pending_migrations
from ferrule.store.record import Record, RecordError
from ferrule.store.record_suite import NOW, RecordSuite
from ferrule.store.sample import MONDAY, sample_entries, sample_facts, sample_set, sample_week
from ferrule.store.sqlite_record import SqliteRecord
from ferrule.store.tables import metadata

Run = Callable[[str], list[tuple[object, ...]]]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "ferrule.db"


@pytest.fixture
def run(path: Path) -> Run:
    """Runs SQL on the file as somebody else's program would."""

    def execute(sql: str) -> list[tuple[object, ...]]:
        with closing(sqlite3.connect(path)) as connection, connection:
            return connection.execute(sql).fetchall()

    return execute


class TestSqliteRecord(RecordSuite, EntrySuite, KeepingSuite):
    """The shared suite on a file."""

    @pytest.fixture
    def opener(self, path: Path) -> Callable[[], Record]:
        return lambda: open_record(path)

    @pytest.fixture
    def fresh(self, tmp_path: Path) -> Callable[[], Record]:
        numbers = count()
        return lambda: open_record(tmp_path / f"fresh{next(numbers)}.db")


def filled(path: Path) -> None:
    with open_record(path) as record:
        record.send(sample_week(), "Coach A", NOW)
        record.clear("R09", "after birth", "midwife", MONDAY, NOW)
        record.add(sample_entries(), ARRIVED)


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE sent_week SET signed_by = 'X'",
        "DELETE FROM sent_week",
        "INSERT OR REPLACE INTO sent_week SELECT * FROM sent_week",
        "REPLACE INTO sent_week SELECT 'other', runner_id, monday, sequence, digest, format, content, signed_by,"
        " signed_at FROM sent_week",
        "INSERT INTO sent_week SELECT 'other', runner_id, monday, 5, digest, format, content, signed_by, signed_at"
        " FROM sent_week",
        "UPDATE clearance SET cleared_by = 'X'",
        "DELETE FROM clearance",
        "REPLACE INTO clearance SELECT * FROM clearance",
        "REPLACE INTO clearance SELECT 9, runner_id, reason, cleared_by, cleared_on, 'x' FROM clearance",
        "UPDATE entry SET runner_id = 'X'",
        "DELETE FROM entry WHERE number = 2",
        "REPLACE INTO entry SELECT * FROM entry",
        "REPLACE INTO entry SELECT number + 100, entry_id, runner_id, kind, performed_on, recorded_at, arrived_at, source,"
        " replaces, format, content, digest FROM entry",
    ],
)
def test_the_file_itself_refuses_to_change_what_was_kept(path: Path, run: Run, sql: str) -> None:
    filled(path)
    before = [run(f"SELECT * FROM {table}") for table in ("sent_week", "clearance", "entry")]
    with pytest.raises(sqlite3.IntegrityError, match="is never"):
        run(sql)
    assert [run(f"SELECT * FROM {table}") for table in ("sent_week", "clearance", "entry")] == before


@pytest.mark.parametrize(
    ("sql", "code"),
    [
        ("UPDATE sent_week SET content = CAST(replace(content, 'Step-up', 'Leap-up') AS BLOB)", "sent-week-altered"),
        ("UPDATE sent_week SET runner_id = 'R02'", "sent-week-altered"),
        (
            "UPDATE sent_week SET content = CAST('{}' AS BLOB), "
            "digest = '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a'",
            "sent-week-unreadable",
        ),
    ],
)
def test_a_copy_altered_behind_our_back_is_refused(path: Path, run: Run, sql: str, code: str) -> None:
    filled(path)
    run("DROP TRIGGER sent_week_no_update")
    run(sql)
    with open_record(path) as record:
        assert [f.code for f in record.altered()] == [code]
        with pytest.raises(RecordError) as caught:
            record.sent(MONDAY)
    assert caught.value.finding.code == code
    assert caught.value.finding.level == "error"


@pytest.mark.parametrize(
    ("sql", "code"),
    [
        ("UPDATE entry SET content = CAST(replace(content, 'slept', 'crept') AS BLOB)", "entry-altered"),
        ("UPDATE entry SET runner_id = 'R02' WHERE kind = 'decided'", "entry-altered"),
        ("UPDATE entry SET kind = 'asked' WHERE kind = 'decided'", "entry-unreadable"),
        (
            "UPDATE entry SET digest = '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a', "
            "content = CAST('{}' AS BLOB) WHERE kind = 'decided'",
            "entry-unreadable",
        ),
    ],
)
def test_an_entry_altered_behind_our_back_is_refused(path: Path, run: Run, sql: str, code: str) -> None:
    filled(path)
    run("DROP TRIGGER entry_no_update")
    run(sql)
    with open_record(path) as record:
        assert [f.code for f in record.altered()] == [code]
        with pytest.raises(RecordError) as caught:
            record.entries("R02" if "R02" in sql else "R01")
    assert caught.value.finding.code == code


def schema(path: Path) -> dict[str, object]:
    """What the file is made of, however the statements were written."""
    with closing(sqlite3.connect(path)) as connection:

        def rows(sql: str) -> list[tuple[object, ...]]:
            return connection.execute(sql).fetchall()

        tables = [str(r[0]) for r in rows("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")]
        checks = {t: str(rows(f"SELECT sql FROM sqlite_master WHERE name = '{t}'")[0][0]) for t in tables}
        return {
            "tables": sorted(rows("SELECT name, strict, wr FROM pragma_table_list WHERE schema = 'main'")),
            "columns": {t: rows(f"SELECT * FROM pragma_table_xinfo('{t}')") for t in tables},
            "unique": {
                t: sorted(
                    tuple(str(c[0]) for c in rows(f"SELECT name FROM pragma_index_info('{name}')"))
                    for _, name, unique, *_ in rows(f"SELECT * FROM pragma_index_list('{t}')")
                    if unique
                )
                for t in tables
            },
            "checks": {t: sorted(part.split(")")[0] for part in sql.split("CHECK (")[1:]) for t, sql in checks.items()},
        }


def test_the_migrated_schema_is_the_one_the_queries_see(path: Path, tmp_path: Path) -> None:
    open_record(path).close()
    engine = create_engine(f"sqlite:///{tmp_path / 'fresh.db'}")
    metadata.create_all(engine)
    engine.dispose()
    assert schema(path) == schema(tmp_path / "fresh.db")


def test_a_file_brought_up_step_by_step_equals_a_new_one(path: Path, tmp_path: Path, run: Run) -> None:
    for upto in range(1, len(MIGRATIONS) + 1):
        SqliteRecord.open(path, MIGRATIONS[:upto]).close()
    open_record(tmp_path / "new.db").close()
    everything = "SELECT type, name, sql FROM sqlite_master ORDER BY name"
    with closing(sqlite3.connect(tmp_path / "new.db")) as new:
        assert run(everything) == new.execute(everything).fetchall()


def test_the_steps_can_be_listed_before_they_run(path: Path, run: Run) -> None:
    names = tuple(step.name for step in MIGRATIONS)
    assert pending_migrations(path) == names
    assert not path.exists()
    SqliteRecord.open(path, MIGRATIONS[:1]).close()
    before = path.read_bytes()
    assert pending_migrations(path) == names[1:]
    assert path.read_bytes() == before
    open_record(path).close()
    assert pending_migrations(path) == ()
    assert [r[0] for r in run("SELECT name FROM migration ORDER BY position")] == list(names)


def test_a_step_that_fails_leaves_the_file_as_it_was(path: Path, run: Run) -> None:
    filled(path)
    before = run("SELECT type, name, sql FROM sqlite_master ORDER BY name"), run("SELECT * FROM sent_week")
    good = Migration("0003 good", ("CREATE TABLE more (a TEXT) STRICT",))
    bad = Migration("0004 bad", ("CREATE TABLE even_more (a TEXT) STRICT", "INSERT INTO nowhere VALUES (1)"))
    with pytest.raises(RecordError) as caught:
        SqliteRecord.open(path, (*MIGRATIONS, good, bad))
    assert "nowhere" in caught.value.finding.what
    assert (run("SELECT type, name, sql FROM sqlite_master ORDER BY name"), run("SELECT * FROM sent_week")) == before


def test_a_file_of_a_newer_version_is_left_alone(path: Path) -> None:
    newer = (*MIGRATIONS, Migration("9999 from the future", ()))
    SqliteRecord.open(path, newer).close()
    for ask in (open_record, pending_migrations):
        with pytest.raises(RecordError) as caught:
            ask(path)
        assert caught.value.finding.code == "record-newer"
        assert "9999 from the future" in caught.value.finding.what


def test_what_is_no_record_is_a_finding(tmp_path: Path) -> None:
    text = tmp_path / "notes.db"
    text.write_text("my notes " * 200)
    for wrong in (text, tmp_path, tmp_path / "no folder" / "ferrule.db"):
        with pytest.raises(RecordError) as caught:
            open_record(wrong)
        assert caught.value.finding.code == "record-unopened"
    assert text.read_text() == "my notes " * 200
    with pytest.raises(RecordError):
        pending_migrations(text)


def test_a_locked_file_is_a_finding_and_keeps_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        "ferrule.store.sqlite_record.PRAGMAS", ("PRAGMA busy_timeout = 20", "PRAGMA journal_mode = WAL")
    )
    with open_record(path) as record, closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(RecordError) as caught:
            record.send(sample_week(), "Coach A", NOW)
        assert caught.value.finding.code == "record-unwritten"
        assert record.sent(MONDAY) == ()
        other.execute("ROLLBACK")
        assert record.send(sample_week(), "Coach A", NOW).sequence == 1


def test_the_settings_of_the_file(path: Path, run: Run) -> None:
    with open_record(path) as record:
        assert isinstance(record, SqliteRecord)
        with record._engine.connect() as connection:
            told = {
                name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
            }
    assert told == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 5000}
    assert all(r[0] == 1 for r in run("SELECT strict FROM pragma_table_list WHERE name IN ('sent_week', 'clearance')"))


def test_the_database_library_is_not_imported_before_a_record_is_opened() -> None:
    code = "import ferrule.store.record, sys; print('sqlalchemy' in sys.modules, 'msgspec' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.split() == ["False", "False"]


def test_a_step_that_is_killed_half_way_leaves_the_file_as_it_was(path: Path, run: Run) -> None:
    SqliteRecord.open(path, MIGRATIONS[:2]).close()
    with closing(sqlite3.connect(path)) as connection:
        before = list(connection.iterdump())
    code = f"""
import os, pathlib
from ferrule.store import sqlite_record
from ferrule.store.migrations import MIGRATIONS
seen = 0
def killing(connection, cursor, statement, *_):
    global seen
    seen += "CREATE TRIGGER entry_once" in statement
    if seen and "INSERT INTO migration" in statement:
        os._exit(9)
sqlite_record.event.listen(sqlite_record.Engine, "before_cursor_execute", killing)
sqlite_record.SqliteRecord.open(pathlib.Path({str(path)!r}), MIGRATIONS)
"""
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 9
    assert pending_migrations(path) == tuple(step.name for step in MIGRATIONS[2:])
    with closing(sqlite3.connect(path)) as connection:
        assert list(connection.iterdump()) == before
    open_record(path).close()
    assert pending_migrations(path) == ()
    assert run("SELECT count(*) FROM entry") == [(0,)]


def test_nothing_of_an_erased_runner_is_left_in_the_bytes(path: Path, tmp_path: Path) -> None:
    """Id, name and words, while another part of the program has the file open: file, log, index of the log, journal."""
    secrets = [b"Zz-runner-77", b"Quillfeather", b"xylophone ache", b"zebra bus"]
    week = replace(sample_week("Zz-runner-77"), runner_name="Quillfeather")
    pain, told = sample_facts("Zz-runner-77")[2:4]
    assert isinstance(pain, PainTold)
    assert isinstance(told, SessionTold)
    words: tuple[Fact, ...] = (replace(pain, words="xylophone ache"), replace(told, words="zebra bus " * 900))
    with open_record(path) as other, open_record(path) as record:
        for n in range(40):  # so that pages of the runner lie between those of others
            record.send(replace(week, monday=MONDAY + timedelta(days=7 * n)), "Coach A", NOW)
            record.send(sample_week("R02", monday=MONDAY + timedelta(days=7 * n)), "Coach A", NOW)
            facts = [Entry(f"z{n}-{i}", "Zz-runner-77", NOW, "page", fact) for i, fact in enumerate(words)]
            record.add([*facts, sample_set(n, "R02")], ARRIVED)
        record.clear("Zz-runner-77", "pregnant", "midwife", MONDAY, NOW)
        assert other.runners() == ("R02", "Zz-runner-77")
        assert all(any(secret in file.read_bytes() for file in tmp_path.iterdir()) for secret in secrets)
        erased = record.erase("Zz-runner-77", "Coach A", NOW)
        assert (erased.weeks, erased.clearances, erased.entries) == (40, 1, 80)
        found = {(file.name, s) for file in tmp_path.iterdir() for s in secrets if s in file.read_bytes()}
        assert found == set()
        assert other.runners() == ("R02",)
        assert len(other.entries()) == 40
    assert not {(file.name, s) for file in tmp_path.iterdir() for s in secrets if s in file.read_bytes()}


def test_an_erasure_that_another_program_holds_up_is_said(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    filled(path)
    monkeypatch.setattr(
        "ferrule.store.sqlite_record.PRAGMAS", ("PRAGMA busy_timeout = 20", "PRAGMA journal_mode = WAL")
    )
    with open_record(path) as record:
        with closing(sqlite3.connect(path, isolation_level=None)) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT * FROM entry").fetchone()
            with pytest.raises(RecordError) as caught:
                record.erase("R01", "Coach A", NOW)
            assert caught.value.finding.code == "erasure-unfinished"
        assert record.erase("R01", "Coach A", NOW).entries == 0
        assert b"slept well" not in path.read_bytes() + path.with_name("ferrule.db-wal").read_bytes()


@pytest.mark.parametrize("table", ["sent_week", "clearance", "entry", "erasure"])
def test_the_guard_opens_for_nobody_else(path: Path, run: Run, table: str) -> None:
    filled(path)
    with open_record(path) as record:
        record.erase("R09", "Coach A", NOW)
        record.clear("R09", "after birth", "midwife", MONDAY, NOW)
    assert run("SELECT * FROM erasing") == []
    with pytest.raises(sqlite3.IntegrityError, match="is never deleted"):
        run(f"DELETE FROM {table}")
