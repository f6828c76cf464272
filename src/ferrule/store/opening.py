"""Opening the record. Nothing here imports the database library: that happens when a record is opened."""

from __future__ import annotations

from pathlib import Path

from ferrule.store.record import Record


def open_record(path: Path) -> Record:
    """The record kept in the SQLite file at `path`, made when it is not there, brought up to date when it is old.

    Raises RecordError when the file is no record, was made by a newer version, or cannot be written.
    """
    from ferrule.store.sqlite_record import SqliteRecord

    return SqliteRecord.open(path)


def pending_migrations(path: Path) -> tuple[str, ...]:
    """Names of the changes `open_record` would make to the file at `path`; nothing is changed by asking."""
    from ferrule.store.migrations import pending

    return pending(path)
