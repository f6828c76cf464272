"""`ferrule paste FILE`: an old programme, copied as plain text, into the notation."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import as_data, may_style, render, terminal_width
from ferrule.cli.stop import Stop
from ferrule.model.finding import has_errors
from ferrule.programme.paste import paste

MORE = """\
FILE is plain text: save a mail, a note or a document as text, or copy the cells of a spreadsheet into a file.
What was not understood stays where it stood, and is said. Read the result before it is used."""


def run(words: list[str]) -> int:
    """Show or write what the text becomes. Returns the exit code."""
    parser = parser_for("paste", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="the old programme as text")
    parser.add_argument("--write", metavar="OUT", type=Path, help="write the programme to this file, which must be new")
    add_json(parser)
    args = parser.parse_args(words)
    if args.write is not None and args.write.exists():
        raise Stop(f"{args.write} exists already", "name a file that is not there yet")
    around = ws.surroundings(args.file.parent)
    data, findings = ws.read_bytes(args.file)
    found, noticed = paste(data or b"", str(args.file), around.library)
    findings = (*around.findings, *findings, *noticed)
    if args.write is not None and found.text:
        ws.write_text(args.write, found.text)
    if args.json:
        lines = [{"line": p.line, "became": p.became, "text": p.text} for p in found.lines]
        print(
            json.dumps(
                {"text": found.text, "lines": lines, "findings": as_data(findings)}, indent=2, ensure_ascii=False
            )
        )
    elif args.write is None:
        print(found.text, end="")
    else:
        print(
            f"{args.write} written; `ferrule check {args.write}` says what is still open"
            if found.text
            else "nothing to write"
        )
    if findings and not args.json:
        sources = {**around.sources, **({} if data is None else {str(args.file): ws.text_of(data)})}
        print(render(findings, sources, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)
    return 1 if has_errors(findings) else 0
