"""`ferrule check FILE`: read a file or a whole workspace and say what was noticed; --fix mends what is safe to mend."""

from __future__ import annotations

import difflib
import json
import sys
from collections.abc import Mapping
from pathlib import Path

from ferrule.check.mend import Mended, mend
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import as_data, counted, may_style, render, terminal_width
from ferrule.cli.stop import Stop
from ferrule.model.finding import Finding, has_errors, in_order

MORE = """\
FILE is a programme (.md), a squad list (.csv), house.toml, or a folder that holds them.
house.toml and library/*.toml beside the file are read with it. Exit code 1 when an error was noticed.
--fix mends a programme where that cannot change what a runner does: kit that `needs:` does not name, sides and units
that are read but not written, one word for effort. It shows the differences; --write keeps them."""


def run(words: list[str]) -> int:
    """Read, check, print; or mend. Returns the exit code."""
    parser = parser_for("check", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="file or workspace to read")
    parser.add_argument("--fix", action="store_true", help="show what can be mended safely in the programme")
    parser.add_argument("--write", action="store_true", help="with --fix: change the file")
    add_json(parser)
    args = parser.parse_args(words)
    if args.write and not args.fix:
        parser.error("--write belongs to --fix")
    if args.fix and args.json:
        parser.error("--fix shows differences, not data; give --fix or --json")
    if args.fix:
        return _fix(args.file, write=args.write)
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


def _fix(path: Path, *, write: bool) -> int:
    """Show or keep the safe fixes of a programme; what is left goes to standard error. Returns the exit code."""
    file = path / ws.PROGRAMME if path.is_dir() else path
    if file.suffix.lower() in (".csv", ".tsv", ".toml"):
        raise Stop(f"{file} is no programme", "--fix mends programmes; squad lists and house rules stay as written")
    around = ws.surroundings(file.parent)
    data, findings = ws.read_bytes(file)
    text = _text(data)
    if data is None or text is None:
        print(f"{file} could not be read as UTF-8 text and stays as it is")
        print(render(findings, {}, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)
        return 1
    mended = mend(text, str(file), around.library, around.house)
    changed = mended.text != text
    if write and changed:
        ws.write_bytes(file, mended.text.encode("utf-8"))
    _show(text, mended, file, written=write)
    left = in_order((*around.findings, *mended.left))
    print(f"left: {counted(left)}", file=sys.stderr)
    return 1 if has_errors(left) else 0


def _text(data: bytes | None) -> str | None:
    """The text with its line ends and mark as they are; None when it is no UTF-8."""
    try:
        return None if data is None else data.decode("utf-8")
    except UnicodeDecodeError:
        return None


def _show(before: str, mended: Mended, path: Path, *, written: bool) -> None:
    if mended.text == before:
        print(f"{path}: nothing that can be mended safely")
        return
    if not written:
        old, new = before.splitlines(), mended.text.splitlines()
        print("\n".join(difflib.unified_diff(old, new, str(path), f"{path} mended", lineterm="")), end="\n\n")
    for finding in mended.done:
        print(f"{finding.code}: {finding.what}")
    many = len(mended.done)
    said = "1 finding" if many == 1 else f"{many} findings"
    print(f"{path} written: {said} mended" if written else f"{said} would be mended; --write keeps it")
