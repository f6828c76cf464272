"""Fitting again a week that was sent: `--again DATE` and `--lost R DAY`, and what changed for whom."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from datetime import date, timedelta
from textwrap import wrap

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import day
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain, terminal_width
from ferrule.cli.record import exists, opened
from ferrule.cli.stop import Stop
from ferrule.fit.changed import changes
from ferrule.fit.given import Given
from ferrule.model.fitted import FittedWeek, SquadWeek
from ferrule.model.words import DAYS


def add_again(parser: argparse.ArgumentParser) -> None:
    """--again DATE and --lost R DAY."""
    parser.add_argument(
        "--again", metavar="DATE", type=day,
        help="fit again from the copies sent for that week: days before DATE stay as they were",
    )  # fmt: skip
    parser.add_argument(
        "--lost", nargs=2, metavar=("R", "DAY"), action="append", default=[],
        help="with --again: that weekday (Wed) is lost to runner R; may be given again",
    )  # fmt: skip


def given_of(
    workspace: ws.Workspace, monday: date, again: date | None, lost: list[list[str]]
) -> dict[str, Given] | None:
    """The newest copy of each runner with what is past and lost; None without --again.

    Raises Stop when nothing was sent for that week, when DATE lies after it, or when a runner or day is not known.
    """
    if again is None:
        if lost:
            raise Stop("--lost needs --again DATE", "say from which day on the week may change")
        return None
    if not monday <= again <= monday + timedelta(days=7):
        raise Stop(f"{again} is not a day of the week of {monday}", "--again is the first day that may still change")
    days: dict[str, set[date]] = {}
    for who, weekday in lost:
        days.setdefault(runner_of(workspace.squad, who).id, set()).add(monday + timedelta(days=_weekday(weekday)))
    copies = {}
    if exists(workspace):
        with opened(workspace) as record:
            copies = {copy.runner_id: copy.week for copy in record.sent(monday)}
    if not copies:
        raise Stop(f"nothing was sent for the week of {monday}", "without --again it is fitted as a new week")
    return {r: Given(week, again, frozenset(days.get(r, ()))) for r, week in copies.items()}


def _weekday(text: str) -> int:
    found = [n for n, name in enumerate(DAYS) if text.strip().lower()[:3] == name.lower()]
    if not found:
        raise Stop(f"{text!r} is no weekday", "write it as Wed")
    return found[0]


def changed_of(given: Mapping[str, Given], week: SquadWeek) -> dict[str, tuple[str, ...]]:
    """What changed for each runner who has a copy and is fitted again."""
    return {
        o.runner_id: changes(given[o.runner_id].week, o)
        for o in week.outcomes
        if isinstance(o, FittedWeek) and o.runner_id in given
    }


def changed_text(changed: Mapping[str, tuple[str, ...]], week: SquadWeek) -> str:
    """The changes for the terminal: by runner, one line each; those with none together."""
    names = {o.runner_id: o.runner_name for o in week.outcomes}
    lines = ["What changed since the copies were sent:"]
    for runner, texts in changed.items():
        if texts:
            lines.append(f"  {runner} {plain(names[runner])}")
        for text in texts:
            lines += wrap(plain(text), terminal_width(), initial_indent="    ", subsequent_indent="      ")
    same = [r for r, texts in changed.items() if not texts]
    if same:
        lines += wrap(f"unchanged: {', '.join(same)}", terminal_width(), initial_indent="  ", subsequent_indent="    ")
    return "\n".join(lines)
