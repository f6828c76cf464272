"""`ferrule log WORKSPACE FILE...`: what runners told is kept: files of phone pages, tables, typed lines."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, add_workspace, day, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import as_data, may_style, plain, render, terminal_width
from ferrule.cli.log_show import as_told, told_table
from ferrule.cli.record import opened_file
from ferrule.cli.stop import Stop
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, has_errors, in_order
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import Runner, Squad
from ferrule.record.receive import Handed, Read, known_beside, receive
from ferrule.record.standing import standing
from ferrule.record.typed_file import runner_names
from ferrule.squad.place import monday_of
from ferrule.store.record import Record

MORE = """\
FILE is what a phone page gave back, a table (CSV) from a spreadsheet, or typed lines; `-` is standard input. A typed file
has a head line for each runner and day, as `R07 Thu 22 Jan`, and below it lines as `Step-up: 6, 6, 5/side, 12 kg, 1 RIR`.
With --runner and --on no head line is needed, and without FILE the lines are read from standard input. Handing the same
file over again doubles nothing. docs/log.md says how each is written, and what becomes of what is odd."""
STDIN = "-"
MOST_BYTES = 20_000_000
"""A larger file is not read: a table of 100,000 sets has about 6 million bytes."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one file. new: kept now; known: there already; findings: what is odd."""

    file: str
    read: Read
    new: int
    known: int
    findings: tuple[Finding, ...]


def run(words: list[str]) -> int:
    """Keep what the files tell, or show what stands. Returns the exit code."""
    args = _arguments(words)
    now = datetime.now(UTC)
    around, squad, sources = _squad(args.workspace)
    if args.show:
        return _show(args, squad, around.library)
    runner = _named_runner(squad, args.runner).id if args.runner else ""
    texts = {name: _bytes(name) for name in args.files or [STDIN]}
    outcomes = []
    with _record(args.workspace, dry=args.dry) as record:
        handed = handed_over(squad, around.library, record, now, runner, args.on, instead=args.instead)
        for name, data in texts.items():
            outcomes.append(keep(_named(name), data, handed, record, now, dry=args.dry))
            handed = handed_over(squad, around.library, record, now, runner, args.on, instead=args.instead)
    findings = in_order(f for o in outcomes for f in o.findings)
    if args.json:
        print(json.dumps(_data(outcomes, args.dry), indent=2, ensure_ascii=False))
    else:
        print("\n".join(_table(outcomes, args.dry)))
        shown = {**sources, **{_named(n): ws.text_of(d) for n, d in texts.items()}}
        if findings:
            print("\n" + render(findings, shown, width=terminal_width(), styled=may_style(sys.stdout)))
    return 1 if has_errors(findings) else 0


def keep(file: str, data: bytes, handed: Handed, record: Record | None, now: datetime, *, dry: bool = False) -> Outcome:
    """Read one file and keep what it tells; with `dry`, or without a record, nothing is kept."""
    read = receive(data, file, handed)
    if record is None or dry:
        there = {e.entry_id for e in known_beside(read.entries, handed)}
        known = sum(e.entry_id in there for e in read.entries)
        return Outcome(file, read, len(read.entries) - known, known, read.findings)
    added = record.add(read.entries, now)
    return Outcome(file, read, added.new, added.known, (*read.findings, *added.findings))


def handed_over(
    squad: Squad,
    library: Library,
    record: Record | None,
    now: datetime,
    runner_id: str = "",
    on: date | None = None,
    *,
    instead: bool = False,
) -> Handed:
    """What files are read against: the squad, the library and the record as it is now."""
    today = now.astimezone().date()
    by_id: dict[str, FittedWeek | None] = {}

    def copies(copy_id: str) -> FittedWeek | None:
        if copy_id not in by_id:
            found = None if record is None else record.copy(copy_id)
            by_id[copy_id] = None if found is None else found.week
        return by_id[copy_id]

    @cache
    def weeks(who: str, monday: date) -> tuple[FittedWeek, str] | None:
        found = None if record is None else record.latest(who, monday)
        if found is None:
            return None
        by_id[found.copy_id] = found.week
        return found.week, found.copy_id

    @cache
    def known(who: str, since: date) -> tuple[Entry, ...]:
        return () if record is None else record.entries(who, since)

    return Handed(
        squad, library, today, now, copies, lambda who, d: weeks(who, monday_of(d)), known, runner_id,
        on or (today if runner_id else None), instead,
    )  # fmt: skip


