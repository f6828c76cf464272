"""The record in one SQLite file."""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Self, cast

from sqlalchemy import Connection, Engine, Row, create_engine, event, func, insert, inspect, select
from sqlalchemy.engine import URL
from sqlalchemy.exc import DBAPIError, OperationalError

from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, Span
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import HoldReason
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.store import sqlite_entries, sqlite_erase, sqlite_rows
from ferrule.store.copies import FORMAT, digest_of, from_json, to_json
from ferrule.store.kept import Kept
from ferrule.store.migrations import (
    LIST_TABLE,
    MIGRATIONS,
    Migration,
    UnknownMigrationError,
    newer,
    still_to_run,
    unopened,
    unwritten,
)
from ferrule.store.record import Added, Apart, Clearance, Erased, Erasure, RecordError, SentWeek
from ferrule.store.tables import clearance, entry, erasure, migration, sent_week

PRAGMAS = (
    "PRAGMA busy_timeout = 5000",  # ms to wait for another process that writes
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",  # what was signed survives a power cut: docs/decisions/0005-sent-weeks.md
    "PRAGMA foreign_keys = ON",
)


class SqliteRecord:
    """A Record kept in SQLite. One writer at a time (`begin immediate`); readers never wait for it."""

    def __init__(self, engine: Engine, path: Path) -> None:
        self._engine = engine
        self._path = path

    @classmethod
    def open(cls, path: Path, steps: tuple[Migration, ...] = MIGRATIONS) -> SqliteRecord:
        """Open or make the file and run the steps it still needs, all in one transaction."""
        engine = create_engine(URL.create("sqlite", database=str(path)))
        event.listen(engine, "connect", _on_connect)
        event.listen(engine, "begin", _on_begin)
        record = cls(engine, path)
        try:
            record._migrate(steps)
        except UnknownMigrationError as error:
            record.close()
            raise RecordError(newer(path, str(error))) from error
        except DBAPIError as error:
            record.close()
            raise RecordError(unopened(path, cast("Exception", error.orig))) from error
        return record

    def _migrate(self, steps: tuple[Migration, ...]) -> None:
        with self._engine.connect() as connection:
            if inspect(connection).has_table("migration") and not still_to_run(_done(connection), steps):
                return
        with self._writing() as connection:
            connection.exec_driver_sql(LIST_TABLE)
            done = _done(connection)
            for position, step in enumerate(still_to_run(done, steps), start=len(done) + 1):
                for statement in step.statements:
                    connection.exec_driver_sql(statement)
                connection.execute(insert(migration).values(position=position, name=step.name))

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        """A transaction that holds the write lock from its beginning."""
        with self._engine.connect() as connection:
            writing = connection.execution_options(ferrule_writes=True)
            with writing.begin():
                yield writing

    @contextmanager
    def _adding(self) -> Iterator[Connection]:
        """`_writing`, with a finding when the file is locked for long, full or read-only."""
        try:
            with self._writing() as connection:
                yield connection
        except OperationalError as error:
            raise RecordError(unwritten(self._path, cast("Exception", error.orig))) from error

    def send(self, week: FittedWeek, signed_by: str, now: datetime) -> SentWeek:
        return self.send_all((week,), signed_by, now)[0]

    def send_all(self, weeks: Iterable[FittedWeek], signed_by: str, now: datetime) -> tuple[SentWeek, ...]:
        moment = _utc(now)
        name = signed_by.strip()
        if not name:
            raise ValueError("a week is signed by somebody: the name is empty")
        with self._adding() as connection:
            return tuple(self._send(connection, week, name, moment) for week in weeks)

    def _send(self, connection: Connection, week: FittedWeek, signed_by: str, now: datetime) -> SentWeek:
        content = to_json(week)
        last = self._latest(connection, week.runner_id, week.monday)
        if last is not None and last.digest == digest_of(content):
            return last
        copy = SentWeek(
            copy_id=str(uuid7(milliseconds(now), secrets.randbits(RANDOM_BITS))),
            digest=digest_of(content),
            sequence=1 if last is None else last.sequence + 1,
            runner_id=week.runner_id,
            monday=week.monday,
            signed_by=signed_by,
            signed_at=now,
            week=from_json(content),
        )
        row = {
            "copy_id": copy.copy_id,
            "runner_id": copy.runner_id,
            "monday": copy.monday.isoformat(),
            "sequence": copy.sequence,
            "digest": copy.digest,
            "format": FORMAT,
            "content": content,
            "signed_by": signed_by,
            "signed_at": now.isoformat(),
        }
        connection.execute(insert(sent_week).values(row))
        return copy

    def latest(self, runner_id: str, monday: date) -> SentWeek | None:
        with self._engine.connect() as connection:
            return self._latest(connection, runner_id, monday)

    def _latest(self, connection: Connection, runner_id: str, monday: date) -> SentWeek | None:
        query = (
            select(sent_week)
            .where(sent_week.c.runner_id == runner_id, sent_week.c.monday == monday.isoformat())
            .order_by(sent_week.c.sequence.desc())
            .limit(1)
        )
        row = connection.execute(query).one_or_none()
        return None if row is None else self._read(row)

    def sent(self, monday: date) -> tuple[SentWeek, ...]:
        query = (
            select(sent_week)
            .where(sent_week.c.monday == monday.isoformat())
            .order_by(sent_week.c.runner_id, sent_week.c.sequence)
        )
        with self._engine.connect() as connection:
            return tuple(self._read(row) for row in connection.execute(query))

    def sent_mondays(self, runner_id: str) -> dict[date, int]:
        query = (
            select(sent_week.c.monday, func.max(sent_week.c.sequence))
            .where(sent_week.c.runner_id == runner_id)
            .group_by(sent_week.c.monday)
            .order_by(sent_week.c.monday)
        )
        with self._engine.connect() as connection:
            return {date.fromisoformat(monday): sequence for monday, sequence in connection.execute(query)}

    def copy(self, copy_id: str) -> SentWeek | None:
        with self._engine.connect() as connection:
            row = connection.execute(select(sent_week).where(sent_week.c.copy_id == copy_id)).one_or_none()
        return None if row is None else self._read(row)

    def _read(self, row: Row[Any]) -> SentWeek:
        """The copy in a row, its digest checked. Raises RecordError."""
        if digest_of(row.content) != row.digest:
            raise RecordError(self._spoiled(row, "sent-week-altered", "no longer has the digest it was signed with"))
        try:
            week = from_json(row.content)
        except ValueError as error:
            raise RecordError(self._spoiled(row, "sent-week-unreadable", f"cannot be read ({error})")) from error
        monday = date.fromisoformat(row.monday)
        if (week.runner_id, week.monday) != (row.runner_id, monday):
            raise RecordError(self._spoiled(row, "sent-week-altered", "is filed under another runner or week"))
        return SentWeek(
            copy_id=row.copy_id,
            digest=row.digest,
            sequence=row.sequence,
            runner_id=row.runner_id,
            monday=monday,
            signed_by=row.signed_by,
            signed_at=datetime.fromisoformat(row.signed_at),
            week=week,
        )

    def _spoiled(self, row: Row[Any], code: str, how: str) -> Finding:
        return Finding(
            code,
            "error",
            f"the sent week of {row.runner_id}, week of {row.monday}, copy {row.sequence}, {how}",
            "What the runner holds and what the record says may differ.",
            "Restore the file from a backup; the runner's own page or sheet shows what was sent.",
            Span(str(self._path), 1),
        )

    def clear(self, runner_id: str, reason: HoldReason, cleared_by: str, on: date, now: datetime) -> Clearance:
        moment = _utc(now)
        made = Clearance(runner_id, reason, cleared_by.strip(), on)
        if not made.cleared_by:
            raise ValueError("a clearance is given by somebody: the name is empty")
        with self._adding() as connection:
            if made not in self._clearances(connection, runner_id):
                row = {
                    "runner_id": runner_id,
                    "reason": reason,
                    "cleared_by": made.cleared_by,
                    "cleared_on": on.isoformat(),
                    "recorded_at": moment.isoformat(),
                }
                connection.execute(insert(clearance).values(row))
        return made

    def clearances(self, runner_id: str | None = None) -> tuple[Clearance, ...]:
        with self._engine.connect() as connection:
            return self._clearances(connection, runner_id)

    def _clearances(self, connection: Connection, runner_id: str | None) -> tuple[Clearance, ...]:
        query = select(clearance).order_by(clearance.c.number)
        if runner_id is not None:
            query = query.where(clearance.c.runner_id == runner_id)
        return tuple(
            Clearance(row.runner_id, row.reason, row.cleared_by, date.fromisoformat(row.cleared_on))
            for row in connection.execute(query)
        )

    def add(self, entries: Iterable[Entry], now: datetime) -> Added:
        moment = _utc(now)
        with self._adding() as connection:
            return sqlite_entries.add(connection, entries, moment, self._path)

    def entries(self, runner_id: str | None = None, sets_from: date | None = None) -> tuple[Entry, ...]:
        with self._engine.connect() as connection:
            return sqlite_entries.entries(connection, self._path, runner_id, sets_from=sets_from)

    def known_as_of(self, moment: datetime, runner_id: str | None = None) -> tuple[Entry, ...]:
        with self._engine.connect() as connection:
            return sqlite_entries.entries(connection, self._path, runner_id, _utc(moment))

    def apart(self) -> tuple[Apart, ...]:
        with self._engine.connect() as connection:
            return sqlite_entries.apart(connection, self._path)

    def runners(self) -> tuple[str, ...]:
        with self._engine.connect() as connection:
            found = (
                connection.execute(select(t.c.runner_id).distinct()).scalars() for t in (sent_week, clearance, entry)
            )
            return tuple(sorted({runner_id for ids in found for runner_id in ids}))

    def erase(self, runner_id: str, erased_by: str, now: datetime, names: Iterable[str] = ()) -> Erased:
        moment, by = _utc(now), erased_by.strip()
        if not by:
            raise ValueError("an erasure is done by somebody: the name is empty")
        with self._adding() as connection:
            erased = sqlite_erase.erase(connection, self._path, runner_id, by, moment, names)
        try:
            sqlite_erase.clean(self._engine, self._path)
        except sqlite3.OperationalError as error:
            raise RecordError(unwritten(self._path, error)) from error
        return erased

    def erasures(self) -> tuple[Erasure, ...]:
        with self._engine.connect() as connection:
            rows = connection.execute(select(erasure).order_by(erasure.c.erased_at, erasure.c.number))
            return tuple(Erasure(row.erased_by, datetime.fromisoformat(row.erased_at)) for row in rows)

    def everything(self) -> Kept:
        with self._engine.connect() as connection:
            return sqlite_rows.everything(connection)

    def take(self, kept: Kept) -> Added:
        with self._adding() as connection:
            return sqlite_rows.take(connection, kept, self._path)

    def altered(self) -> tuple[Finding, ...]:
        found = []
        with self._engine.connect() as connection:
            for row in connection.execute(select(sent_week).order_by(sent_week.c.copy_id)):
                try:
                    self._read(row)
                except RecordError as fault:
                    found.append(fault.finding)
            found += sqlite_entries.altered(connection, self._path)
        return tuple(found)

    def close(self) -> None:
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _utc(now: datetime) -> datetime:
    if now.tzinfo is None:
        raise ValueError("the moment has no time zone")
    return now.astimezone(UTC)


def _done(connection: Connection) -> tuple[str, ...]:
    return tuple(connection.execute(select(migration.c.name).order_by(migration.c.position)).scalars())


def _on_connect(dbapi_connection: Any, _: object) -> None:
    dbapi_connection.isolation_level = None  # we begin transactions ourselves
    for pragma in PRAGMAS:
        dbapi_connection.execute(pragma).close()


def _on_begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get("ferrule_writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
