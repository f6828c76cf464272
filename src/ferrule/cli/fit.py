"""`ferrule fit WORKSPACE --week DATE`: each runner's week, to read."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.again import add_again, changed_of, changed_text, given_of
from ferrule.cli.arguments import add_json, add_week, add_workspace, parser_for
from ferrule.cli.findings import as_data, plain, terminal_width
from ferrule.cli.fitting import failed, file_errors, fit_next, fit_weeks, serious, show_findings
from ferrule.cli.next_told import told_in
from ferrule.cli.record import with_clearances
from ferrule.deliver.cycle import cycle_table
from ferrule.deliver.summary import squad_page, squad_table
from ferrule.fit.cycle import MOST_WEEKS
from ferrule.fit.outlook import with_outlook
from ferrule.model.fitted import SquadWeek
from ferrule.next.squad import NextWeek
from ferrule.squad.place import monday_of

MORE = """\
Nothing is kept and nothing leaves; `ferrule sign` does that.
Each runner's programme week follows from the anchor in the squad list."""

KINDS = {"FittedWeek": "fitted", "Impossible": "impossible", "Held": "on hold", "Away": "away"}


def run(words: list[str]) -> int:
    """Fit and print. Returns the exit code."""
    parser = parser_for("fit", MORE)
    add_workspace(parser)
    add_week(parser)
    parser.add_argument(
        "--page", metavar="FILE.html", type=Path, help="also write the read-back as a page to this file"
    )
    parser.add_argument(
        "--weeks",
        metavar="N",
        type=int,
        default=1,
        help=f"this many weeks, each from the one before (at most {MOST_WEEKS}); each runner's as a small table",
    )
    add_json(parser)
    add_again(parser)
    args = parser.parse_args(words)
    if not 1 <= args.weeks <= MOST_WEEKS:
        parser.error(f"--weeks takes 1 to {MOST_WEEKS}")
    if args.weeks > 1 and (args.page or args.again):
        parser.error("--weeks goes neither with --page nor with --again")
    workspace = with_clearances(ws.open_workspace(args.workspace))
    if args.weeks > 1:
        return _whole(workspace, monday_of(args.week), args.weeks, args.json)
    given = given_of(workspace, monday_of(args.week), args.again, args.lost)
    monday = monday_of(args.week)
    week = outlook_of(workspace, fit_next(workspace, told_in(workspace, monday), given))
    changed = None if given is None else changed_of(given, week)
    if args.page:
        ws.write_text(args.page, squad_page(week, workspace.library, workspace.house, squad=workspace.squad))
    if args.json:
        print(
            json.dumps(
                {**data_of(workspace, week), **({} if changed is None else {"changed": changed})},
                indent=2,
                ensure_ascii=False,
            )
        )
    else:
        show_findings(file_errors(workspace), workspace, sys.stderr)
        print(plain_lines(squad_table(week, terminal_width())))
        if changed is not None:
            print(changed_text(changed, week))
    return 1 if failed(workspace, week) else 0


def _whole(workspace: ws.Workspace, monday: date, weeks: int, as_json: bool) -> int:
    """Several weeks, each from the one before."""
    fitted = fit_weeks(workspace, monday, weeks)
    if as_json:
        print(json.dumps({"weeks": [data_of(workspace, w) for w in fitted]}, indent=2, ensure_ascii=False))
    else:
        show_findings(file_errors(workspace), workspace, sys.stderr)
        print(plain_lines(cycle_table(fitted, terminal_width())))
    return 1 if any(failed(workspace, w) for w in fitted) else 0


def outlook_of(workspace: ws.Workspace, found: NextWeek) -> SquadWeek:
    """The week with what runs out and what it asks by region, by what was believed when it was fitted."""
    return with_outlook(
        found.week, workspace.programme, workspace.squad, workspace.library, workspace.house, beliefs=found.told.beliefs
    )


def data_of(workspace: ws.Workspace, week: SquadWeek) -> dict[str, object]:
    """The squad week as plain data; each outcome says of which `kind` it is."""
    import msgspec

    outcomes = [{"kind": KINDS[type(o).__name__], **msgspec.to_builtins(o)} for o in week.outcomes]
    return {
        "programme": week.programme,
        "monday": week.monday.isoformat(),
        "outcomes": outcomes,
        "spread": msgspec.to_builtins(week.spread),
        "departures": week.departures,
        "lanes": msgspec.to_builtins(week.lanes),
        "runs_out": msgspec.to_builtins(week.runs_out),
        "region_loads": msgspec.to_builtins(week.region_loads),
        "change_budget": week.change_budget,
        "findings": as_data(serious(workspace, week)),
    }


def plain_lines(text: str) -> str:
    """Text that holds words from files, without control characters, its lines kept."""
    return "\n".join(plain(line) for line in text.split("\n"))
