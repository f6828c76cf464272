"""All rows of the SQLite record, out for an export and in from one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, fields
from datetime import date, datetime
from operator import attrgetter
from pathlib import Path
from typing import TypeVar, get_args

from sqlalchemy import Connection, Table, insert, select

from ferrule.model.finding import Finding
from ferrule.model.squad import HoldReason
from ferrule.store import copies, facts
from ferrule.store.kept import ClearanceRow, EntryRow, ErasureRow, Kept, WeekRow
from ferrule.store.record import Added
from ferrule.store.sqlite_entries import apart, columns_of, insert_rows, moment_text
from ferrule.store.tables import clearance, entry, erasure, sent_week

_ENTRY_COLUMNS = [field.name for field in fields(EntryRow)]
_entry_values = attrgetter(*_ENTRY_COLUMNS)
_R = TypeVar("_R", WeekRow, ClearanceRow, EntryRow, ErasureRow)


def everything(connection: Connection) -> Kept:
    """Every row, each kind in the order it was kept."""
    return Kept(
        tuple(_rows(connection, sent_week, WeekRow, "copy_id")),
        tuple(_rows(connection, clearance, ClearanceRow, "number")),
        tuple(_rows(connection, entry, EntryRow, "number")),
        tuple(_rows(connection, erasure, ErasureRow, "number")),
    )


def _rows(connection: Connection, table: Table, made: type[_R], order: str) -> Iterator[_R]:
    columns = [table.c[field.name] for field in fields(made)]
    for row in connection.execute(select(*columns).order_by(table.c[order])):
        yield made(*row)


def take(connection: Connection, kept: Kept, path: Path) -> Added:
    """Write the rows that are not there yet; see `Record.take`. The caller holds the write lock."""
    there = everything(connection)
    findings: list[Finding] = []
    new = known = 0
    weeks, again = _new_weeks(there, kept, findings)
    for week in weeks:
        connection.execute(insert(sent_week).values(asdict(week)))
    new, known = new + len(weeks), known + again
    entries, again = _new_entries(there, kept, findings)
    insert_rows(connection, [dict(zip(_ENTRY_COLUMNS, _entry_values(row), strict=True)) for row in entries])
    new, known = new + len(entries), known + again
    clearances, again = _new_clearances(there, kept, findings)
    for cleared in clearances:
        connection.execute(insert(clearance).values(asdict(cleared)))
    new, known = new + len(clearances), known + again
    old = set(there.erasures)
    erasures = [row for row in dict.fromkeys(kept.erasures) if row not in old and not _erasure_fault(row, findings)]
    for erased in erasures:
        connection.execute(insert(erasure).values(asdict(erased)))
    new, known = new + len(erasures), known + sum(row in old for row in kept.erasures)
    touched = {value for row in entries for value in (row.entry_id, row.replaces)} - {""}
    findings += [a.finding for a in apart(connection, path, touched)]
    return Added(new, known, tuple(dict.fromkeys(findings)))


def _new_weeks(there: Kept, kept: Kept, findings: list[Finding]) -> tuple[list[WeekRow], int]:
    """The sent weeks to write, in the order of their sequence, and how many are there already."""
    by_id = {row.copy_id: row for row in there.weeks}
    last: dict[tuple[str, str], int] = {}
    for row in there.weeks:
        last[row.monday, row.runner_id] = max(row.sequence, last.get((row.monday, row.runner_id), 0))
    new: list[WeekRow] = []
    known = 0
    for row in sorted(dict.fromkeys(kept.weeks), key=lambda r: (r.monday, r.runner_id, r.sequence)):
        at = (row.monday, row.runner_id)
        if by_id.get(row.copy_id) == row:
            known += 1
        elif fault := _week_fault(row):
            findings.append(_left_out(f"sent week {row.copy_id} of {row.runner_id}", fault))
        elif row.copy_id in by_id:
            findings.append(
                _left_out(f"sent week {row.copy_id} of {row.runner_id}", "the record has other content for it")
            )
        elif row.sequence != 1 + last.get(at, 0):
            what = f"sent week {row.copy_id} of {row.runner_id}, week of {row.monday}, copy {row.sequence}"
            findings.append(_left_out(what, f"the record goes on with copy {1 + last.get(at, 0)} there"))
        else:
            new.append(row)
            by_id[row.copy_id] = row
            last[at] = row.sequence
    return new, known + len(kept.weeks) - len(dict.fromkeys(kept.weeks))


def _week_fault(row: WeekRow) -> str:
    """Why a sent week cannot be taken, "" when it can."""
    if copies.digest_of(row.content) != row.digest:
        return "it no longer has the digest it was signed with"
    try:
        week = copies.from_json(row.content)
        signed_at = datetime.fromisoformat(row.signed_at)
        date.fromisoformat(row.monday)
    except ValueError as error:
        return f"it cannot be read ({error})"
    if (week.runner_id, week.monday.isoformat()) != (row.runner_id, row.monday):
        return "it is filed under another runner or week"
    return "" if signed_at.tzinfo and row.signed_by and row.copy_id else "it does not say who signed it when"


def _new_entries(there: Kept, kept: Kept, findings: list[Finding]) -> tuple[list[EntryRow], int]:
    have = {(row.entry_id, row.digest) for row in there.entries}
    new: list[EntryRow] = []
    known = 0
    for row in kept.entries:
        if (row.entry_id, row.digest) in have:
            known += 1
        elif fault := _entry_fault(row):
            findings.append(_left_out(f"entry {row.entry_id} of {row.runner_id}", fault))
        else:
            have.add((row.entry_id, row.digest))
            new.append(row)
    return new, known


def _entry_fault(row: EntryRow) -> str:
    """Why an entry cannot be taken, "" when it can."""
    if facts.digest_of(row.content) != row.digest:
        return "it no longer has the digest it was kept with"
    try:
        arrived = datetime.fromisoformat(row.arrived_at)
        says = columns_of(facts.from_json(row.kind, row.content))
    except ValueError as error:
        return f"it cannot be read ({error})"
    differ = [name for name, value in says.items() if getattr(row, name) != value]
    if differ:
        return f"the columns {', '.join(differ)} say something else than its content"
    return "" if arrived.tzinfo and moment_text(arrived) == row.arrived_at else "the moment it arrived is not in UTC"


def _new_clearances(there: Kept, kept: Kept, findings: list[Finding]) -> tuple[list[ClearanceRow], int]:
    def key(row: ClearanceRow) -> tuple[str, ...]:
        return row.runner_id, row.reason, row.cleared_by, row.cleared_on

    have = {key(row) for row in there.clearances}
    new: list[ClearanceRow] = []
    known = 0
    for row in kept.clearances:
        if key(row) in have:
            known += 1
        elif fault := _clearance_fault(row):
            findings.append(_left_out(f"clearance of {row.runner_id}", fault))
        else:
            have.add(key(row))
            new.append(row)
    return new, known


def _clearance_fault(row: ClearanceRow) -> str:
    """Why a clearance cannot be taken, "" when it can."""
    try:
        date.fromisoformat(row.cleared_on)
        datetime.fromisoformat(row.recorded_at)
    except ValueError as error:
        return f"it cannot be read ({error})"
    if row.reason not in get_args(HoldReason):
        return f"there is no reason {row.reason!r}"
    return "" if row.runner_id and row.cleared_by else "it does not say who cleared whom"


def _erasure_fault(row: ErasureRow, findings: list[Finding]) -> bool:
    try:
        fault = (
            "" if row.erased_by and datetime.fromisoformat(row.erased_at).tzinfo else "it does not say who did it when"
        )
    except ValueError as error:
        fault = f"it cannot be read ({error})"
    if fault:
        findings.append(_left_out("the note of an erasure", fault))
    return bool(fault)


def _left_out(what: str, why: str) -> Finding:
    return Finding(
        "row-left-out",
        "error",
        f"{what} was left out: {why}",
        "The record never takes what was altered or contradicts it; all other rows were taken.",
        "Export again from where it came from, or restore a backup; keep this export until then.",
    )
