"""`ferrule tidy FILE`: a programme in its plain written form."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import parser_for
from ferrule.cli.findings import may_style, render, terminal_width
from ferrule.model.finding import has_errors
from ferrule.programme.tidy import tidy

MORE = """\
Without --write nothing is changed: the differences are shown, old lines with -, new ones with +.
What cannot be read stays as it was, and is said."""


def run(words: list[str]) -> int:
    """Show or keep the tidied text. Returns the exit code."""
    parser = parser_for("tidy", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="programme to tidy")
    parser.add_argument("--write", action="store_true", help="change the file")
    args = parser.parse_args(words)
    around = ws.surroundings(args.file.parent)
    data, findings = ws.read_bytes(args.file)
    if data is None:
        print(f"{args.file} could not be read and stays as it is")
    else:
        text, noticed = tidy(data, str(args.file), around.library)
        findings = (*findings, *noticed)
        if any(f.code.startswith("file-") and f.level == "error" for f in noticed):
            print(f"{args.file} could not be read whole and stays as it is")
        else:
            changed = text.encode("utf-8") != data
            if args.write and changed:
                ws.write_text(args.file, text)
            _show(ws.text_of(data), text, args.file, changed=changed, written=args.write)
    if findings:
        sources = {} if data is None else {str(args.file): ws.text_of(data)}
        print(render(findings, sources, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)
    return 1 if has_errors(findings) else 0


def _show(before: str, after: str, path: Path, *, changed: bool, written: bool) -> None:
    if not changed:
        print(f"{path} is tidy")
        return
    lines = list(
        difflib.unified_diff(before.splitlines(), after.splitlines(), str(path), f"{path} tidied", lineterm="")
    )
    new = sum(line.startswith("+") for line in lines) - 1 if lines else 0
    old = sum(line.startswith("-") for line in lines) - 1 if lines else 0
    if written:
        print(f"{path} written: {old} lines became {new}")
        return
    print("\n".join(lines) if lines else f"{path}: only line endings or the encoding would change")
    print(f"\n{old} lines would become {new}; --write keeps it")
