"""`ferrule clear WORKSPACE --runner R --by NAME`: a named person cleared a runner on hold."""

from __future__ import annotations

from datetime import UTC, date, datetime

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_workspace, day, named, parser_for
from ferrule.cli.record import opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.model.squad import Runner, Squad

MORE = """\
The clearance stands in the record for good, for each reason the runner is held for now.
Ferrule does not judge it. Clear only what a person who may do so has cleared."""


def run(words: list[str]) -> int:
    """Write the clearance into the record. Returns the exit code."""
    parser = parser_for("clear", MORE)
    add_workspace(parser)
    parser.add_argument("--runner", metavar="R", required=True, help="id of the runner, as in the squad list")
    parser.add_argument("--by", metavar="NAME", type=named, required=True, help="who cleared the runner")
    parser.add_argument("--on", metavar="DATE", type=day, default=None, help="day it was said; today when left out")
    args = parser.parse_args(words)
    now = datetime.now(UTC)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    runner = runner_of(workspace.squad, args.runner)
    held = [hold for hold in runner.holds if hold.cleared_by is None]
    if not held:
        print(f"{runner.id} {runner.name} is not on hold; nothing was written")
        return 0
    on: date = args.on or now.astimezone().date()
    with opened(workspace) as record:
        for hold in held:
            record.clear(runner.id, hold.reason, args.by, on, now)
    reasons = ", ".join(hold.reason for hold in held)
    print(f"{runner.id} {runner.name}: cleared by {args.by} on {on.isoformat()} ({reasons})")
    return 0


def runner_of(squad: Squad, runner_id: str) -> Runner:
    """The runner of that id. Raises Stop with the ids there are."""
    for runner in squad.runners:
        if runner.id.lower() == runner_id.strip().lower():
            return runner
    known = ", ".join(r.id for r in squad.runners[:30])
    raise Stop(f"the squad list has no runner {runner_id!r}", f"it has {known}" if known else "it could not be read")
