"""Findings as people read them in a terminal, and as data."""

from __future__ import annotations

import csv
import io
import os
import sys
import textwrap
import unicodedata
from collections.abc import Mapping, Sequence
from typing import TextIO

from ferrule.model.finding import Finding, Span, in_order

LABEL_WIDTH = 7  # "   why  text": the label ends where the line number ends


def render(findings: Sequence[Finding], sources: Mapping[str, str], *, width: int = 100, styled: bool = False) -> str:
    """All findings in order of place, a blank line between, and a closing line that counts them.

    sources   text of each file by the name its spans carry; a file that is missing shows no source line
    width     columns to wrap at
    styled    use bold and dim; nothing is said by it that the words do not say
    """
    ordered = in_order(findings)
    parts = [render_one(f, sources, width=width, styled=styled) for f in ordered]
    return "\n\n".join([*parts, counted(ordered)])


def render_one(finding: Finding, sources: Mapping[str, str], *, width: int = 100, styled: bool = False) -> str:
    """One finding: head, source line with a mark under it, and the lines what, why, fix, from."""
    head = f"{_bold(finding.code, styled)}   {finding.level}"
    if finding.span is not None:
        head += f"   {plain(str(finding.span))}"
    lines = [head]
    if finding.span is not None:
        lines += _source_lines(finding.span, sources.get(finding.span.file), width, styled)
    said = (("what", finding.what), ("why", finding.why), ("fix", finding.fix), ("from", _source(finding)))
    for label, text in said:
        if text:
            lines += _labelled(label, plain(text), width)
    lines += [f"{'also':>{LABEL_WIDTH}}  {plain(str(span))}" for span in finding.related]
    return "\n".join(lines)


def counted(findings: Sequence[Finding]) -> str:
    """How many of each level, in words: `1 error, 2 advice, no notes` is said as `1 error, 2 advice`."""
    if not findings:
        return "checked, nothing noticed"
    words = []
    for level, many in (("error", "errors"), ("advice", "advice"), ("note", "notes")):
        n = sum(f.level == level for f in findings)
        if n:
            words.append(f"{n} {level if n == 1 else many}")
    return ", ".join(words)


def as_data(findings: Sequence[Finding]) -> list[dict[str, object]]:
    """The same as plain data in the same order; the keys are stable."""
    return [
        {
            "code": f.code,
            "level": f.level,
            "file": f.span.file if f.span else None,
            "line": f.span.line if f.span else None,
            "column": f.span.column if f.span else None,
            "end_column": f.span.end_column if f.span else None,
            "what": f.what,
            "why": f.why,
            "fix": f.fix,
            "source": f.source,
            "strength": f.strength,
            "can_be_mended": bool(f.edits),
            "related": [{"file": s.file, "line": s.line, "column": s.column} for s in f.related],
        }
        for f in in_order(findings)
    ]


def terminal_width() -> int:
    """Columns of the terminal, at most 100; 100 when the output is no terminal and COLUMNS is not set."""
    columns = os.environ.get("COLUMNS", "")
    if columns.isdigit() and int(columns) > 0:
        return max(40, min(100, int(columns)))
    try:
        return max(40, min(100, os.get_terminal_size(sys.stdout.fileno()).columns))
    except (OSError, ValueError):
        return 100


def may_style(stream: TextIO) -> bool:
    """True on a terminal that shows bold, unless NO_COLOR is set."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def plain(text: str) -> str:
    """Text without control characters, so that a file cannot steer the terminal; tabs become one space."""
    return "".join(" " if c == "\t" else c if unicodedata.category(c) not in ("Cc", "Cf", "Cs") else "?" for c in text)


def columns_of(text: str) -> int:
    """How many terminal columns `text` takes: wide characters two, combining marks none."""
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in ("W", "F") else 1 for c in text
    )


def _source(finding: Finding) -> str:
    """The source, and how strong the evidence is unless the source says it itself."""
    if not finding.strength or finding.source.startswith(finding.strength):
        return finding.source
    return f"{finding.source}; evidence: {finding.strength}"


def _bold(text: str, styled: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if styled else text


def _labelled(label: str, text: str, width: int) -> list[str]:
    start = f"{label:>{LABEL_WIDTH}}  "
    return textwrap.wrap(
        text, width, initial_indent=start, subsequent_indent=" " * len(start), break_on_hyphens=False
    ) or [start.rstrip()]


def _source_lines(span: Span, text: str | None, width: int, styled: bool) -> list[str]:
    """The line of the file and a mark under the place; nothing when the file or the line is not there."""
    line = _line(text, span.line)
    if line is None or not line.strip():
        return []
    start, end = (
        _field(line, span.column) if span.file.endswith(".csv") else (span.column - 1, (span.end_column or 0) - 1)
    )
    start = max(0, min(start, len(line)))
    end = min(max(end, start + 1), max(len(line), start + 1))
    gutter = f"{span.line:>{LABEL_WIDTH}} | "
    room = max(20, width - len(gutter))
    line, start, end = _cropped(line, start, end, room)
    shown = plain(line)
    mark = " " * columns_of(shown[:start]) + "^" * max(1, columns_of(shown[start:end]))
    body = f"\x1b[2m{shown}\x1b[0m" if styled else shown
    return [gutter + body, f"{'':>{LABEL_WIDTH}} | {mark}"]


def _line(text: str | None, number: int) -> str | None:
    if text is None:
        return None
    lines = text.split("\n", number)
    return lines[number - 1].rstrip("\r") if len(lines) >= number >= 1 else None


def _field(line: str, number: int) -> tuple[int, int]:
    """First and last character of field `number` (from 1) of one line of a table file."""
    delimiter = max(",;\t", key=line.count)
    try:
        fields = next(csv.reader(io.StringIO(line), delimiter=delimiter, quotechar='"'), [])
    except csv.Error:
        return 0, 1
    at = 0
    for index, field in enumerate(fields, start=1):
        quoted = line[at : at + 1] == '"'
        length = len(field) + field.count('"') + 2 if quoted else len(field)
        if index == number:
            return at, at + length
        at += length + 1
    return 0, 1


def _cropped(line: str, start: int, end: int, room: int) -> tuple[str, int, int]:
    """The part of a long line around the place, with dots where it was cut."""
    if len(line) <= room:
        return line, start, end
    first = 0 if start < room - 8 else start - room // 3
    part = line[first : first + room - 6]
    before, after = ("..." if first else ""), ("..." if first + len(part) < len(line) else "")
    shift = len(before) - first
    return before + part + after, start + shift, min(end + shift, len(before) + len(part))
