"""`ferrule spread FILE SQUAD.csv`: for how many of the squad each written line is too easy, right or too hard."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.findings import plain, render, terminal_width
from ferrule.cli.fitting import in_processes
from ferrule.fit.one_change import OneChange, one_change
from ferrule.fit.while_writing import Spread, WrittenLine, spread
from ferrule.model.finding import has_errors
from ferrule.model.squad import Squad
from ferrule.squad.place import first_monday

MORE = """\
Each line is weighed as it is written, for one week of the programme; nothing is fitted and nothing is kept.
--suggest fits the squad with one change of the text after the other, and takes some seconds a runner.
house.toml and library/*.toml beside FILE are read with it. A programme with errors is read as far as it can be."""


def run(words: list[str]) -> int:
    """Weigh every line for every runner and print it. Returns the exit code."""
    parser = parser_for("spread", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="programme")
    parser.add_argument("squad", metavar="SQUAD.csv", type=Path, help="squad list")
    parser.add_argument("--week", metavar="N", type=_week, help="week of the programme; the first when left out")
    parser.add_argument(
        "--suggest", action="store_true",
        help="also find the single change of the text that would bring most runners back, by fitting with each",
    )  # fmt: skip
    add_json(parser)
    args = parser.parse_args(words)
    around = ws.surroundings(args.file.parent)
    data, noticed = ws.read_bytes(args.file)
    squad, squad_findings, sources = ws.squad_of(args.squad, around)
    found = spread(data or b"", squad, around.library, around.house, args.week)
    change = _suggest(data or b"", squad, around, found) if args.suggest else None
    if args.json:
        told = as_data(found) if change is None else {**as_data(found), "suggest": suggested_data(change)}
        print(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        print(shown(found, str(args.file)))
        if change is not None:
            print(f"\n{suggested(change)}")
    findings = (*around.findings, *noticed, *squad_findings)
    if findings:
        print(render(findings, {**around.sources, **sources}, width=terminal_width()), file=sys.stderr)
    return 1 if has_errors(findings) or found.week is None else 0


def _suggest(data: bytes, squad: Squad, around: ws.Surroundings, found: Spread) -> OneChange | None:
    """The single change, for the calendar week in which the first runner counted stands in that week."""
    monday = next((d for r in squad.runners if (d := first_monday(r, 520)) is not None and r.id in found.counted), None)
    if found.week is None or monday is None:
        return None
    many = sys.stderr.isatty()

    def progress(done: int, of: int, what: str) -> None:
        if many:
            sys.stderr.write(f"\rtrying {done} of {of} changes: {plain(what)[:40]}\x1b[K")
            sys.stderr.flush()

    day = monday + timedelta(weeks=found.week - 1)
    ask = partial(one_change, ws.text_of(data), squad, around.library, around.house, day, progress=progress)
    return in_processes(lambda workers: ask(workers=workers), len(squad.runners))


def suggested(change: OneChange) -> str:
    """The change that brings most back, and the next best, each as text."""
    tried = f"{change.tried} of {change.possible} single changes of the text tried by fitting again"
    head = f"{change.off} lines of all runners are not as written; {tried}"
    if not change.suggestions:
        return f"{head}: none brings anybody back"
    out = [f"{head}:"]
    for n, s in enumerate(change.suggestions, 1):
        lost = f", {len(s.off)} others go off the text" if s.off else ""
        out.append(f"{n}. session {s.session_key} {s.item_key}, {plain(s.edit.what)}: {s.net} come back{lost}")
        for at, old, new in s.edit.lines:
            out += [f"     {at:>4} - {plain(old)}"] if old else []
            out.append(f"     {at:>4} + {plain(new)}")
        out.append(f"          {', '.join(s.runners)}")
    return "\n".join(out)


def suggested_data(change: OneChange) -> dict[str, Any]:
    """The same as plain data, without the whole texts."""
    return {
        "off": change.off, "tried": change.tried, "possible": change.possible,
        "changes": [
            {
                "session": s.session_key, "item": s.item_key, "kind": s.edit.kind, "what": s.edit.what, "back": s.net,
                "lines": [{"line": at, "old": old, "new": new} for at, old, new in s.edit.lines],
                "runners": list(s.runners), "goes_off": [{"runner": r, "session": a, "item": b} for r, (a, b) in s.off],
            }
            for s in change.suggestions
        ],
    }  # fmt: skip


def _week(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 520:
        raise argparse.ArgumentTypeError(f"{text!r} is no week of a programme; write its number, from 1")
    return int(text)


def as_data(found: Spread) -> dict[str, Any]:
    """The spread as data: `week`, `cycle`, `counted`, `left_out`, and one entry a line."""
    return {
        "week": found.week,
        "cycle": found.cycle_name,
        "counted": list(found.counted),
        "left_out": [{"runner": r, "why": why} for r, why in found.left_out],
        "lines": [_line(line) for line in found.lines.values()],
    }


def _line(line: WrittenLine) -> dict[str, Any]:
    return {
        "line": line.line, "session": line.session_key, "item": line.item_key, "written": line.written, "known": line.known,
        "too_easy": list(line.too_easy), "right": list(line.right), "too_hard": list(line.too_hard),
        "cannot": [{"runner": r, "why": why} for r, why in line.why], "not_dosed": list(line.not_dosed),
        "summary": line.summary,
    }  # fmt: skip


def shown(found: Spread, file: str) -> str:
    """The spread as lines: place, item, what is written, and for how many it is what."""
    if found.week is None:
        return f"{file}: no such week is written"
    head = f"week {found.week}" + (f": {found.cycle_name}" if found.cycle_name else "")
    out = [f"{head}; {len(found.counted)} runners counted, each line done as written"]
    wide = min(64, max((len(line.written) for line in found.lines.values()), default=0))
    session = ""
    for line in found.lines.values():
        if line.session_key != session:
            session = line.session_key
            out += ["", f"session {session}"]
        out.append(f"  {line.line:>4}  {line.item_key:<4} {_cut(line.written, wide):<{wide}}  {line.summary}")
    if found.left_out:
        out += ["", "not counted: " + "; ".join(f"{r} ({why})" for r, why in found.left_out)]
    return "\n".join(out)


def _cut(text: str, wide: int) -> str:
    return text if len(text) <= wide else text[: wide - 1] + "…"
