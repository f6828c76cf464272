"""One cell of the squad file written anew: everything else of the file stays as it was, byte for byte but for its row."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from datetime import date

from ferrule.model.squad import Runner
from ferrule.squad.anchor_cells import race_day
from ferrule.squad.cell import Cell
from ferrule.squad.table import Row, read_table


def moved_race_cells(data: bytes, file: str, runner: Runner, was: date, to: date) -> dict[str, str]:
    """Column -> what its cell says when the race of `was` is on `to`: the anchor, the list of races, or both.

    Words beside a date in `races` stay. Empty when neither cell names that day.
    """
    row = _row(data, file, runner)
    if row is None:
        return {}
    cells: dict[str, str] = {}
    anchor = runner.anchor
    if anchor is not None and anchor.kind == "to race" and anchor.day == was:
        cells["anchor"] = f"to race {to.isoformat()}"
    races = row.cell("races")
    parts = re.split(r"([;\n])", races.text)
    for n, part in enumerate(parts):
        if part.strip(" ;\n") and race_day(Cell(part, races.span).plain.strip(" ,."), anchor) == was:
            parts[n] = _with_day(part, to)
    if "".join(parts) != races.text:
        cells["races"] = "".join(parts)
    return cells


def with_cells(data: bytes, file: str, runner: Runner, cells: Mapping[str, str]) -> bytes | None:
    """The file with these cells of the runner's row; None where that cannot be done without touching more.

    That is so for a file that is not UTF-8, a row over several lines, and a column that is not there.
    """
    table, _ = read_table(data, file)
    mark = data[:3] if data.startswith(b"\xef\xbb\xbf") else b""
    try:
        lines = list(io.StringIO(data[len(mark) :].decode("utf-8"), newline=""))
    except UnicodeDecodeError:
        return None
    if _row(data, file, runner) is None or not set(cells) <= set(table.columns):
        return None
    line = lines[runner.span.line - 1]
    end = line[len(line.rstrip("\r\n")) :]
    try:
        rows = list(csv.reader([line], delimiter=table.mark, strict=True))
    except csv.Error:
        return None
    if len(rows) != 1:
        return None
    row = rows[0] + [""] * (max(table.columns.values()) - len(rows[0]))
    for column, text in cells.items():
        row[table.columns[column] - 1] = text
    out = io.StringIO()
    csv.writer(out, delimiter=table.mark, lineterminator=end).writerow(row)
    lines[runner.span.line - 1] = out.getvalue()
    return mark + "".join(lines).encode("utf-8")


def _row(data: bytes, file: str, runner: Runner) -> Row | None:
    return next((r for r in read_table(data, file)[0].rows if r.line == runner.span.line), None)


def _with_day(part: str, to: date) -> str:
    """`part` with its date replaced. Words are read after a full date only; any other entry is its date alone."""
    found = re.match(r"\s*(?:\d{4}-\d{1,2}-\d{1,2}|\d{1,2} [A-Za-z]+ \d{4})(?= )", part)
    lead = part[: len(part) - len(part.lstrip())]
    return lead + to.isoformat() + (part[found.end() :] if found else "")
