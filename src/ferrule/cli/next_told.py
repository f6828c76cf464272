"""What the record of a workspace says before a week is fitted: copies sent, entries told, plans and beliefs."""

from __future__ import annotations

from datetime import date, timedelta

from ferrule.cli import workspace as ws
from ferrule.cli.record import exists, opened
from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek
from ferrule.next.squad import Told, told_of

WEEKS_BACK = 4
"""How far back the last copy of a runner is looked for: after that long a week begins from the text."""


def told_in(workspace: ws.Workspace, monday: date) -> Told:
    """Plans and beliefs of everybody for the week of `monday`."""
    return told_of(
        workspace.programme, workspace.squad, workspace.library, workspace.house, monday,
        sent=copies_before(workspace, monday), entries=entries_in(workspace),
    )  # fmt: skip


def sent_before(workspace: ws.Workspace, monday: date) -> dict[str, FittedWeek]:
    """The newest copy of the last week before, by runner id; empty when nothing has been signed."""
    return {runner_id: weeks[-1] for runner_id, weeks in copies_before(workspace, monday).items()}


def copies_before(workspace: ws.Workspace, monday: date) -> dict[str, list[FittedWeek]]:
    """The newest copy of each of the last weeks before, oldest first, by runner id."""
    if not exists(workspace):
        return {}
    out: dict[str, list[FittedWeek]] = {}
    with opened(workspace) as record:
        for back in range(WEEKS_BACK, 0, -1):
            newest = {copy.runner_id: copy.week for copy in record.sent(monday - timedelta(days=7 * back))}
            for runner_id, week in newest.items():
                out.setdefault(runner_id, []).append(week)
    return out


def entries_in(workspace: ws.Workspace) -> tuple[Entry, ...]:
    """Everything that was told and counts."""
    if not exists(workspace):
        return ()
    with opened(workspace) as record:
        return record.entries()
