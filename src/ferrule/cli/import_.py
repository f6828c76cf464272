"""`ferrule import WORKSPACE DIR`: what an export holds is taken into the record."""

from __future__ import annotations

from pathlib import Path

from ferrule.cli.arguments import parser_for
from ferrule.cli.record import opened_file, print_findings, record_file
from ferrule.cli.stop import Stop
from ferrule.model.finding import Finding, has_errors
from ferrule.store.export import CSV_FILES, JSON_FILE, from_csv, from_json_file
from ferrule.store.kept import Kept

MORE = f"""\
Reads {JSON_FILE}, or the CSV files of an export when that is not there. Rows that are there already are known; importing
twice doubles nothing. What was altered, or contradicts the record, is left out and named."""


def run(words: list[str]) -> int:
    """Take the rows. Returns the exit code."""
    parser = parser_for("import", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help="folder of the workspace")
    parser.add_argument("folder", metavar="DIR", type=Path, help="folder that `ferrule export` wrote")
    args = parser.parse_args(words)
    path = record_file(args.workspace, make=True)
    kept, findings = read(args.folder)
    if has_errors(findings) and not kept.count:
        print_findings(findings)
        return 1
    with opened_file(path) as record:
        erased = record.erasures()
        taken = record.take(kept)
    print(f"{taken.new} new, {taken.known} there already")
    if erased and taken.new:
        print(
            f"{len(erased)} erased here, last on {erased[-1].at.date()}: if this export is older, erase that runner again"
        )
    print_findings((*findings, *taken.findings))
    return 1 if has_errors((*findings, *taken.findings)) else 0


def read(folder: Path) -> tuple[Kept, tuple[Finding, ...]]:
    """The rows of the export in a folder. Raises Stop when there is none."""
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}", "name the folder that `ferrule export` wrote")
    whole = folder / JSON_FILE
    try:
        if whole.is_file():
            return from_json_file(whole.read_bytes(), str(whole))
        files = {name: (folder / name).read_bytes() for name in CSV_FILES.values() if (folder / name).is_file()}
    except OSError as fault:
        raise Stop(f"{folder} cannot be read: {fault.strerror or fault}") from None
    if not files:
        raise Stop(f"{folder} holds no export", f"it has {JSON_FILE}, or {', '.join(CSV_FILES.values())}")
    return from_csv(files, str(folder))
