"""`ferrule demo --out DIR`: all of it once, with an invented squad: four weeks sent and told, and the fifth decided."""

from __future__ import annotations

import shutil
import sys
import time
from datetime import UTC, date, datetime, timedelta
from importlib.resources import files
from pathlib import Path

from ferrule.cli import demo_told
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import parser_for
from ferrule.cli.due import Listed, listed
from ferrule.cli.due import said as due_said
from ferrule.cli.findings import counted, terminal_width
from ferrule.cli.fit import outlook_of, plain_lines
from ferrule.cli.fitting import fit_next
from ferrule.cli.log import Outcome, handed_over, keep
from ferrule.cli.next_told import told_in
from ferrule.cli.reading import indented
from ferrule.cli.record import opened, with_clearances
from ferrule.cli.sheets import copies_of, current, write_signed
from ferrule.cli.sign import said, sign_week
from ferrule.cli.stop import Stop
from ferrule.deliver.document import html_of
from ferrule.deliver.proposals import proposals_document, summary_lines
from ferrule.deliver.summary import squad_page, squad_table
from ferrule.model.fitted import SquadWeek
from ferrule.store.record import Record

FIRST = date(2026, 1, 5)
WEEKS = 4
"""Weeks that are sent and told before the one that is shown."""
COACH = "The squad's coach"
FILES = (ws.PROGRAMME, ws.SQUAD, ws.HOUSE)

MORE = """\
The squad, the programme, the logs and every name in them are invented. Four weeks are sent and told, from 5 January 2026;
the fifth is decided from what was told, read and signed."""


def run(words: list[str]) -> int:
    """Write the workspace, play four weeks, decide the fifth, read back, sign, deliver. Returns the exit code."""
    parser = parser_for("demo", MORE)
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder to write to")
    out: Path = parser.parse_args(words).out
    start = time.perf_counter()
    workspace = with_clearances(ws.open_workspace(laid_out(out)))
    _step(start, f"checked {workspace.folder}: {counted(workspace.findings)}")
    play = demo_told.start(workspace.squad.runners, workspace.library, FIRST.year)
    for number in range(1, WEEKS + 1):
        monday = FIRST + timedelta(weeks=number - 1)
        found = fit_next(workspace, told_in(workspace, monday))
        sign_week(workspace, found.week, (), COACH, _evening(monday - timedelta(days=1)), told=found.told)
        copies = current(copies_of(workspace, monday))
        play, handed = demo_told.told(play, copies, workspace.library, number)
        outcomes = take(workspace, handed, out / "logs", _evening(monday + timedelta(days=6)))
        _step(start, f"week {number}: {len(copies)} signed; {told_line(outcomes)}")
        print("\n".join(odd_lines(outcomes)))
    decide(workspace, FIRST + timedelta(weeks=WEEKS), out, start)
    return 0


def decide(workspace: ws.Workspace, monday: date, out: Path, start: float) -> None:
    """The week of `monday` from what was told: proposals, read-back, list, signed copies and what leaves."""
    now = _evening(monday - timedelta(days=1))
    found = fit_next(workspace, told_in(workspace, monday))
    week = outlook_of(workspace, found)
    _step(start, f"fitted the week of {monday.isoformat()} to {len(week.outcomes)} runners, from what they told")
    print(plain_lines("\n".join(summary_lines(found.proposals))))
    print(plain_lines(squad_table(week, terminal_width())))
    title = workspace.programme.title
    ws.write_text(out / "next.html", html_of(proposals_document(found.proposals, monday, title)))
    ws.write_text(out / "squad.html", squad_page(week, workspace.library, workspace.house, squad=workspace.squad))
    with opened(workspace) as record:
        print(indented(due_lines(record, workspace, week, now.date()), terminal_width()))
    signed, unsigned = sign_week(workspace, week, (), COACH, now, told=found.told)
    print(said(signed, unsigned, COACH))
    _step(start, f"signed {len(signed)} weeks")
    written = write_signed(workspace, copies_of(workspace, monday), out / "sheets")
    _step(start, f"wrote {len(written)} files")
    print(
        f"\nWritten to {out}\n"
        f"  {'workspace/':<12} programme, squad list, house rules, and the record of what was signed and told\n"
        f"  {'logs/':<12} what the runners handed over in four weeks\n"
        f"  {'next.html':<12} what is proposed for the fifth week, line by line\n"
        f"  {'squad.html':<12} what the coach reads before signing\n"
        f"  {'sheets/':<12} for each signed runner a sheet (.pdf), a page for the phone (.html), a calendar (.ics)"
    )


def take(
    workspace: ws.Workspace, handed: tuple[demo_told.Handed, ...], folder: Path, now: datetime
) -> tuple[Outcome, ...]:
    """Write the files where a coach would have them, and keep what they tell, as `ferrule log` does."""
    with opened(workspace) as record:
        made = []
        for one in handed:
            ws.write_bytes(folder / one.name, one.data)
            against = handed_over(workspace.squad, workspace.library, record, now)
            made.append(keep(one.name, one.data, against, record, now))
        return tuple(made)


def told_line(outcomes: tuple[Outcome, ...]) -> str:
    """How much was taken of how many files."""
    new, known = sum(o.new for o in outcomes), sum(o.known for o in outcomes)
    again = f", {known} known already" if known else ""
    return f"{len(outcomes)} files told {new} things{again}"


def odd_lines(outcomes: tuple[Outcome, ...]) -> list[str]:
    """What was odd in the files, a line each; the same oddity of one file once."""
    found = ((o.file, f.what) for o in outcomes for f in o.findings if f.level != "note")
    return [f"       odd in {file}: {what}" for file, what in dict.fromkeys(found)]


def due_lines(record: Record, workspace: ws.Workspace, week: SquadWeek, today: date) -> str:
    """The list of who needs a word, as `ferrule due --week` prints it."""
    rows = listed(record, workspace.squad, workspace.house, today, week.outcomes)
    return due_said(Listed(rows, week.monday), today)


def laid_out(out: Path) -> Path:
    """The invented workspace written into `out`, an earlier demo replaced. Returns its folder.

    Raises Stop when `out` holds something that no demo wrote.
    """
    folder = out / "workspace"
    ours = {"workspace", "logs", "sheets", "squad.html", "next.html"}
    try:
        there = {p.name for p in out.iterdir()} if out.is_dir() else set()
        if out.exists() and (not out.is_dir() or not there <= ours):
            raise Stop(f"{out} holds something that is not a demo", "name a new folder")
        for name in there:
            shutil.rmtree(out / name) if (out / name).is_dir() else (out / name).unlink()
    except OSError as fault:
        raise Stop(f"{out} cannot be used: {fault.strerror or fault}") from None
    for name in FILES:
        ws.write_bytes(folder / name, (files("ferrule.demo") / name).read_bytes())
    return folder


def _evening(day: date) -> datetime:
    """Half past eight in the evening of that day, by the demo's own clock."""
    return datetime(day.year, day.month, day.day, 20, 30, tzinfo=UTC)


def _step(start: float, what: str) -> None:
    """A line of progress on standard error, with the seconds since the start."""
    print(f"{time.perf_counter() - start:5.1f} s  {what}", file=sys.stderr)
