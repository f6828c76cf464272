"""The steps that make the record's file, oldest first. A step that was ever shipped is never edited."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from ferrule.model.finding import Finding, Span
from ferrule.store.record import RecordError


@dataclass(frozen=True, slots=True)
class Migration:
    """One step: its name, and the statements that are run one by one."""

    name: str
    statements: tuple[str, ...]


def _refuse(table: str, what: str, said: str) -> str:
    return f"CREATE TRIGGER {table}_no_{what.lower()} BEFORE {what} ON {table} BEGIN SELECT RAISE(ABORT, '{said}'); END"


def _unless_erasing(table: str, said: str) -> tuple[str, str]:
    """The refusal to delete, made again so that it lets go of a runner who is being erased."""
    guarded = (
        f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} "
        "WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE runner_id = OLD.runner_id) "
        f"BEGIN SELECT RAISE(ABORT, '{said}'); END"
    )
    return f"DROP TRIGGER {table}_no_delete", guarded


MIGRATIONS: tuple[Migration, ...] = (
    Migration(
        "0001 sent weeks",
        (
            """
            CREATE TABLE sent_week (
                copy_id TEXT NOT NULL PRIMARY KEY,
                runner_id TEXT NOT NULL,
                monday TEXT NOT NULL,
                sequence INTEGER NOT NULL CHECK (sequence >= 1),
                digest TEXT NOT NULL CHECK (length(digest) = 64),
                format INTEGER NOT NULL,
                content BLOB NOT NULL,
                signed_by TEXT NOT NULL CHECK (signed_by <> ''),
                signed_at TEXT NOT NULL,
                UNIQUE (monday, runner_id, sequence)
            ) STRICT
            """,
            _refuse("sent_week", "UPDATE", "a sent week is never changed"),
            _refuse("sent_week", "DELETE", "a sent week is never deleted"),
            # INSERT OR REPLACE deletes without the trigger above, so a row that is there, or any sequence but the next
            # one, is refused here.
            """
            CREATE TRIGGER sent_week_next BEFORE INSERT ON sent_week
            WHEN EXISTS (SELECT 1 FROM sent_week WHERE copy_id = NEW.copy_id)
              OR NEW.sequence <> 1 + coalesce(
                (SELECT max(sequence) FROM sent_week WHERE monday = NEW.monday AND runner_id = NEW.runner_id), 0)
            BEGIN SELECT RAISE(ABORT, 'a sent week is never replaced'); END
            """,
        ),
    ),
    Migration(
        "0002 clearances",
        (
            """
            CREATE TABLE clearance (
                number INTEGER NOT NULL PRIMARY KEY,
                runner_id TEXT NOT NULL,
                reason TEXT NOT NULL,
                cleared_by TEXT NOT NULL CHECK (cleared_by <> ''),
                cleared_on TEXT NOT NULL,
                recorded_at TEXT NOT NULL,
                UNIQUE (runner_id, reason, cleared_by, cleared_on)
            ) STRICT
            """,
            _refuse("clearance", "UPDATE", "a clearance is never changed"),
            _refuse("clearance", "DELETE", "a clearance is never deleted"),
            """
            CREATE TRIGGER clearance_once BEFORE INSERT ON clearance
            WHEN EXISTS (SELECT 1 FROM clearance WHERE number = NEW.number OR (runner_id = NEW.runner_id
              AND reason = NEW.reason AND cleared_by = NEW.cleared_by AND cleared_on = NEW.cleared_on))
            BEGIN SELECT RAISE(ABORT, 'a clearance is never replaced'); END
            """,
        ),
    ),
    Migration(
        "0003 entries",
        (
            # recorded_at and arrived_at are UTC to the microsecond, so that text sorts as time does. The same id with
            # other content is a row of its own: docs/record.md.
            """
            CREATE TABLE entry (
                number INTEGER NOT NULL PRIMARY KEY,
                entry_id TEXT NOT NULL CHECK (entry_id <> ''),
                runner_id TEXT NOT NULL CHECK (runner_id <> ''),
                kind TEXT NOT NULL,
                performed_on TEXT NOT NULL,
                recorded_at TEXT NOT NULL,
                arrived_at TEXT NOT NULL,
                source TEXT NOT NULL,
                replaces TEXT NOT NULL,
                format INTEGER NOT NULL,
                content BLOB NOT NULL,
                digest TEXT NOT NULL CHECK (length(digest) = 64),
                UNIQUE (entry_id, digest)
            ) STRICT
            """,
            "CREATE INDEX entry_runner ON entry (runner_id)",
            "CREATE INDEX entry_replaces ON entry (replaces) WHERE replaces <> ''",
            _refuse("entry", "UPDATE", "an entry is never changed"),
            _refuse("entry", "DELETE", "an entry is never deleted"),
            """
            CREATE TRIGGER entry_once BEFORE INSERT ON entry
            WHEN EXISTS (SELECT 1 FROM entry WHERE number = NEW.number)
              OR EXISTS (SELECT 1 FROM entry WHERE entry_id = NEW.entry_id AND digest = NEW.digest)
            BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END
            """,
        ),
    ),
    Migration(
        "0004 erasures",
        (
            # says that and when somebody was erased, never who; `erasing` names the runner only inside the transaction
            """
            CREATE TABLE erasure (
                number INTEGER NOT NULL PRIMARY KEY,
                erased_by TEXT NOT NULL CHECK (erased_by <> ''),
                erased_at TEXT NOT NULL,
                UNIQUE (erased_by, erased_at)
            ) STRICT
            """,
            _refuse("erasure", "UPDATE", "an erasure is never changed"),
            _refuse("erasure", "DELETE", "an erasure is never deleted"),
            """
            CREATE TRIGGER erasure_once BEFORE INSERT ON erasure
            WHEN EXISTS (SELECT 1 FROM erasure WHERE number = NEW.number
              OR (erased_by = NEW.erased_by AND erased_at = NEW.erased_at))
            BEGIN SELECT RAISE(ABORT, 'an erasure is never replaced'); END
            """,
            "CREATE TABLE erasing (runner_id TEXT NOT NULL PRIMARY KEY) STRICT",
            *_unless_erasing("sent_week", "a sent week is never deleted"),
            *_unless_erasing("clearance", "a clearance is never deleted"),
            *_unless_erasing("entry", "an entry is never deleted"),
        ),
    ),
    Migration(
        "0005 sets by day",
        (
            # what is read without old sets does not take longer the longer the record is
            "CREATE INDEX entry_set_day ON entry (performed_on) WHERE kind = 'set'",
            "CREATE INDEX entry_said ON entry (kind) WHERE kind <> 'set'",
        ),
    ),
)
LIST_TABLE = (
    "CREATE TABLE IF NOT EXISTS migration (position INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT"
)


class UnknownMigrationError(Exception):
    """The file was made by a version that knows steps this one does not."""


def still_to_run(done: tuple[str, ...], steps: tuple[Migration, ...] = MIGRATIONS) -> tuple[Migration, ...]:
    """The steps after `done`. Raises UnknownMigrationError when `done` is not the beginning of the known steps."""
    names = tuple(step.name for step in steps)
    if done != names[: len(done)]:
        raise UnknownMigrationError(", ".join(name for name in done if name not in names) or "steps in another order")
    return steps[len(done) :]


def pending(path: Path) -> tuple[str, ...]:
    """Names of the steps the file at `path` still needs, without changing it; all of them when there is no file."""
    if not path.exists() or path.stat().st_size == 0:
        return tuple(step.name for step in MIGRATIONS)
    try:
        connection = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)
        try:
            return tuple(step.name for step in still_to_run(_done(connection)))
        finally:
            connection.close()
    except UnknownMigrationError as error:
        raise RecordError(newer(path, str(error))) from error
    except sqlite3.Error as error:
        raise RecordError(unopened(path, error)) from error


def _done(connection: sqlite3.Connection) -> tuple[str, ...]:
    there = connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'migration'").fetchone()
    rows = connection.execute("SELECT name FROM migration ORDER BY position").fetchall() if there else []
    return tuple(row[0] for row in rows)


def newer(path: Path, names: str) -> Finding:
    """The finding for a file that a newer version made."""
    return Finding(
        "record-newer",
        "error",
        f"the record was changed by a newer version ({names})",
        "This version does not know what is in it, and would spoil it.",
        "Install the version that wrote it, or a later one.",
        Span(str(path), 1),
    )


def unopened(path: Path, error: Exception) -> Finding:
    """The finding for a file that cannot be opened as a record."""
    return Finding(
        "record-unopened",
        "error",
        f"the record cannot be opened: {error}",
        "Sent weeks and clearances are kept in it; without it nothing can be signed.",
        "Check that the file is the record, that it and its folder can be written, and that no copy is being restored.",
        Span(str(path), 1),
    )


def unwritten(path: Path, error: Exception) -> Finding:
    """The finding for a record that cannot be added to."""
    return Finding(
        "record-unwritten",
        "error",
        f"the record cannot be written: {error}",
        "Nothing of this was kept, so nothing may be sent.",
        "Close other programs that use the file, check that the disk is not full, and sign again.",
        Span(str(path), 1),
    )
