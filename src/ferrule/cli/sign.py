"""`ferrule sign WORKSPACE --week DATE [--by NAME]`: fitted weeks become copies that no longer change."""

from __future__ import annotations

import sys
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from textwrap import wrap
from types import MappingProxyType

from ferrule.cli import workspace as ws
from ferrule.cli.again import add_again, given_of
from ferrule.cli.arguments import add_week, add_workspace, named, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain, terminal_width
from ferrule.cli.fitting import fit_week, row_errors, show_findings, text_errors
from ferrule.cli.next_told import told_in
from ferrule.cli.record import opened, with_clearances
from ferrule.fit.given import Given
from ferrule.fit.runner import capacity_of
from ferrule.fit.verify import verify
from ferrule.model.finding import Finding, has_errors
from ferrule.model.fitted import Away, FittedWeek, Held, Impossible, SquadWeek
from ferrule.next.squad import Told
from ferrule.squad.place import monday_of
from ferrule.store.record import SentWeek

MORE = """\
The week is fitted again from the files as they are now, verified, and kept in ferrule.db.
Read it first with `ferrule fit`. A runner on hold needs `ferrule clear` by a named person.
Signing the same week again keeps the copy that is there."""

NO_COPIES: Mapping[str, Given] = MappingProxyType({})
NAMELESS = "the coach"
"""Who signs when neither house.toml nor --by names anybody."""


@dataclass(frozen=True, slots=True)
class Unsigned:
    """A runner who was not signed. `expected`: on hold or away, which is no fault."""

    runner_id: str
    runner_name: str
    why: str
    expected: bool


def run(words: list[str]) -> int:
    """Fit, verify, sign, say who. Returns the exit code."""
    parser = parser_for("sign", MORE)
    add_workspace(parser)
    add_week(parser)
    parser.add_argument("--runner", metavar="R", action="append", help="only this runner; may be given again")
    parser.add_argument(
        "--by", metavar="NAME", type=named, help="the coach who signs, when not the `coach` of house.toml"
    )
    add_again(parser)
    args = parser.parse_args(words)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    wanted = {runner_of(workspace.squad, r).id for r in args.runner or ()}
    errors = text_errors(workspace)
    if errors:
        show_findings(errors, workspace, sys.stderr)
        print("nobody was signed: mend the errors first")
        return 1
    given = given_of(workspace, monday_of(args.week), args.again, args.lost) or {}
    week = fit_week(workspace, monday_of(args.week), given)
    by = args.by or plain(workspace.house.coach).strip() or NAMELESS
    signed, unsigned = sign_week(workspace, week, wanted, by, datetime.now(UTC), given)
    print(said(signed, unsigned, by))
    if by == NAMELESS:
        print("put your name into house.toml as `coach`, or give --by, so that the record says who signed")
    return 1 if any(u for u in unsigned if wanted or not u.expected) else 0


def sign_week(
    workspace: ws.Workspace,
    week: SquadWeek,
    wanted: Collection[str],
    by: str,
    now: datetime,
    given: Mapping[str, Given] = NO_COPIES,
    told: Told | None = None,
) -> tuple[tuple[SentWeek, ...], tuple[Unsigned, ...]]:
    """Sign what may be signed: copies made, and who was left out with the reason.

    wanted   runner ids; empty means everybody
    now      the moment of signing, with its zone;  given: the copies it was fitted again from
    told     what the record says, when it was read for this week already
    """
    rows = row_errors(workspace)
    told = told or told_in(workspace, week.monday)
    ready: list[FittedWeek] = []
    unsigned: list[Unsigned] = []
    for outcome in week.outcomes:
        if wanted and outcome.runner_id not in wanted:
            continue
        why, expected = "", False
        if isinstance(outcome, Held | Away):
            why, expected = outcome.reason, True
        elif isinstance(outcome, Impossible):
            why = next((f.what for f in outcome.reasons), "no week exists")
        elif outcome.runner_id in rows:
            why = f"the row in the squad list has an error: {rows[outcome.runner_id][0].what}"
        else:
            faults = verified(workspace, outcome, told, given.get(outcome.runner_id))
            if has_errors(faults):
                why = f"the verifier found {faults[0].code}: {faults[0].what}"
        if why or not isinstance(outcome, FittedWeek):
            unsigned.append(Unsigned(outcome.runner_id, outcome.runner_name, why, expected))
        else:
            ready.append(outcome)
    if not ready:
        return (), tuple(unsigned)
    with opened(workspace) as record:
        return record.send_all(ready, by, now), tuple(unsigned)


def verified(workspace: ws.Workspace, week: FittedWeek, told: Told, given: Given | None = None) -> tuple[Finding, ...]:
    """What the independent verifier finds in a week that is about to be signed; told: what the record says."""
    runner = runner_of(told.squad, week.runner_id)
    own = told.plans[runner.id].own
    capacity = told.beliefs.get(runner.id) or capacity_of(runner, week.monday)
    last = told.goes_on.get(runner.id)
    return verify(week, own.programme, runner, workspace.library, workspace.house, capacity, last, given, own.bounds)


def said(signed: tuple[SentWeek, ...], unsigned: tuple[Unsigned, ...], by: str) -> str:
    """Who was signed with which copy, and who was not and why."""
    lines = [f"{len(signed)} signed by {by}"]
    for copy in signed:
        again = "" if copy.sequence == 1 else f"  copy {copy.sequence}"
        again += "" if copy.signed_by == by else f"  as signed before by {plain(copy.signed_by)}"
        lines.append(f"  {copy.runner_id:<5} {plain(copy.week.runner_name):<18} {copy.copy_id}{again}")
    if unsigned:
        lines.append(f"{len(unsigned)} not signed")
        for left in unsigned:
            start = f"  {left.runner_id:<5} {plain(left.runner_name):<18} "
            lines += wrap(plain(left.why), terminal_width(), initial_indent=start, subsequent_indent=" " * 27)
    return "\n".join(lines)
