"""`ferrule restore WORKSPACE FILE`: a backup put in the place of the record."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from ferrule.cli.arguments import parser_for
from ferrule.cli.record import record_file, stop_for
from ferrule.store.record import RecordError

MORE = """\
The backup is checked first and is not changed. With anything in the record that is not in the backup it refuses, unless
--replace; what was there is then kept in a file beside it."""


def run(words: list[str]) -> int:
    """Check and put back. Returns the exit code."""
    parser = parser_for("restore", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help="folder of the workspace")
    parser.add_argument("file", metavar="FILE", type=Path, help="a file that `ferrule backup` wrote")
    parser.add_argument("--replace", action="store_true", help="also when the record has what the backup has not")
    args = parser.parse_args(words)
    path = record_file(args.workspace, make=True)
    from ferrule.store.backup import restore

    try:
        done = restore(path, args.file, datetime.now(UTC), replace=args.replace)
    except RecordError as fault:
        raise stop_for(fault) from None
    print(f"{done.rows} rows restored from {args.file}")
    if done.aside:
        print(f"what was there before is in {done.aside}")
    if done.erasures:
        print(f"{done.erasures} erased since this backup: whoever it was is back in the record; erase them again")
    return 0
