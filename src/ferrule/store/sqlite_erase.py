"""Erasing one runner from the SQLite record: the rows, and then the bytes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, Engine, Table, delete, insert, select

from ferrule.model.finding import Finding, Span
from ferrule.store.copies import from_json
from ferrule.store.record import Erased, RecordError
from ferrule.store.sqlite_entries import moment_text
from ferrule.store.tables import clearance, entry, erasing, erasure, sent_week


def erase(
    connection: Connection, path: Path, runner_id: str, by: str, now: datetime, names: Iterable[str] = ()
) -> Erased:
    """Delete every row of the runner and note the erasure. The caller holds the write lock, then calls `clean`."""
    known = {name.strip() for name in (runner_id, *names, *_names(connection, runner_id))} - {""}
    connection.execute(insert(erasing).values(runner_id=runner_id))
    gone = {
        table.name: connection.execute(delete(table).where(table.c.runner_id == runner_id)).rowcount
        for table in (sent_week, clearance, entry)
    }
    connection.execute(delete(erasing))
    if any(gone.values()):
        connection.execute(insert(erasure).values(erased_by=by, erased_at=moment_text(now)))
    findings = tuple(_mentions(connection, path, known))
    return Erased(gone["sent_week"], gone["clearance"], gone["entry"], findings)


def clean(engine: Engine, path: Path) -> None:
    """Write the file anew without what was deleted, and empty the log beside it.

    Raises RecordError when another program still reads an older state, so that the log had to stay.
    """
    pooled = engine.raw_connection()
    try:
        connection = pooled.driver_connection
        assert connection is not None
        for pragma in ("secure_delete = ON", "temp_store = MEMORY"):
            connection.execute(f"PRAGMA {pragma}").close()
        connection.execute("VACUUM").close()
        busy, *_ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    finally:
        pooled.close()
    if busy:
        raise RecordError(
            Finding(
                "erasure-unfinished",
                "error",
                "the rows are gone, but another program still reads the file, so old bytes may be left beside it",
                "Until that program lets go, what was erased can be read from the file's log.",
                "Close the other program and erase the same runner again.",
                Span(str(path), 1),
            )
        )


def _names(connection: Connection, runner_id: str) -> Iterator[str]:
    query = select(sent_week.c.content).where(sent_week.c.runner_id == runner_id)
    for content in connection.execute(query).scalars():
        try:
            yield from_json(content).runner_name
        except ValueError:
            continue


def _mentions(connection: Connection, path: Path, names: set[str]) -> Iterator[Finding]:
    """Where an id or a name still stands, as a word of its own, in rows of others."""
    word = re.compile("|".join(rf"(?<![\w-]){re.escape(name)}(?![\w-])" for name in sorted(names)))
    places: tuple[tuple[Table, str, str], ...] = (
        (sent_week, "sent weeks", "signed_by"),
        (entry, "entries", "source"),
        (clearance, "clearances", "cleared_by"),
    )
    for table, said, who in places:
        columns = [table.c.runner_id, table.c[who], *([table.c.content] if "content" in table.c else [])]
        rows = [row for row in connection.execute(select(*columns)) if word.search(_text(row))]
        if rows:
            yield Finding(
                "erased-runner-mentioned",
                "advice",
                f"{len(rows)} {said} of {', '.join(sorted({row.runner_id for row in rows})[:12])} still hold that id or name",
                "What was told by or sent to others is theirs and was not touched; it may be somebody else of that name.",
                "Look at them; erase those runners too only if they ask for it.",
                Span(str(path), 1),
            )


def _text(row: Iterable[object]) -> str:
    return "\n".join(v.decode("utf-8", errors="replace") if isinstance(v, bytes) else str(v) for v in row)
