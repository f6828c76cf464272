"""`ferrule demo --out DIR`: all of it once, with an invented squad."""

from __future__ import annotations

import shutil
import sys
import time
from datetime import UTC, date, datetime
from importlib.resources import files
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import parser_for
from ferrule.cli.findings import counted, terminal_width
from ferrule.cli.fit import outlook_of, plain_lines
from ferrule.cli.fitting import fit_week
from ferrule.cli.record import with_clearances
from ferrule.cli.sheets import copies_of, write_signed
from ferrule.cli.sign import said, sign_week
from ferrule.cli.stop import Stop
from ferrule.deliver.summary import squad_page, squad_table

WEEK = date(2026, 1, 19)
COACH = "The squad's coach"
FILES = (ws.PROGRAMME, ws.SQUAD, ws.HOUSE)

MORE = """\
The squad, the programme and every name in them are invented. The week is that of 19 January 2026."""


def run(words: list[str]) -> int:
    """Write the workspace, check, fit, read back, sign, deliver. Returns the exit code."""
    parser = parser_for("demo", MORE)
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder to write to")
    out: Path = parser.parse_args(words).out
    start = time.perf_counter()
    workspace = with_clearances(ws.open_workspace(laid_out(out)))
    _step(start, f"checked {workspace.folder}: {counted(workspace.findings)}")
    week = outlook_of(workspace, fit_week(workspace, WEEK))
    _step(start, f"fitted the week of {WEEK.isoformat()} to {len(week.outcomes)} runners")
    print(plain_lines(squad_table(week, terminal_width())))
    ws.write_text(out / "squad.html", squad_page(week, workspace.library, workspace.house, squad=workspace.squad))
    signed, unsigned = sign_week(workspace, week, (), COACH, datetime.now(UTC))
    print(said(signed, unsigned, COACH))
    _step(start, f"signed {len(signed)} weeks")
    written = write_signed(workspace, copies_of(workspace, WEEK), out / "sheets")
    _step(start, f"wrote {len(written)} files")
    print(
        f"\nWritten to {out}\n"
        f"  {'workspace/':<12} programme, squad list, house rules, and the record of what was signed\n"
        f"  {'squad.html':<12} what the coach reads before signing\n"
        f"  {'sheets/':<12} for each signed runner a sheet (.pdf), a page for the phone (.html), a calendar (.ics)"
    )
    return 0


def laid_out(out: Path) -> Path:
    """The invented workspace written into `out`, an earlier demo replaced. Returns its folder.

    Raises Stop when `out` holds something that no demo wrote.
    """
    folder = out / "workspace"
    ours = {"workspace", "sheets", "squad.html"}
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


def _step(start: float, what: str) -> None:
    """A line of progress on standard error, with the seconds since the start."""
    print(f"{time.perf_counter() - start:5.1f} s  {what}", file=sys.stderr)
