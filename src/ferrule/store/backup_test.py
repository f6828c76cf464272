"""Backups made while the record is in use, and put back."""

from __future__ import annotations

import sqlite3
import threading
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from ferrule.store.backup import back_up, restore
from ferrule.store.entry_suite import ARRIVED
from ferrule.store.keeping_suite import filled
from ferrule.store.kept import Kept
from ferrule.store.migrations import MIGRATIONS, Migration
from ferrule.store.opening import open_record
from ferrule.store.record import RecordError
from ferrule.store.sample import MONDAY, sample_entries, sample_set, sample_week
from ferrule.store.sqlite_record import SqliteRecord


@pytest.fixture
def path(tmp_path: Path) -> Path:
    (tmp_path / "w").mkdir()
    with open_record(tmp_path / "w" / "ferrule.db") as record:
        filled(record)
    return tmp_path / "w" / "ferrule.db"


def everything(path: Path) -> Kept:
    with open_record(path) as record:
        assert record.altered() == ()
        return record.everything()


def refused(code: str, path: Path, backup: Path) -> str:
    before = path.read_bytes() if path.exists() else b""
    with pytest.raises(RecordError) as caught:
        restore(path, backup, ARRIVED)
    assert caught.value.finding.code == code
    assert (path.read_bytes() if path.exists() else b"") == before
    assert {p.name for p in path.parent.iterdir()} <= {"ferrule.db", "ferrule.db-wal", "ferrule.db-shm"}
    return caught.value.finding.what


def test_a_backup_is_one_file_that_holds_everything(path: Path, tmp_path: Path) -> None:
    kept = everything(path)
    assert back_up(path, tmp_path / "copy.db") == kept.count
    assert sorted(p.name for p in tmp_path.iterdir()) == ["copy.db", "w"]
    assert everything(tmp_path / "copy.db") == kept


def test_a_backup_while_others_write_is_one_moment(path: Path, tmp_path: Path) -> None:
    """A writer adds batches of 25 all the while: each copy holds whole batches, and no later one holds fewer."""
    stop, batches = threading.Event(), 0

    def write() -> None:
        nonlocal batches
        with open_record(path) as record:
            while not stop.is_set() and batches < 400:
                record.add([sample_set(batches * 25 + n, "R05") for n in range(25)], ARRIVED)
                batches += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        seen = []
        for n in range(8):
            back_up(path, tmp_path / f"{n}.db")
            with open_record(tmp_path / f"{n}.db") as record:
                assert record.altered() == ()
                seen.append(len(record.entries("R05")))
    finally:
        stop.set()
        writer.join()
    assert all(count % 25 == 0 for count in seen)
    assert seen == sorted(seen)
    assert seen[-1] > seen[0]
    assert len(open_record(path).entries("R05")) == batches * 25


def test_a_backup_takes_no_other_files_place(path: Path, tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    for source, target, code in (
        (path, tmp_path / "mine.txt", "backup-exists"),
        (tmp_path / "none.db", tmp_path / "new.db", "record-missing"),
        (path, tmp_path / "no folder" / "new.db", "record-unwritten"),
    ):
        with pytest.raises(RecordError) as caught:
            back_up(source, target)
        assert caught.value.finding.code == code
    assert (tmp_path / "mine.txt").read_text() == "mine"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["mine.txt", "w"]


def test_restoring_gives_back_what_was_lost(path: Path, tmp_path: Path) -> None:
    kept = everything(path)
    back_up(path, tmp_path / "copy.db")
    for part in list(path.parent.iterdir()):
        part.unlink()
    done = restore(path, tmp_path / "copy.db", ARRIVED)
    assert (done.rows, done.aside, done.erasures) == (kept.count, None, 0)
    assert everything(path) == kept
    assert everything(tmp_path / "copy.db") == kept
    assert restore(path, tmp_path / "copy.db", ARRIVED).aside is None


def test_a_newer_record_is_not_replaced_silently(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy.db")
    with open_record(path) as record:
        record.add([sample_set(9), sample_set(10)], ARRIVED)
        record.send(sample_week(monday=MONDAY + timedelta(days=7)), "Coach A", ARRIVED)
        newer = record.everything()
    assert refused("restore-would-lose", path, tmp_path / "copy.db").endswith("1 sent week, 2 entries")
    done = restore(path, tmp_path / "copy.db", ARRIVED, replace=True)
    assert done.aside is not None
    assert everything(done.aside) == newer
    assert everything(path) == everything(tmp_path / "copy.db")


def test_an_erasure_since_the_backup_is_said(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy.db")
    with open_record(path) as record:
        record.erase("R01", "Coach A", ARRIVED)
    assert refused("restore-would-lose", path, tmp_path / "copy.db").endswith("1 erasure")
    assert restore(path, tmp_path / "copy.db", ARRIVED, replace=True).erasures == 1
    with open_record(path) as record:
        assert record.runners() == ("R01", "R02")
        assert len(record.erasures()) == 1


def test_those_who_have_it_open_see_old_or_new(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy.db")
    with open_record(path) as record:
        record.add([sample_set(9)], ARRIVED)
        restore(path, tmp_path / "copy.db", ARRIVED, replace=True)
        assert record.entries("R01") == sample_entries("R01")
        assert record.add([sample_set(11)], ARRIVED).new == 1
    assert len(everything(path).entries) == 21


def test_an_older_backup_is_brought_up_to_date(path: Path, tmp_path: Path) -> None:
    old = tmp_path / "old.db"
    with SqliteRecord.open(old, MIGRATIONS[:1]) as record:
        record.send(sample_week(), "Coach A", ARRIVED)
    before = old.read_bytes()
    fresh = tmp_path / "ferrule.db"
    assert restore(fresh, old, ARRIVED).rows == 1
    assert len(everything(fresh).weeks) == 1
    assert old.read_bytes() == before


def test_what_does_not_hold_together_is_not_used(path: Path, tmp_path: Path) -> None:
    back_up(path, tmp_path / "copy.db")
    whole = (tmp_path / "copy.db").read_bytes()
    (tmp_path / "notes.db").write_text("my notes " * 300)
    (tmp_path / "half.db").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "flipped.db").write_bytes(whole.replace(b"Push through", b"Rush through", 1))
    with closing(sqlite3.connect(tmp_path / "other.db")) as other, other:
        other.execute("CREATE TABLE recipe (name TEXT)")
    SqliteRecord.open(tmp_path / "newer.db", (*MIGRATIONS, Migration("9999 later", ()))).close()
    for name, code in (
        ("notes.db", "record-unopened"),
        ("half.db", "record-unopened"),
        ("flipped.db", "backup-broken"),
        ("other.db", "backup-broken"),
        ("newer.db", "record-newer"),
        ("none.db", "record-missing"),
    ):
        refused(code, path, tmp_path / name)


def test_a_spoiled_record_is_moved_aside(path: Path, tmp_path: Path) -> None:
    kept = everything(path)
    back_up(path, tmp_path / "copy.db")
    path.write_bytes(b"spoiled " * 500)
    done = restore(path, tmp_path / "copy.db", ARRIVED)
    assert done.aside is not None
    assert done.aside.read_bytes() == b"spoiled " * 500
    assert everything(path) == kept
