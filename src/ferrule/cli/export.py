"""`ferrule export WORKSPACE DIR`: everything the record keeps, as JSON and CSV."""

from __future__ import annotations

from pathlib import Path

from ferrule.cli.arguments import parser_for
from ferrule.cli.record import HELP, opened_file, print_findings, record_file
from ferrule.cli.stop import Stop
from ferrule.cli.workspace import write_bytes
from ferrule.store.export import JSON_FILE, READING, sound, to_csv, to_json

MORE = f"""\
{JSON_FILE} holds everything; so do the CSV files beside it. `ferrule import` reads either. The tables in {READING}/ are
for people and spreadsheets and are not read back. What is written is about people: keep it as you keep the record."""


def run(words: list[str]) -> int:
    """Write the files. Returns the exit code."""
    parser = parser_for("export", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help=HELP)
    parser.add_argument("folder", metavar="DIR", type=Path, help="folder to write; must not exist yet or be empty")
    args = parser.parse_args(words)
    path = record_file(args.workspace)
    folder: Path = args.folder
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Stop(f"{folder} exists and is not an empty folder", "name a new one, so that nothing is overwritten")
    with opened_file(path) as record:
        kept, altered = sound(record.everything()), record.altered()
    for name, data in {JSON_FILE: to_json(kept), **to_csv(kept)}.items():
        write_bytes(folder / name, data)
    print(
        f"{len(kept.weeks)} sent weeks, {len(kept.clearances)} clearances, {len(kept.entries)} entries, "
        f"{len(kept.erasures)} erasures written to {folder}"
    )
    print_findings(altered)
    return 1 if altered else 0
