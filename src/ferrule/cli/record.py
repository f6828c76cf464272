"""The record of a workspace: opened for one command, its faults told as findings are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace

from ferrule.cli.stop import Stop
from ferrule.cli.workspace import Workspace
from ferrule.model.entry import TimeAway
from ferrule.model.fact import Entry, TakenBack
from ferrule.model.finding import in_order
from ferrule.model.squad import Hold
from ferrule.record.standing import away_of, standing
from ferrule.squad.away import with_away
from ferrule.store.opening import open_record
from ferrule.store.record import RECORD_FILE, Clearance, Record, RecordError


@contextmanager
def opened(workspace: Workspace) -> Iterator[Record]:
    """The record, made when it is not there yet. Raises Stop when it cannot be opened, trusted or written."""
    from sqlalchemy.exc import DBAPIError

    path = workspace.folder / RECORD_FILE
    try:
        with open_record(path) as record:
            yield record
    except RecordError as fault:
        raise Stop(f"{fault.finding.code}: {fault.finding.what}. {fault.finding.why}", fault.finding.fix, 1) from None
    except DBAPIError as fault:
        raise Stop(
            f"{path} cannot be written: {fault.orig}", "see that the disk has room and no one else writes", 1
        ) from None


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
