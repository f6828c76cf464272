"""Everything a record keeps as files and back: one JSON file, or one CSV file a kind. Both without loss.

JSON holds the content of each row as it was digested, byte for byte. CSV (RFC 4180, UTF-8 with a mark) holds the same in
a cell. A text cell that a spreadsheet would take for a formula begins with an apostrophe, and so does one that begins with
an apostrophe itself: reading takes exactly one away.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from typing import Any, TypeVar

import msgspec
from msgspec.structs import astuple

from ferrule.model.finding import Finding, Span
from ferrule.store.facts import KINDS, digest_of, from_json
from ferrule.store.kept import ClearanceRow, EntryRow, ErasureRow, Kept, WeekRow

JSON_FILE = "record.json"
FORMAT = 1
"""Version of the export; a reader of an older one is added here when it changes."""
TABLES: dict[str, type[Any]] = {
    "weeks": WeekRow,
    "clearances": ClearanceRow,
    "entries": EntryRow,
    "erasures": ErasureRow,
}
CSV_FILES: dict[str, str] = {
    "weeks": "sent_weeks.csv",
    "clearances": "clearances.csv",
    "entries": "entries.csv",
    "erasures": "erasures.csv",
}
READING = "reading"
"""Folder of the tables that are only for reading: one column a field."""
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "'", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_KINDS_OF_CELL: dict[str, Any] = {"int": int, "str": str, "bytes": msgspec.Raw}
_ROW_DECODERS: dict[str, msgspec.json.Decoder[Any]] = {
    name: msgspec.json.Decoder(
        msgspec.defstruct(made.__name__, [(field.name, _KINDS_OF_CELL[str(field.type)]) for field in fields(made)])
    )
    for name, made in TABLES.items()
}
_encode = msgspec.json.Encoder().encode
_T = TypeVar("_T")


class _Head(msgspec.Struct):
    ferrule_record: int
    weeks: list[msgspec.Raw]
    clearances: list[msgspec.Raw]
    entries: list[msgspec.Raw]
    erasures: list[msgspec.Raw]


def to_json(kept: Kept) -> bytes:
    """One JSON object, a line a row: `ferrule_record` (the version), `weeks`, `clearances`, `entries`, `erasures`."""
    parts = [b'{"ferrule_record":%d' % FORMAT]
    for name in TABLES:
        names = [field.name for field in fields(TABLES[name])]
        rows = b",\n".join(_encode(_as_raw(row, names)) for row in getattr(kept, name))
        parts.append(b',\n"%s":[\n%s\n]' % (name.encode(), rows))
    return b"".join(parts) + b"}\n"


def from_json_file(data: bytes, file: str) -> tuple[Kept, tuple[Finding, ...]]:
    """The rows of an export in JSON. What is no export at all is a finding; so is each row that lacks something."""
    try:
        head = msgspec.json.decode(data, type=_Head)
    except ValueError as error:
        return Kept(), (_no_export(file, str(error)),)
    if head.ferrule_record != FORMAT:
        return Kept(), (_no_export(file, f"it is of version {head.ferrule_record}, this program reads {FORMAT}"),)
    findings: list[Finding] = []
    tables: dict[str, Any] = {}
    for name, made in TABLES.items():
        rows = []
        decoder = _ROW_DECODERS[name]
        for number, cells in enumerate(getattr(head, name), start=1):
            try:
                rows.append(made(*[bytes(v) if type(v) is msgspec.Raw else v for v in astuple(decoder.decode(cells))]))
            except ValueError as error:
                findings.append(_no_row(Span(file, 1), f"row {number} of {name}", error))
        tables[name] = tuple(rows)
    return Kept(**tables), tuple(findings)


def to_csv(kept: Kept) -> dict[str, bytes]:
    """The files by name: one a kind of row, which are read back, and tables only for reading in a folder of their own."""
    files = {}
    for name, made in TABLES.items():
        names = [field.name for field in fields(made)]
        rows = (_cells(getattr(row, n) for n in names) for row in getattr(kept, name))
        files[CSV_FILES[name]] = _written(names, rows)
    for kind, fact in KINDS.items():
        found = [row for row in kept.entries if row.kind == kind]
        if found:
            names = [field.name for field in fields(fact) if field.name not in _ENVELOPE]
            files[f"{READING}/{kind.replace(' ', '_')}.csv"] = _written([*_ENVELOPE, *names], _readable(found, names))
    return files


def from_csv(files: Mapping[str, bytes], folder: str = "") -> tuple[Kept, tuple[Finding, ...]]:
    """The rows of an export in CSV, by file name; a file that is missing holds nothing."""
    findings: list[Finding] = []
    tables: dict[str, Any] = {}
    for name, made in TABLES.items():
        if CSV_FILES[name] in files:
            shown = f"{folder}/{CSV_FILES[name]}" if folder else CSV_FILES[name]
            tables[name] = tuple(_read(files[CSV_FILES[name]], shown, made, findings))
    return Kept(**tables), tuple(findings)


def sound(kept: Kept) -> Kept:
    """Without the rows whose content no longer has its digest: those are no JSON to be relied on."""
    return replace(
        kept,
        weeks=tuple(row for row in kept.weeks if digest_of(row.content) == row.digest),
        entries=tuple(row for row in kept.entries if digest_of(row.content) == row.digest),
    )


def _as_raw(row: object, names: list[str]) -> dict[str, Any]:
    values = ((name, getattr(row, name)) for name in names)
    return {name: msgspec.Raw(v) if isinstance(v, bytes) else v for name, v in values}


def _types(made: type[Any]) -> list[tuple[str, str]]:
    """Names of the columns and of their types: str, int or bytes."""
    return [(field.name, str(field.type)) for field in fields(made)]


def guarded(text: str) -> str:
    """A text cell that no spreadsheet takes for a formula. `unguarded` takes the apostrophe away again."""
    return "'" + text if text.startswith(_STARTS) else text


def unguarded(cell: str) -> str:
    """The text that `guarded` made a cell of."""
    return cell[1:] if cell.startswith("'") else cell


def _cells(values: Iterable[object]) -> list[str]:
    return [guarded(v.decode("utf-8") if isinstance(v, bytes) else str(v)) for v in values]


def _written(heads: list[str], rows: Iterable[list[str]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(heads)
    writer.writerows(rows)
    return text.getvalue().encode("utf-8-sig")


def _read(data: bytes, file: str, made: type[_T], findings: list[Finding]) -> Iterator[_T]:
    most = csv.field_size_limit(sys.maxsize)  # a week of many lines is longer than the module expects
    try:
        reader = csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True)
        heads = next(reader, [])
        missing = [name for name, _ in _types(made) if name not in heads]
        if missing:
            findings.append(_no_export(file, f"it has no column {', '.join(missing)}"))
            return
        line = reader.line_num + 1
        for cells in reader:
            try:
                by_name = dict(zip(heads, cells, strict=True))
                yield made(**{name: _value(by_name[name], kind) for name, kind in _types(made)})
            except ValueError as error:
                findings.append(_no_row(Span(file, line), "this row", error))
            line = reader.line_num + 1
    except (csv.Error, UnicodeDecodeError) as error:
        findings.append(_no_export(file, str(error)))
    finally:
        csv.field_size_limit(most)


def _value(cell: str, kind: str) -> object:
    if kind == "int":
        return int(cell)
    return unguarded(cell).encode() if kind == "bytes" else unguarded(cell)


_ENVELOPE = ("entry_id", "runner_id", "recorded_at", "source", "replaces")


def _readable(rows: list[EntryRow], names: list[str]) -> Iterator[list[str]]:
    for row in rows:
        try:
            entry = from_json(row.kind, row.content)
        except ValueError:
            continue  # `altered` names it; its bytes are in entries.csv
        told = msgspec.to_builtins(entry.fact)
        yield [guarded(str(getattr(row, name))) for name in _ENVELOPE] + [_plain(told[name]) for name in names]


def _plain(value: object) -> str:
    """A value of a fact in one cell; numbers stay numbers."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return format(value, "g") if isinstance(value, float) else str(value)
    return guarded(value if isinstance(value, str) else msgspec.json.encode(value).decode())


def _no_export(file: str, why: str) -> Finding:
    return Finding(
        "export-unreadable",
        "error",
        f"this is no export of a record: {why}",
        "Nothing of this file was taken.",
        "Give the folder that `ferrule export` made, as it made it.",
        Span(file, 1),
    )


def _no_row(span: Span, which: str, error: Exception) -> Finding:
    return Finding(
        "export-row-unreadable",
        "error",
        f"{which} cannot be read: {error}",
        "It was left out; the others were read.",
        "Export again from where it came from.",
        span,
    )
