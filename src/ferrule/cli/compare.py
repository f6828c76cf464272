"""`ferrule compare OLD NEW`: what a runner will do differently, week by week."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path

from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import may_style, render, terminal_width
from ferrule.cli.reading import indented, read_file
from ferrule.model.finding import Finding, has_errors
from ferrule.programme.change import WeekChange, changes_text
from ferrule.programme.compare import compare

MORE = """\
Spelling, order of fields, comments and words for the coach are no difference. What was noticed while reading either
file goes to standard error; exit code 1 when an error is among it, as the comparison is then of what could be read."""


def run(words: list[str]) -> int:
    """Read both, compare, print. Returns the exit code."""
    parser = parser_for("compare", MORE)
    parser.add_argument("old", metavar="OLD", type=Path, help="programme as it was")
    parser.add_argument("new", metavar="NEW", type=Path, help="programme as it is now")
    add_json(parser)
    args = parser.parse_args(words)
    old, new = read_file(args.old), read_file(args.new)
    findings = (*old.findings, *new.findings)
    show(findings, {**old.sources, **new.sources})
    changes = compare(old.programme, new.programme)
    if args.json:
        print(json.dumps(as_data(changes), indent=2, ensure_ascii=False))
    else:
        print(wrapped(changes, terminal_width()))
    return 1 if has_errors(findings) else 0


def show(findings: tuple[Finding, ...], sources: Mapping[str, str]) -> None:
    """Findings on standard error; nothing when there are none."""
    if findings:
        print(render(findings, sources, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)


def wrapped(changes: tuple[WeekChange, ...], width: int) -> str:
    """The list of changes within `width` columns; one sentence when there are none."""
    if not changes:
        return "no difference in what a runner does"
    return indented(changes_text(changes), width)


def as_data(changes: Iterable[WeekChange]) -> dict[str, object]:
    """The same as plain data; `same` is true when nothing differs."""
    told = [
        {
            "weeks": list(part.weeks),
            "changes": [
                {
                    "kind": c.kind,
                    "level": c.where.level,
                    "session": c.where.session,
                    "block": c.where.block,
                    "line": c.where.line,
                    "alternative": c.where.alternative,
                    "what": c.what,
                    "old": c.old,
                    "new": c.new,
                    "also": list(c.also),
                }
                for c in part.changes
            ],
        }
        for part in changes
    ]
    return {"same": not told, "weeks": told}
