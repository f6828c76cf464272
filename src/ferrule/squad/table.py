"""Bytes of a CSV file -> rows of cells under known columns. Every fault of the file is told; rows are kept."""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ferrule.model.finding import Finding, Span
from ferrule.squad.cell import Cell, shown
from ferrule.squad.columns import COLUMNS, HEADINGS, column_named

MOST_BYTES = 1_000_000
"""A squad of 200 runners is under 100 kB; a larger file is something else."""
MOST_LINE = 20_000
MOST_CELL_LINES = 60
"""A cell over more lines is a lost quote."""
_KINDS_OF_FILE = (
    (b"PK\x03\x04", "a spreadsheet workbook or another packed file"),
    (b"%PDF", "a PDF"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet workbook"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x1f\x8b", "a packed file"),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its first line in the file and its cells by column name; an absent cell is empty.

    unsure   True when cells may be lost or have moved, so that a missing status or limit proves nothing
    """

    line: int
    cells: Mapping[str, Cell]
    file: str
    unsure: bool = False

    def cell(self, name: str) -> Cell:
        """The cell of that column; an empty one at the start of the row when there is none."""
        return self.cells.get(name, Cell("", Span(self.file, self.line, 1)))


@dataclass(frozen=True, slots=True)
class Table:
    """The rows that hold anything, the field number of each known column, and what parts the cells."""

    rows: tuple[Row, ...]
    columns: Mapping[str, int]
    mark: str = ","


def read_table(data: bytes, file: str) -> tuple[Table, list[Finding]]:
    """Rows of a CSV file: commas, semicolons or tabs; UTF-8, UTF-16 with a mark, or else read as Windows Western."""
    nothing = Table((), {})
    text, findings = _text(data, file)
    if text is None:
        return nothing, findings
    lines = list(io.StringIO(text, newline=""))
    first = next((i for i, line in enumerate(lines) if line.strip(" \t\r\n,;\ufeff") and not _is_hint(line)), None)
    if first is None:
        return nothing, [*findings, _whole(file, "empty-file", "the file is empty", "There is no runner in it.")]
    mark, heads = _header(lines[first])
    columns, head_findings = _columns(heads, file, first + 1)
    findings += head_findings
    if not columns:
        return nothing, findings
    rows = []
    for line, cells, unclosed in _records(lines, first + 1, mark, len(heads)):
        if not any(c.strip() for c in cells):
            continue
        row = {name: Cell(cells[i - 1] if i <= len(cells) else "", Span(file, line, i)) for name, i in columns.items()}
        extra = next((i for i in range(len(heads), len(cells)) if cells[i].strip()), None)
        rows.append(Row(line, row, file, unclosed or extra is not None))
        if unclosed:
            findings.append(_unclosed(file, line, cells))
        elif extra is not None:
            findings.append(_extra(file, line, extra, cells, len(heads)))
    if not rows:
        findings.append(_whole(file, "no-runners", "there is a heading and no runner", "There is nothing to fit."))
    return Table(tuple(rows), columns, mark), findings


def _text(data: bytes, file: str) -> tuple[str | None, list[Finding]]:
    if not data.strip(b" \t\r\n\xef\xbb\xbf\x00"):
        return None, [_whole(file, "empty-file", "the file is empty", "There is no runner in it.")]
    for start, kind in _KINDS_OF_FILE:
        if data.startswith(start):
            return None, [_whole(file, "not-text", f"this is {kind}, not a CSV file", "Only text can be read.")]
    if len(data) > MOST_BYTES:
        size = f"the file has {len(data) / 1e6:.1f} MB; a squad file has at most {MOST_BYTES / 1e6:.0f} MB"
        return None, [_whole(file, "too-big", size, "A squad of 200 is under 0.1 MB, so this is another file.")]
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return data.decode("utf-16"), []
        except UnicodeDecodeError:
            return None, [_whole(file, "not-text", "this is not readable as text", "Only text can be read.")]
    if b"\0" in data:
        return None, [_whole(file, "not-text", "this is not a text file", "Only text can be read.")]
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        begin = data.rfind(b"\n", 0, error.start) + 1
        text = data.decode("cp1252", errors="replace")
        around = data[max(begin, error.start - 12) : error.start + 12].decode("cp1252", errors="replace")
        return text, [
            Finding(
                "wrong-encoding",
                "error",
                f"the letters near {shown(around.splitlines()[0] if around.splitlines() else around)} are not UTF-8",
                "They were read as Windows Western; names with accents may be wrong on the sheets.",
                'Save the file as "CSV UTF-8".',
                Span(file, line, 1),
            )
        ]


def _whole(file: str, code: str, what: str, why: str) -> Finding:
    fix = f"Save the squad as a CSV file with a heading line: {', '.join(c.name for c in COLUMNS[:8])}, ..."
    return Finding(code, "error", what, why, fix, Span(file, 1, 1))


def _is_hint(line: str) -> bool:
    """The `sep=;` line some spreadsheets write first."""
    return line.strip().lower().startswith("sep=") and len(line.strip()) <= 5


def _header(line: str) -> tuple[str, list[str]]:
    """The separator under which most headings are known, and the headings."""
    best = (-1, ",", [line])
    for mark in (",", ";", "\t"):
        heads = _cells([line], mark) or _cells([_closed(line)], mark) or [line]
        known = sum(column_named(h) is not None for h in heads)
        if known > best[0]:
            best = (known, mark, heads)
    return best[1], best[2]


def _columns(heads: list[str], file: str, line: int) -> tuple[dict[str, int], list[Finding]]:
    columns: dict[str, int] = {}
    findings: list[Finding] = []
    for i, head in enumerate(heads, start=1):
        column = column_named(head)
        span = Span(file, line, i)
        if column is not None and column.name in columns:
            findings.append(
                Finding(
                    "column-twice",
                    "error",
                    f"{shown(head)} is the column `{column.name}` again (first in field {columns[column.name]})",
                    "Only the first is read.",
                    "Put both into one column, entries parted by semicolons.",
                    span,
                )
            )
        elif column is not None:
            columns[column.name] = i
        elif head.strip():
            findings.append(_unknown_column(head, heads, span))
    if not columns:
        what = f"no heading is known in {shown(', '.join(heads))}"
        return {}, [_whole(file, "no-heading", what, "Without headings the cells mean nothing.")]
    findings += [
        Finding(
            "missing-column",
            "error",
            f"there is no column `{needed.name}`",
            "Each runner needs one; a stand-in made of the line number is used until then.",
            f"Add a column `{needed.name}`: {needed.holds}.",
            Span(file, line, 1),
        )
        for needed in COLUMNS
        if needed.required and needed.name not in columns
    ]
    return columns, findings


def _unknown_column(head: str, heads: list[str], span: Span) -> Finding:
    present = {c.name for h in heads if (c := column_named(h))}
    key = " ".join(head.lower().replace("_", " ").split())[:80]
    near = [n for n in difflib.get_close_matches(key, HEADINGS, n=3, cutoff=0.75) if HEADINGS[n].name not in present]
    if near:
        meant = HEADINGS[near[0]]
        return Finding(
            "unknown-column",
            "error",
            f"the column {shown(head)} is not known; `{meant.name}` is missing and looks like it",
            "Nothing in it is read" + (", and that column protects runners." if meant.careful else "."),
            f"Call it `{meant.name}` if that is meant.",
            span,
        )
    return Finding(
        "unknown-column",
        "note",
        f"the column {shown(head)} is not known",
        "Nothing in it is read.",
        f"Leave it for yourself, or use one of: {', '.join(c.name for c in COLUMNS)}.",
        span,
    )


def _unclosed(file: str, line: int, cells: list[str]) -> Finding:
    return Finding(
        "unclosed-quote",
        "error",
        f"a cell of this row opens with a double quote that is never closed; it was read up to {shown(cells[-1][-40:])}",
        "Cells may be lost or have moved, a health status among them, so the runner is held until it is mended.",
        'Close the cell with a double quote (").',
        Span(file, line, len(cells)),
    )


def _extra(file: str, line: int, i: int, cells: list[str], width: int) -> Finding:
    return Finding(
        "extra-cell",
        "error",
        f"{shown(cells[i])} stands in field {i + 1}; the heading has {width} fields",
        "Cells may have moved to the side, a health status among them, so the runner is held until it is mended.",
        "Put a cell that holds a comma or semicolon in double quotes, or let a spreadsheet save the file.",
        Span(file, line, i + 1),
    )


def _closed(line: str) -> str:
    return line.rstrip("\r\n") + '"'


def _cells(lines: list[str], mark: str) -> list[str] | None:
    """The cells of lines that are exactly one whole record, else None."""
    try:
        records = [r for r in csv.reader(lines, delimiter=mark, strict=True) if r]
    except csv.Error:
        return None
    return records[0] if len(records) == 1 else None


def _records(lines: list[str], start: int, mark: str, width: int) -> Iterator[tuple[int, list[str], bool]]:
    """(first line, cells, ended by us) of each record.

    A record over several lines is taken only when it is well formed and no wider than the heading; else its first
    line is ended by us and reading goes on with the next line, so that one lost quote never swallows other runners.
    """
    i = start
    while i < len(lines):
        if len(lines[i]) > MOST_LINE:
            yield i + 1, _loose(lines[i][:MOST_LINE], mark), True
            i += 1
            continue
        one = _cells([lines[i]], mark)
        if one is not None:
            yield i + 1, one, False
        elif not lines[i].strip():
            pass
        elif lines[i].count('"') % 2 == 0:
            yield i + 1, _loose(lines[i], mark), False
        else:
            end, cells = _several(lines, i, mark, width)
            if cells is not None:
                yield i + 1, cells, False
                i = end
                continue
            yield i + 1, _ended(lines[i], mark, width), True
        i += 1


def _ended(line: str, mark: str, width: int) -> list[str]:
    """The cells of a line with a lost quote: without its quotes when it is then as wide as the heading, else ended."""
    plain = line.rstrip("\r\n").replace('"', "").split(mark)
    return plain if len(plain) == width else _cells([_closed(line)], mark) or _loose(_closed(line), mark)


def _several(lines: list[str], i: int, mark: str, width: int) -> tuple[int, list[str] | None]:
    """The record that begins on line i and ends on the next line with an odd number of quotes, at most MOST_CELL_LINES on."""
    for end in range(i + 1, min(i + MOST_CELL_LINES, len(lines))):
        if lines[end].count('"') % 2 == 1:
            cells = _cells(lines[i : end + 1], mark)
            fits = cells is not None and len(cells) <= width
            return (end + 1, cells) if fits else (i + 1, None)
    return i + 1, None


def _loose(line: str, mark: str) -> list[str]:
    """The cells of one line, however its quotes stand."""
    try:
        return next(csv.reader([line.rstrip("\r\n")], delimiter=mark), [])
    except csv.Error:
        return line.split(mark)
