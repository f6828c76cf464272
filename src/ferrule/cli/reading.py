"""A programme file read with the exercises of its folder, for commands that read and do not check."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.findings import plain
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.programme import Programme
from ferrule.programme.reader import read_programme


@dataclass(frozen=True, slots=True)
class ReadFile:
    """A programme as read, what was noticed while reading it, and the texts the findings point into."""

    programme: Programme
    library: Library
    findings: tuple[Finding, ...]
    sources: Mapping[str, str]


def read_file(path: Path) -> ReadFile:
    """Read a programme. Raises Stop when there is no such file or it cannot be opened; anything else is a finding."""
    data, noticed = ws.read_bytes(path)
    around = ws.surroundings(path.parent)
    if data is None:
        return ReadFile(Programme(str(path), "", 0, None, (), (), ()), around.library, noticed, {})
    programme, findings = read_programme(data, str(path), around.library)
    if not programme.cycles:
        findings = (*findings, _nothing(path))
    kept = in_order((*around.findings, *noticed, *findings))
    return ReadFile(programme, around.library, kept, {**around.sources, str(path): ws.text_of(data)})


def _nothing(path: Path) -> Finding:
    return Finding(
        "programme-empty", "error", "No week was found in this file.", "There is nothing to lay out or to compare.",
        "Name a programme; `docs/notation.md` shows how one is written.", Span(str(path), 1),
    )  # fmt: skip


def indented(text: str, width: int) -> str:
    """Lines within `width` columns, what goes on indented further; no control characters."""
    out: list[str] = []
    for line in text.split("\n"):
        said = plain(line)
        indent = " " * (len(said) - len(said.lstrip()))
        out += textwrap.wrap(
            said.lstrip(), width, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False
        ) or [""]
    return "\n".join(out)
