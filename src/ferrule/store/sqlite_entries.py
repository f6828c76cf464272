"""Entries in the SQLite record: adding, and reading what counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import (
    ColumnElement,
    CompoundSelect,
    Connection,
    FromClause,
    Row,
    func,
    literal_column,
    select,
    true,
    union,
    union_all,
)

from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, Span
from ferrule.store.facts import FORMAT, UnkeptError, digest_of, from_json, kind_of, performed_on, to_json, told
from ferrule.store.record import Added, Apart, RecordError
from ferrule.store.tables import entry as table

MOST_AT_ONCE = 500
"""Values asked for at once; older SQLite takes 999 in a statement."""
READ: tuple[ColumnElement[Any], ...] = (
    table.c.kind,
    table.c.content,
    table.c.digest,
    table.c.entry_id,
    table.c.runner_id,
    table.c.replaces,
    table.c.arrived_at,
    table.c.number,
)
"""The columns an entry is read from."""
_T = TypeVar("_T")


def moment_text(moment: datetime) -> str:
    """A moment in UTC to the microsecond: text that sorts as time does."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def add(connection: Connection, entries: Iterable[Entry], now: datetime, path: Path) -> Added:
    """Write what is not there yet; see `Record.add`. The caller holds the write lock."""
    arrived_at = moment_text(now)
    findings: list[Finding] = []
    touched: set[str] = set()
    new = known = 0
    waiting = iter(entries)
    while part := list(islice(waiting, MOST_AT_ONCE)):  # so that the time and memory an entry takes stay the same
        ready = []
        for entry in part:
            try:
                ready.append(row_of(entry, arrived_at))
            except UnkeptError as fault:
                findings.append(_unkept(entry, str(fault)))
        rows = _unknown(connection, ready)
        insert_rows(connection, rows)
        new, known = new + len(rows), known + len(ready) - len(rows)
        touched.update(row[name] for row in ready for name in ("entry_id", "replaces") if row[name])
    findings += [a.finding for a in apart(connection, path, touched)]
    return Added(new, known, tuple(dict.fromkeys(findings)))