def _arguments(words: list[str]) -> argparse.Namespace:
    parser = parser_for("log", MORE)
    add_workspace(parser)
    parser.add_argument("files", metavar="FILE", nargs="*", help="what was handed over; `-` is standard input")
    parser.add_argument("--runner", metavar="R", help="whose the typed lines are; a file of another runner is refused")
    parser.add_argument("--on", metavar="DATE", type=day, help="day of the typed lines; today when left out")
    parser.add_argument(
        "--instead", action="store_true", help="what is typed or tabled stands over what was told, by a page as well"
    )
    parser.add_argument("--show", metavar="RUNNER", help="list what stands for a runner, newest week first")
    parser.add_argument("--dry", action="store_true", help="say what would be taken, and keep nothing")
    add_json(parser)
    args = parser.parse_args(words)
    if args.show and (args.files or args.runner or args.on or args.dry or args.instead):
        parser.error("--show lists what stands; it takes no file")
    if args.on is not None and not args.runner:
        parser.error("--on needs --runner")
    if not args.show and not args.files and not args.runner:
        parser.error("name a file, or give --runner and write the lines on standard input")
    if args.files.count(STDIN) > 1:
        parser.error("standard input can be read once")
    return args


def _squad(folder: Path) -> tuple[ws.Surroundings, Squad, dict[str, str]]:
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}", "`ferrule new DIR` makes a workspace to start from")
    around = ws.surroundings(folder)
    squad, _, sources = ws.squad_of(folder / ws.SQUAD, around)
    return around, squad, {**around.sources, **sources}


@contextmanager
def _record(folder: Path, *, dry: bool) -> Iterator[Record | None]:
    """The record; none for a dry reading where none is there yet."""
    if dry and not (folder / ws.RECORD).exists():
        yield None
        return
    with opened_file(folder / ws.RECORD) as record:
        yield record


def _named_runner(squad: Squad, text: str) -> Runner:
    """The runner of an id, or of a name that only one runner has. Raises Stop."""
    return runner_of(squad, runner_names(squad).get(" ".join(text.lower().split()), text))


def _named(name: str) -> str:
    return "standard input" if name == STDIN else name


def _bytes(name: str) -> bytes:
    if name == STDIN:
        return (
            sys.stdin.buffer.read(MOST_BYTES) if hasattr(sys.stdin, "buffer") else sys.stdin.read(MOST_BYTES).encode()
        )
    try:
        data = Path(name).read_bytes()
    except FileNotFoundError:
        raise Stop(f"there is no file {name}", "check the name and the folder") from None
    except OSError as fault:
        raise Stop(f"{name} cannot be read: {fault.strerror or fault}") from None
    if len(data) > MOST_BYTES:
        raise Stop(
            f"{name} has {len(data) / 1e6:.0f} million bytes", f"hand over at most {MOST_BYTES // 1_000_000} at once"
        )
    return data


def _show(args: argparse.Namespace, squad: Squad, library: Library) -> int:
    runner = _named_runner(squad, args.show)
    entries: tuple[Entry, ...] = ()
    with _record(args.workspace, dry=True) as record:
        if record is not None:
            entries = standing(record.entries(runner.id))
    if args.json:
        print(json.dumps(as_told(entries, library), indent=2, ensure_ascii=False))
    else:
        print("\n".join(told_table(runner, entries, library, terminal_width())))
    return 0


def _table(outcomes: list[Outcome], dry: bool) -> list[str]:
    """A line a file: whose it is, how much was taken, known already, odd."""
    rows = [("file", "runner", "would take" if dry else "taken", "known already", "odd")]
    for o in outcomes:
        runners = list(dict.fromkeys(e.runner_id for e in o.read.entries))
        who = ", ".join(runners[:3]) + (f" and {len(runners) - 3} more" if len(runners) > 3 else "")
        corrected = f" ({o.read.corrected} corrected)" if o.read.corrected else ""
        rows.append((plain(o.file), plain(who) or "-", f"{o.new}{corrected}", str(o.known), str(len(o.findings))))
    wide = [max(len(row[i]) for row in rows) for i in range(5)]
    return ["  ".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)).rstrip() for row in rows]


def _data(outcomes: list[Outcome], dry: bool) -> dict[str, object]:
    return {
        "dry": dry,
        "files": [
            {
                "file": o.file,
                "kind": o.read.kind,
                "runners": list(dict.fromkeys(e.runner_id for e in o.read.entries)),
                "taken": o.new,
                "known": o.known,
                "corrected": o.read.corrected,
                "findings": as_data(o.findings),
            }
            for o in outcomes
        ],
    }
