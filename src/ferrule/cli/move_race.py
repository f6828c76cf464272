"""`ferrule move-race WORKSPACE RUNNER DATE`: a race on another day, said as before and after; --write keeps it."""

from __future__ import annotations

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_workspace, day, parser_for
from ferrule.cli.away import said
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain
from ferrule.cli.record import exists, opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.squad.away import difference, moved_race
from ferrule.squad.edit import moved_race_cells, with_cells

MORE = """\
The race of a `to race` anchor moves the weeks that were not sent yet; sent weeks stay as they were sent. Any other race
moves no week, only the days around it. Nothing is changed without --write."""


def run(words: list[str]) -> int:
    """Say what moves, show the cells, write them when asked. Returns the exit code."""
    parser = parser_for("move-race", MORE)
    add_workspace(parser)
    parser.add_argument("runner", metavar="RUNNER", help="id of the runner, as in the squad list")
    parser.add_argument("date", metavar="DATE", type=day, help="the day the race is on now")
    parser.add_argument("--was", metavar="DATE", type=day, help="the day it was on, for a runner with several races")
    parser.add_argument("--write", action="store_true", help="write it into squad.csv")
    args = parser.parse_args(words)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    runner = runner_of(workspace.squad, args.runner)
    after, was = moved_race(runner, args.date, args.was)
    if was is None:
        races = ", ".join(str(r) for r in runner.races)
        raise Stop(
            f"it is not clear which race of {runner.id} moved" if args.was is None else f"no race is on {args.was}",
            f"say it with --was: there is {races}" if races else "the squad list names no race of theirs",
        )
    sent = {}
    if exists(workspace):
        with opened(workspace) as record:
            sent = dict(record.sent_mondays(runner.id))
    print(f"{runner.id} {plain(runner.name)}: race on {args.date} (was {was})")
    print(said(difference(runner, after, workspace.programme.weeks, sent)))
    path = workspace.folder / ws.SQUAD
    data = path.read_bytes()
    cells = moved_race_cells(data, workspace.squad.file, runner, was, args.date)
    for column, text in cells.items():
        print(f"  squad.csv, line {runner.span.line}, {column}: {plain(text)}")
    if not args.write:
        print("nothing was written; --write keeps it")
        return 0
    written = with_cells(data, workspace.squad.file, runner, cells) if cells else None
    if written is None:
        raise Stop("squad.csv could not be changed without touching more than these cells", "write them by hand", 1)
    ws.write_bytes(path, written)
    print(f"written to {path}; `ferrule fit` lays the weeks that were not sent again")
    return 0