def _unknown(connection: Connection, ready: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Those of the rows that say something that is neither there nor said by a row before."""
    there = _there(connection, {row["entry_id"] for row in ready})
    new = []
    for row in ready:
        others = there[row["entry_id"]]
        if not any(row["digest"] == digest or _same(row, kind, content) for kind, content, digest in others):
            new.append(row)
            others.append((row["kind"], row["content"], row["digest"]))
    return new


def insert_rows(connection: Connection, rows: Sequence[Mapping[str, Any]]) -> None:
    """Write rows that all have the same columns. Without the compiler of statements: it takes as long as SQLite."""
    for start in range(0, len(rows), MOST_AT_ONCE):
        part = [tuple(row.values()) for row in rows[start : start + MOST_AT_ONCE]]
        marks = ", ".join("?" * len(rows[0]))
        connection.exec_driver_sql(f"INSERT INTO entry ({', '.join(rows[0])}) VALUES ({marks})", part)


def row_of(entry: Entry, arrived_at: str) -> dict[str, Any]:
    """The columns of an entry. Raises UnkeptError."""
    content = to_json(entry)
    return {
        **columns_of(entry),
        "arrived_at": arrived_at,
        "format": FORMAT,
        "content": content,
        "digest": digest_of(content),
    }


def columns_of(entry: Entry) -> dict[str, str]:
    """The columns that its content says too. Raises UnkeptError."""
    return {
        "entry_id": entry.entry_id,
        "runner_id": entry.runner_id,
        "kind": kind_of(entry.fact),
        "performed_on": performed_on(entry).isoformat(),
        "recorded_at": moment_text(entry.recorded_at),
        "source": entry.source,
        "replaces": entry.replaces,
    }


def _there(connection: Connection, ids: set[str]) -> defaultdict[str, list[tuple[str, bytes, str]]]:
    """Kind, content and digest of the rows that have one of these ids."""
    found: defaultdict[str, list[tuple[str, bytes, str]]] = defaultdict(list)
    columns = select(table.c.entry_id, table.c.kind, table.c.content, table.c.digest)
    for part in _parts(sorted(ids)):
        for row in connection.execute(columns.where(table.c.entry_id.in_(part))):
            found[row.entry_id].append((row.kind, row.content, row.digest))
    return found


def _parts(values: Sequence[_T]) -> Iterator[Sequence[_T]]:
    for start in range(0, len(values), MOST_AT_ONCE):
        yield values[start : start + MOST_AT_ONCE]


def _same(row: dict[str, Any], kind: str, content: bytes) -> bool:
    """True when both say the same, but for the moment of recording."""
    try:
        return row["kind"] == kind and told(from_json(kind, row["content"])) == told(from_json(kind, content))
    except ValueError:
        return False  # what is there cannot be read any more: `altered` says so


def entries(
    connection: Connection,
    path: Path,
    runner_id: str | None = None,
    upto: datetime | None = None,
    sets_from: date | None = None,
) -> tuple[Entry, ...]:
    """What counts, of what had arrived by `upto`, in order of arrival. Raises RecordError when one was altered."""
    aside = _aside(connection, upto, runner_id=runner_id)
    query = select(*READ).where(_by(upto)).order_by(table.c.arrived_at, table.c.number)
    if runner_id is not None:
        query = query.where(table.c.runner_id == runner_id)
    if sets_from is not None:
        query = query.where(table.c.number.in_(_since(sets_from)))
    rows = connection.execute(query).all()
    return tuple(read_row(row, path) for row in rows if not aside or row.number not in aside)


def apart(connection: Connection, path: Path, ids: set[str] | None = None) -> tuple[Apart, ...]:
    """What does not count, in order of arrival; with `ids`, what has such an id or replaces one.

    Raises RecordError when one was altered.
    """
    aside = _aside(connection, ids=ids)
    found = []
    for part in _parts(sorted(aside)):
        query = select(*READ).where(table.c.number.in_(part)).order_by(table.c.number)
        for row in connection.execute(query):
            if ids is None or ids & {row.entry_id, row.replaces}:
                entry = read_row(row, path)
                found.append(Apart(entry, datetime.fromisoformat(row.arrived_at), aside[row.number](entry)))
    return tuple(found)


def altered(connection: Connection, path: Path) -> Iterator[Finding]:
    """A finding for each entry that no longer is what was kept."""
    for row in connection.execute(select(*READ).order_by(table.c.number)):
        try:
            read_row(row, path)
        except RecordError as fault:
            yield fault.finding


def read_row(row: Row[Any], path: Path) -> Entry:
    """The entry in a row of the columns READ, its digest checked. Raises RecordError."""
    kind, content, digest, entry_id, runner_id, replaces, *_ = tuple[Any, ...](
        row
    )  # by name takes as long as all the rest
    if digest_of(content) != digest:
        raise RecordError(_spoiled(row, path, "entry-altered", "no longer has the digest it was kept with"))
    try:
        entry = from_json(kind, content)
    except ValueError as error:
        raise RecordError(_spoiled(row, path, "entry-unreadable", f"cannot be read ({error})")) from error
    if (entry.entry_id, entry.runner_id, entry.replaces) != (entry_id, runner_id, replaces):
        raise RecordError(_spoiled(row, path, "entry-altered", "is filed under another runner or id"))
    return entry


def _since(sets_from: date) -> CompoundSelect[tuple[int]]:
    """Numbers of the rows that are no sets, or sets of that day or later. The kind is a literal, as in the two indexes."""
    a_set: ColumnElement[str] = literal_column("'set'")
    newer = select(table.c.number).where(table.c.kind == a_set, table.c.performed_on >= sets_from.isoformat())
    return union_all(select(table.c.number).where(table.c.kind != a_set), newer)


def _by(upto: datetime | None, rows: FromClause = table) -> ColumnElement[bool]:
    return true() if upto is None else rows.c.arrived_at <= moment_text(upto)


def _aside(
    connection: Connection, upto: datetime | None = None, ids: set[str] | None = None, runner_id: str | None = None
) -> dict[int, Callable[[Entry], Finding]]:
    """Numbers of the rows that do not count, of those that had arrived by `upto`, and what says why of each.

    ids        when these are few, only rows that have such an id or replace one are looked at
    runner_id  only rows of this runner, and those that have the same id or are replaced by one, are looked at
    """
    aside: dict[int, Callable[[Entry], Finding]] = {}
    twice = select(table.c.entry_id).group_by(table.c.entry_id).having(func.count() > 1)
    only: ColumnElement[bool] = true()
    if ids is not None and len(ids) <= MOST_AT_ONCE:
        twice = twice.where(table.c.entry_id.in_(ids))
        only = table.c.entry_id.in_(ids) | table.c.replaces.in_(ids)
    elif runner_id is not None:
        only = table.c.runner_id == runner_id
        own, aims = select(table.c.entry_id).where(only), select(table.c.replaces).where(only, table.c.replaces != "")
        twice = twice.where(table.c.entry_id.in_(union(own, aims)))
    # the one recorded first counts; at equal moments the digest decides: the order of arrival never does
    order = (table.c.entry_id, table.c.recorded_at, table.c.digest)
    same_id = select(*order, table.c.number).where(table.c.entry_id.in_(twice), _by(upto)).order_by(*order)
    first = ""
    for row in connection.execute(same_id):
        if row.entry_id == first:
            aside[row.number] = _changed
        first = row.entry_id
    target = table.alias()
    of_another = (
        select(table.c.number, target.c.number.label("target"))
        .join(target, target.c.entry_id == table.c.replaces)
        .where(table.c.replaces != "", table.c.runner_id != target.c.runner_id, _by(upto), _by(upto, target), only)
    )
    for number, aimed_at in connection.execute(of_another).all():
        if aside.get(aimed_at) is not _changed:
            aside.setdefault(number, _misaimed)
    return aside


def _changed(entry: Entry) -> Finding:
    return Finding(
        "entry-changed",
        "advice",
        f"entry {entry.entry_id} of {entry.runner_id}, {_about(entry)}, was told twice in different words",
        "An entry is never changed, so the one recorded first counts; this one is kept beside it.",
        "If this one is right, enter it again as a correction of the first.",
    )


def _misaimed(entry: Entry) -> Finding:
    return Finding(
        "entry-misaimed",
        "advice",
        f"entry {entry.entry_id} of {entry.runner_id}, {_about(entry)}, would replace an entry of another runner",
        "One runner's word does not take another's away, so it is kept and does not count.",
        "See which runner the file belongs to, and enter it again under that one.",
    )


def _unkept(entry: Entry, why: str) -> Finding:
    return Finding(
        "entry-unkept",
        "error",
        f"entry {entry.entry_id!r} of {entry.runner_id!r} was not kept: {why}",
        "What cannot be read back the same would be lost unseen; the other entries were kept.",
        "Mend it where it comes from and hand it over again.",
    )


def _spoiled(row: Row[Any], path: Path, code: str, how: str) -> Finding:
    return Finding(
        code,
        "error",
        f"the entry {row.entry_id} of {row.runner_id}, arrived {row.arrived_at[:10]}, {how}",
        "What the runner told and what the record says may differ.",
        "Restore the file from a backup, or have the runner hand it over again.",
        Span(str(path), 1),
    )


def _about(entry: Entry) -> str:
    return f"{kind_of(entry.fact)} of {performed_on(entry).isoformat()}"
