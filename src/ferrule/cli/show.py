"""`ferrule show FILE --week N`: one week of a programme written out in full, for the coach."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from ferrule.check.minutes import written_minutes
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, parser_for
from ferrule.cli.compare import show
from ferrule.cli.findings import terminal_width
from ferrule.cli.reading import ReadFile, indented, read_file
from ferrule.cli.stop import Stop
from ferrule.deliver.score import scores_of_week
from ferrule.deliver.written import written_text, written_week
from ferrule.deliver.written_page import written_page
from ferrule.model.finding import has_errors
from ferrule.model.programme import ProgrammeWeek
from ferrule.programme.change import weeks_text
from ferrule.programme.compare import weeks_there
from ferrule.programme.text import item_text
from ferrule.programme.weeks import cycle_of, week_of

MORE = """\
By-week tables are applied. What stands after `coach:` is shown, as this is for the coach: page and picture are not
for runners. What was noticed while reading goes to standard error; exit code 1 when an error is among it."""


def run(words: list[str]) -> int:
    """Read, lay out the week, print and write. Returns the exit code."""
    parser = parser_for("show", MORE)
    parser.add_argument("file", metavar="FILE", type=Path, help="programme to read")
    parser.add_argument("--week", metavar="N", type=number_of_week, required=True, help="week of the programme, from 1")
    parser.add_argument("--page", metavar="FILE.html", type=Path, help="also write the week as a page to this file")
    parser.add_argument(
        "--score", metavar="FILE.svg", type=Path, help="also write the score of its sessions to this file"
    )
    add_json(parser)
    args = parser.parse_args(words)
    read = read_file(args.file)
    show(read.findings, read.sources)
    week = _week(read, args.week)
    if args.page:
        ws.write_text(args.page, written_page(read.programme, week, read.library))
    if args.score:
        ws.write_text(args.score, scores_of_week(week.sessions, read.library))
    if args.json:
        print(json.dumps(as_data(read, week), indent=2, ensure_ascii=False))
    else:
        print(indented(written_text(written_week(read.programme, week, read.library)), terminal_width()))
    return 1 if has_errors(read.findings) else 0


def number_of_week(text: str) -> int:
    """A week of the programme. Raises argparse.ArgumentTypeError for a date and for what is no number from 1."""
    if text.isdecimal() and len(text) <= 4 and int(text) > 0:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no week of a programme; weeks are counted from 1, as --week 2")


def _week(read: ReadFile, number: int) -> ProgrammeWeek:
    """The week. Raises Stop with the weeks there are."""
    there = sorted(weeks_there(read.programme))
    week = week_of(read.programme, number, every_version=True) if number in there else None
    if week is None:
        have = f"it has {weeks_text(there).lower()}" if there else "no week of it could be read"
        raise Stop(f"{read.programme.file} has no week {number}", have)
    return week


def as_data(read: ReadFile, week: ProgrammeWeek) -> dict[str, object]:
    """The week as plain data: the fields of the model, and beside them each line's text and each session's minutes."""
    import msgspec

    data: dict[str, object] = msgspec.to_builtins(week)
    sessions: list[dict[str, object]] = data["sessions"]  # type: ignore[assignment]
    for said, session in zip(sessions, week.sessions, strict=True):
        said["minutes_counted"] = round(written_minutes(session, read.library), 1)
        blocks: list[dict[str, list[dict[str, object]]]] = said["blocks"]  # type: ignore[assignment]
        for lines, block in zip(blocks, session.blocks, strict=True):
            for line, item in zip(lines["items"], block.items, strict=True):
                line["text"] = item_text(item)
    cycle = cycle_of(read.programme, week.week)
    data["coach_notes"] = [*read.programme.coach_notes, *(cycle.coach_notes if cycle else ())]
    return data
