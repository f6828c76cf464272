"""The record of a workspace: opened for one command, its faults told as findings are. And `ferrule record WORKSPACE`."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from ferrule.cli.arguments import parser_for
from ferrule.cli.findings import may_style, plain, render, terminal_width
from ferrule.cli.stop import Stop
from ferrule.cli.workspace import Workspace
from ferrule.model.entry import TimeAway
from ferrule.model.fact import Entry, TakenBack
from ferrule.model.finding import Finding, in_order
from ferrule.model.squad import Hold
from ferrule.record.standing import away_of, standing
from ferrule.squad.away import with_away
from ferrule.store.opening import open_record, pending_migrations
from ferrule.store.record import RECORD_FILE, Clearance, Record, RecordError

HELP = "folder with the record, ferrule.db"
MORE = """\
Reads every row and checks its digest. A record made by an older version is brought up to date first, in one transaction;
--migrations only lists what would be done and changes nothing."""


def run(words: list[str]) -> int:
    """Say what is kept. Returns the exit code."""
    parser = parser_for("record", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help=HELP)
    parser.add_argument("--migrations", action="store_true", help="list the changes that the file still needs")
    args = parser.parse_args(words)
    path = record_file(args.workspace)
    if args.migrations:
        print("\n".join(_pending(path)) or "nothing to change")
        return 0
    with opened_file(path) as record:
        altered = record.altered()
        lines = _counts(record)
        apart = () if altered else tuple(a.finding for a in record.apart())
    print("\n".join(lines))
    print_findings((*altered, *apart))
    return 1 if altered else 0


def _pending(path: Path) -> tuple[str, ...]:
    try:
        return pending_migrations(path)
    except RecordError as fault:
        raise stop_for(fault) from None


def _counts(record: Record) -> list[str]:
    kept = record.everything()
    mondays = sorted({week.monday for week in kept.weeks})
    span = f", {mondays[0]} to {mondays[-1]}" if mondays else ""
    kinds = Counter(row.kind for row in kept.entries)
    told = ": " + ", ".join(f"{kind} {count}" for kind, count in kinds.items()) if kinds else ""
    return [
        f"runners       {len(record.runners())}",
        f"sent weeks    {len(kept.weeks)}{span}",
        f"clearances    {len(kept.clearances)}",
        f"entries       {len(kept.entries)}{told}",
        *(f"erased        one runner, on {e.at.date()}, by {plain(e.erased_by)}" for e in record.erasures()),
    ]


def record_file(folder: Path, *, make: bool = False) -> Path:
    """The record's file in a workspace. Raises Stop when there is no folder, or no record and none is to be made."""
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}", "`ferrule new DIR` makes a workspace to start from")
    path = folder / RECORD_FILE
    if not make and not path.is_file():
        raise Stop(f"{folder} has no {RECORD_FILE}", "it is made when something is signed, cleared, logged or imported")
    return path


def print_findings(findings: Iterable[Finding]) -> None:
    """Findings of the record, for people; nothing when there are none."""
    told = tuple(findings)
    if told:
        print(render(told, {}, width=terminal_width(), styled=may_style(sys.stdout)))


@contextmanager
def opened(workspace: Workspace) -> Iterator[Record]:
    """The record, made when it is not there yet. Raises Stop when it cannot be opened, trusted or written."""
    with opened_file(workspace.folder / RECORD_FILE) as record:
        yield record


@contextmanager
def opened_file(path: Path) -> Iterator[Record]:
    """The record at `path`, as `opened`; no programme and no squad list is needed."""
    from sqlalchemy.exc import DBAPIError

    try:
        with open_record(path) as record:
            yield record
    except RecordError as fault:
        raise stop_for(fault) from None
    except DBAPIError as fault:
        raise Stop(
            f"{path} cannot be written: {fault.orig}", "see that the disk has room and no one else writes", 1
        ) from None


def stop_for(fault: RecordError) -> Stop:
    """A fault of the record as the end of a command."""
    found = fault.finding
    return Stop(f"{found.code}: {found.what}. {found.why}", found.fix, 1)


def exists(workspace: Workspace) -> bool:
    """True when something has been signed or cleared in this workspace."""
    return (workspace.folder / RECORD_FILE).exists()


def with_clearances(workspace: Workspace) -> Workspace:
    """The workspace as its record has it: clearances written into the holds of its runners, and their times away."""
    if not exists(workspace):
        return workspace
    with opened(workspace) as record:
        return with_times_away(cleared(workspace, record.clearances()), record.entries())


def with_times_away(workspace: Workspace, entries: Iterable[Entry]) -> Workspace:
    """The workspace with what stands of the times away among `entries`; kit that cannot be read is a finding."""
    stand = standing(e for e in entries if isinstance(e.fact, TimeAway | TakenBack))
    made = [with_away(r, away_of(stand, r.id)) for r in workspace.squad.runners]
    runners, findings = tuple(r for r, _ in made), [f for _, found in made for f in found]
    return replace(
        workspace,
        squad=replace(workspace.squad, runners=runners),
        findings=in_order((*workspace.findings, *findings)),
    )


def cleared(workspace: Workspace, clearances: Iterable[Clearance]) -> Workspace:
    """A hold counts as cleared when a clearance names its runner and its reason; the newest one is shown."""
    newest = {(c.runner_id, c.reason): c for c in clearances}

    def after(runner_id: str, hold: Hold) -> Hold:
        found = newest.get((runner_id, hold.reason))
        if found is None or hold.cleared_by:
            return hold
        return replace(hold, cleared_by=found.cleared_by, cleared_on=found.on)

    runners = tuple(replace(r, holds=tuple(after(r.id, h) for h in r.holds)) for r in workspace.squad.runners)
    return replace(workspace, squad=replace(workspace.squad, runners=runners))
