"""`ferrule check FILE`: read a file or a whole workspace and say what was noticed."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import as_data, counted, may_style, render, terminal_width
from ferrule.model.finding import Finding, has_errors, in_order

MORE = """\
FILE is a programme (.md), a squad list (.csv), house.toml, or a folder that holds them.
house.toml and library/*.toml beside the file are read with it. Exit code 1 when an error was noticed."""


def run(words: list[str]) -> int:
    """Read, check, print. Returns the exit code."""
    parser = parser_for("check", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="file or workspace to read")
    add_json(parser)
    args = parser.parse_args(words)
    findings, sources = checked(args.file)
    report(findings, sources, as_json=args.json)
    return 1 if has_errors(findings) else 0


def checked(path: Path) -> tuple[tuple[Finding, ...], Mapping[str, str]]:
    """Findings of one file, or of every file of a workspace, and the texts they point into."""
    if path.is_dir():
        whole = ws.open_workspace(path)
        return whole.findings, whole.sources
    if path.suffix == ".toml" and path.parent.name != ws.LIBRARY:
        _, findings, sources = ws.house_of(path)
        return in_order(findings), sources
    if path.suffix == ".toml":
        ws.read_bytes(path)
        around = ws.surroundings(path.parent.parent)
        return in_order(f for f in around.findings if f.span and f.span.file == str(path)), around.sources
    around = ws.surroundings(path.parent)
    if path.suffix.lower() in (".csv", ".tsv"):
        _, findings, sources = ws.squad_of(path, around)
    else:
        _, findings, sources = ws.programme_of(path, around)
    return in_order((*around.findings, *findings)), {**around.sources, **sources}


def report(findings: tuple[Finding, ...], sources: Mapping[str, str], *, as_json: bool) -> None:
    """Print findings to standard output, as people read them or as data."""
    if as_json:
        data = {"findings": as_data(findings), "summary": counted(findings)}
        print(json.dumps(data, indent=2, ensure_ascii=False))
    else:
        print(render(findings, sources, width=terminal_width(), styled=may_style(sys.stdout)))
