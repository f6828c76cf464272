"""A copy of the record while it is in use, and back. SQLite's own way of copying a live file does the work."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from ferrule.model.finding import Finding, Span
from ferrule.store.kept import Kept
from ferrule.store.migrations import pending, unopened, unwritten
from ferrule.store.opening import open_record
from ferrule.store.record import RecordError


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did.

    rows      rows the record now holds
    aside     file that holds what was there before, None when nothing was lost
    erasures  erasures made after the backup: whoever was erased then is back, and must be erased again
    """

    rows: int
    aside: Path | None
    erasures: int


def back_up(source: Path, target: Path) -> int:
    """Copy the record to the new file `target`, whole or not at all, as it was at one moment. Returns its rows.

    Others may read and write meanwhile. Raises RecordError when there is no record, when `target` is there already or
    cannot be written, or when the copy does not hold together.
    """
    if not source.is_file():
        raise RecordError(_no_record(source))
    if target.exists():
        raise RecordError(_there(target))
    draft = target.with_name(target.name + ".part")
    try:
        _copy(source, draft)
        rows = _rows(draft, source).count
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        draft.replace(target)
    except OSError as error:
        raise RecordError(unwritten(target, error)) from error
    finally:
        _remove(draft)
    return rows


def restore(path: Path, backup: Path, now: datetime, *, replace: bool = False) -> Restored:
    """Put the rows of `backup` in the place of those at `path`, checked first; an older backup is brought up to date.

    With anything here that is not in the backup it refuses, unless `replace`: then what was here is kept in a file
    beside it. A record that cannot be read any more is moved aside too. Programs that have the record open see the old
    rows or the new ones, never a mixture. Raises RecordError.
    """
    if not backup.is_file():
        raise RecordError(_no_record(backup))
    draft = path.with_name(path.name + ".restoring")
    aside = path.with_name(f"{path.name}.before-{now.astimezone(UTC):%Y%m%dT%H%M%SZ}")
    try:
        _copy(backup, draft)
        wanted = _rows(draft, backup)
        here = _readable(path)
        if here is None:
            moved = _move_aside(path, aside)
            draft.replace(path)
            return Restored(wanted.count, moved, 0)
        lost = _lost(here, wanted)
        if lost.count and not replace:
            raise RecordError(_would_lose(path, lost))
        if lost.count:
            if aside.exists():
                raise RecordError(_there(aside))
            _copy(path, aside)  # as it is: what is altered in it stays to be looked at
        _copy(draft, path, live=True)
        with open_record(path) as record:  # that somebody was erased stays known
            record.take(Kept(erasures=here.erasures))
        return Restored(wanted.count, aside if lost.count else None, len(lost.erasures))
    except OSError as error:
        raise RecordError(unwritten(path, error)) from error
    finally:
        _remove(draft)


def _copy(source: Path, target: Path, *, live: bool = False) -> None:
    """Copy one SQLite file over another as one transaction; one that is not live has no log beside it after.

    Raises RecordError.
    """
    try:
        with closing(sqlite3.connect(f"{source.resolve().as_uri()}?mode=ro", uri=True)) as here:
            here.execute("SELECT count(*) FROM sqlite_master").fetchone()
            try:
                with closing(sqlite3.connect(target)) as there:
                    here.backup(there)
                    if not live:
                        there.execute("PRAGMA journal_mode = DELETE").close()
            except sqlite3.OperationalError as error:
                raise RecordError(unwritten(target, error)) from error
    except sqlite3.Error as error:
        raise RecordError(unopened(source, error)) from error


def _rows(draft: Path, of: Path) -> Kept:
    """The rows of a copy, brought up to date. Raises RecordError unless every page and digest holds."""
    try:
        pending(draft)
        with closing(sqlite3.connect(draft)) as connection:
            told = [str(row[0]) for row in connection.execute("PRAGMA integrity_check(5)")]
            known = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'migration'").fetchone()
    except sqlite3.Error as error:
        raise RecordError(_broken(of, str(error))) from error
    if told != ["ok"] or not known:
        raise RecordError(_broken(of, "; ".join(told) if known else "it is another program's file"))
    with open_record(draft) as record:
        if altered := record.altered():
            raise RecordError(_broken(of, altered[0].what))
        kept = record.everything()
    with closing(sqlite3.connect(draft)) as connection:
        connection.execute("PRAGMA journal_mode = DELETE").close()
    return kept


def _readable(path: Path) -> Kept | None:
    """The rows that are there; none when there is no file; None when it is spoiled. Raises RecordError when it is newer."""
    if not path.exists():
        return Kept()
    try:
        with open_record(path) as record:
            return record.everything()
    except RecordError as fault:
        if fault.finding.code == "record-newer":
            raise
    except DBAPIError:
        pass
    return None


def _lost(here: Kept, wanted: Kept) -> Kept:
    """The rows that are here and not there."""
    weeks, clearances = set(wanted.weeks), set(wanted.clearances)
    entries, erasures = set(wanted.entries), set(wanted.erasures)
    return Kept(
        tuple(row for row in here.weeks if row not in weeks),
        tuple(row for row in here.clearances if row not in clearances),
        tuple(row for row in here.entries if row not in entries),
        tuple(row for row in here.erasures if row not in erasures),
    )


def _move_aside(path: Path, aside: Path) -> Path:
    for end in ("", "-wal", "-shm"):
        part = path.with_name(path.name + end)
        if part.exists():
            part.replace(aside.with_name(aside.name + end))
    return aside


def _remove(draft: Path) -> None:
    for end in ("", "-wal", "-shm", "-journal"):
        draft.with_name(draft.name + end).unlink(missing_ok=True)


def _no_record(path: Path) -> Finding:
    return Finding(
        "record-missing",
        "error",
        "there is no record here",
        "There is nothing to copy.",
        "Name the workspace or the backup that has one.",
        Span(str(path), 1),
    )


def _there(path: Path) -> Finding:
    return Finding(
        "backup-exists",
        "error",
        "there is a file of that name already",
        "A backup never takes the place of another one.",
        "Choose a new name, with the day in it.",
        Span(str(path), 1),
    )


def _broken(path: Path, how: str) -> Finding:
    return Finding(
        "backup-broken",
        "error",
        f"the copy does not hold together: {how}",
        "What it says may not be what was kept, so it is not used.",
        "Use another backup, or an export.",
        Span(str(path), 1),
    )


def _would_lose(path: Path, lost: Kept) -> Finding:
    rows = (
        ("sent week", lost.weeks),
        ("clearance", lost.clearances),
        ("entry", lost.entries),
        ("erasure", lost.erasures),
    )
    counts = ", ".join(f"{len(found)} {word}{'s' if len(found) != 1 else ''}" for word, found in rows if found)
    back = " A runner who was erased since would be back." if lost.erasures else ""
    return Finding(
        "restore-would-lose",
        "error",
        f"the record here has what the backup has not: {counts.replace('entrys', 'entries')}",
        f"They would be lost from the record.{back}",
        "Use a newer backup; or --replace, which keeps what is here in a file beside it.",
        Span(str(path), 1),
    )
