"""Cleaning a pasted line: spaces, quotes, bullets, marks of mail, cells of a spreadsheet."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ferrule.programme.scan import plain

_ZERO_WIDTH = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\ufeff\u00ad"))
_QUOTED = re.compile(r"^\s*(?:>\s?)+")
_BULLET = re.compile(
    r"^\s*(?:[•·●○◦▪▫■□◆◇‣⁃∙→➤►✦✓✔☐☑]\s*|[*+\-]\s+|-(?=[A-Za-z])|o\s+(?=\S)|\(?\d{1,2}[.)](?!\d)\s*|\[[ xX]?\]\s*|[a-z]\)\s+)"
)
_EMPHASIS = re.compile(r"(\*\*|__)(?=\S)(.+?)(?<=\S)\1")
_SIGNS = str.maketrans({"½": " 1/2", "\u2007": " ", "\u3000": " ", "…": "..."})
COLUMNS: dict[str, str] = {
    "exercise": "name", "exercises": "name", "movement": "name", "name": "name", "drill": "name",
    "sets": "sets", "set": "sets", "rounds": "sets", "reps": "reps", "rep": "reps", "reps/time": "reps", "time": "reps", "duration": "reps",
    "rest": "rest", "recovery": "rest", "tempo": "tempo", "load": "load", "weight": "load", "kg": "load", "rir": "rir", "rpe": "rpe",
    "notes": "note", "note": "note", "comments": "note", "comment": "note", "cues": "note", "#": "label", "order": "label",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cleaned:
    """A pasted line: `text` in plain signs without its bullet, and the cells of a row when it held tabs."""

    text: str
    bullet: bool
    indent: int
    cells: tuple[str, ...] = ()


def cleaned(raw: str) -> Cleaned:
    """The line without what copying brought along."""
    line = plain(raw.translate(_ZERO_WIDTH).translate(_SIGNS).replace("\t", "\x00")).replace("\x00", "\t")
    line = _QUOTED.sub("", line)
    indent = len(line.expandtabs(4)) - len(line.expandtabs(4).lstrip())
    bullet = False
    for _ in range(3):
        found = _BULLET.match(line)
        if not found or not line[found.end() :].strip():
            break
        bullet, line = True, line[found.end() :]
    line = re.sub(r"^\s*#{1,6}\s+", "", line)
    line = _EMPHASIS.sub(r"\2", line).strip()
    cells = tuple(" ".join(c.split()) for c in re.split(r"\t", line)) if "\t" in line else ()
    cells = cells if sum(bool(c) for c in cells) > 1 else ()
    return Cleaned(" ".join(line.split()).strip("*_ "), bullet, indent, cells)


def columns_of(cells: tuple[str, ...]) -> tuple[str, ...]:
    """What each cell of a first row stands for; empty when the row is no head of a table."""
    kinds = tuple(COLUMNS.get(c.lower().strip(" .:"), "") for c in cells)
    return kinds if "name" in kinds and sum(bool(k) for k in kinds) > 1 else ()


def row_text(cells: tuple[str, ...], columns: tuple[str, ...]) -> tuple[str, list[str]]:
    """A row as one line of text, and its notes."""
    if not columns:
        if re.fullmatch(r"[A-H]\d?[.)]?", cells[0]) and len(cells) > 2:
            text, more = row_text(cells[1:], ())
            return f"{cells[0].rstrip('.)')}) {text}", more
        rest = [c for c in cells[1:] if c]
        if len(rest) > 1 and rest[0].isdigit() and re.match(r"\d", rest[1]) and len(rest[0]) == 1:
            rest = [f"{rest[0]} x {rest[1]}", *rest[2:]]
        return f"{cells[0]}: {', '.join(rest)}", []
    by: dict[str, str] = {}
    notes: list[str] = []
    for n, cell in enumerate(cells):
        kind = columns[n] if n < len(columns) else "note"
        if cell and kind in ("note", ""):
            notes.append(cell)
        elif cell:
            by.setdefault(kind, cell)
    sets, reps = by.get("sets", ""), by.get("reps", "")
    amount = (
        f"{sets} x {reps}"
        if sets[:1].isdigit() and reps and sets.isdigit()
        else ", ".join(p for p in (sets and (f"{sets} sets" if sets.isdigit() else sets), reps) if p)
    )
    parts = [amount]
    for kind, lead, unit in (
        ("load", "", " kg"),
        ("rir", "", " RIR"),
        ("rpe", "RPE ", ""),
        ("tempo", "tempo ", ""),
        ("rest", "rest ", ""),
    ):
        cell = by.get(kind, "")
        if cell and cell.lower() not in ("-", "n/a", "none", "/"):
            bare = re.fullmatch(r"[\d.,\s-]+|[\dxX-]+", cell) is not None
            parts.append(
                f"{lead}{cell}{unit if bare else ''}" if lead.strip().lower() not in cell.lower() or not lead else cell
            )
    label = f"{by['label']}) " if re.fullmatch(r"[A-H]\d?", by.get("label", "")) else ""
    return f"{label}{by.get('name', '')}: {', '.join(p for p in parts if p)}", notes
