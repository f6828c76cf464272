"""`ferrule backup WORKSPACE FILE`: the record copied to one file, also while it is in use."""

from __future__ import annotations

from pathlib import Path

from ferrule.cli.arguments import parser_for
from ferrule.cli.record import HELP, record_file, stop_for
from ferrule.store.record import RecordError

MORE = """\
The copy is of one moment, and every digest in it is checked before it gets its name. Copying the file by hand while a
command runs may lose what was written last. The programme, squad list and house rules are plain files: copy them too."""


def run(words: list[str]) -> int:
    """Copy and check. Returns the exit code."""
    parser = parser_for("backup", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help=HELP)
    parser.add_argument("file", metavar="FILE", type=Path, help="file to write; must not exist yet")
    args = parser.parse_args(words)
    path = record_file(args.workspace)
    from ferrule.store.backup import back_up

    try:
        rows = back_up(path, args.file)
    except RecordError as fault:
        raise stop_for(fault) from None
    print(f"{args.file}: {rows} rows, checked")
    return 0
