"""`ferrule away WORKSPACE RUNNER --from D --to D --kind K`: time away is recorded, and what moves is said."""

from __future__ import annotations

import argparse
import secrets
import sys
from datetime import UTC, date, datetime
from textwrap import wrap
from typing import get_args

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_workspace, day, named, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain, terminal_width
from ferrule.cli.fitting import show_findings
from ferrule.cli.record import exists, opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.model.entry import AwayKind, TimeAway
from ferrule.model.fact import Entry, Fact, TakenBack
from ferrule.model.quantity import number
from ferrule.model.squad import Runner
from ferrule.record.standing import standing
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.squad.away import difference, meanwhile, with_away
from ferrule.store.record import Record

MORE = """\
Without dates it lists the times away of that runner. A week in which no possible day is left is a week away: a programme
that runs `from` a day waits for it, one that runs `to race` passes it over. Sent weeks stay as they were sent."""
LONGEST_DAYS = 400
MOST_RAMP = 12


def run(words: list[str]) -> int:
    """Record, or list, or take back; say what moves. Returns the exit code."""
    args = _arguments(words)
    now = datetime.now(UTC)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    runner = runner_of(workspace.squad, args.runner)
    if args.take_back:
        return _take_back(workspace, runner, args.take_back, now)
    if args.first is None:
        print("\n".join(listed(workspace, runner)))
        return 0
    away = TimeAway(runner.id, args.first, args.last or args.first, args.kind, args.kit, args.ramp or (), args.by or "")
    _sound(workspace, runner, away)
    there = [e.fact for e in told(workspace, runner)]
    if away in there:
        print(f"{runner.id} {plain(runner.name)}: {away_text(away)}: that is in the record already")
        return 0
    after, _ = with_away(runner, [*(f for f in there if isinstance(f, TimeAway)), away])
    with opened(workspace) as record:
        if not args.dry:
            _keep(record, runner, away, now)
        lines = difference(runner, after, workspace.programme.weeks, record.sent_mondays(runner.id))
    print(f"{runner.id} {plain(runner.name)}: {away_text(away)}" + (" (not recorded: --dry)" if args.dry else ""))
    print(said(lines))
    return 0


def _arguments(words: list[str]) -> argparse.Namespace:
    parser = parser_for("away", MORE)
    add_workspace(parser)
    parser.add_argument("runner", metavar="RUNNER", help="id of the runner, as in the squad list")
    parser.add_argument("--from", metavar="DATE", type=day, dest="first", help="first day away")
    parser.add_argument("--to", metavar="DATE", type=day, dest="last", help="last day away; the same day when left out")
    parser.add_argument("--kind", choices=get_args(AwayKind), help="what kind of time away it is")
    parser.add_argument(
        "--kit", metavar="KIT", help='what is at hand meanwhile, as in the squad list; "" their own; else no training'
    )
    parser.add_argument(
        "--ramp",
        metavar="60,80,100",
        type=ramp,
        help="per cent of the usual demand in the weeks after it, by the coach",
    )
    parser.add_argument("--by", metavar="NAME", type=named, help="who said so, when not the runner")
    parser.add_argument("--dry", action="store_true", help="only say what would move")
    parser.add_argument("--take-back", metavar="DATE", type=day, help="take back the time away that begins on DATE")
    args = parser.parse_args(words)
    if args.first is None and any((args.last, args.kind, args.kit is not None, args.ramp, args.by, args.dry)):
        parser.error("--from is needed: the first day away")
    if args.first is not None and args.kind is None:
        parser.error(f"--kind is needed: one of {', '.join(get_args(AwayKind))}")
    return args


def ramp(text: str) -> tuple[float, ...]:
    """`60,80,100` as shares: (0.6, 0.8, 1.0). Raises argparse.ArgumentTypeError."""
    try:
        shares = tuple(float(part.strip().rstrip("%")) / 100 for part in text.split(","))
    except ValueError:
        shares = ()
    if not 1 <= len(shares) <= MOST_RAMP or not all(0 < s <= 1 for s in shares):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no ramp: write one number from 1 to 100 for each week after it, at most {MOST_RAMP}, as 60,80,100"
        )
    return shares


def _sound(workspace: ws.Workspace, runner: Runner, away: TimeAway) -> None:
    """Raises Stop for days in the wrong order, a time that is far too long, and kit that cannot be read."""
    if away.last < away.first:
        raise Stop(f"the last day, {away.last}, is before the first, {away.first}", "put --from first")
    if (away.last - away.first).days >= LONGEST_DAYS:
        raise Stop(f"{away.first} to {away.last} is more than {LONGEST_DAYS} days", "check the years")
    _, findings = meanwhile(away.kit, runner)
    if findings:
        show_findings(tuple(findings), workspace, sys.stderr)
        raise Stop("the kit cannot be read, so nothing was recorded", 'write it as in the squad list: "mat; band thin"')


def told(workspace: ws.Workspace, runner: Runner) -> tuple[Entry, ...]:
    """The entries of times away that stand for that runner, in order of day."""
    if not exists(workspace):
        return ()
    with opened(workspace) as record:
        entries = record.entries(runner.id)
    stand = standing(e for e in entries if isinstance(e.fact, TimeAway | TakenBack))
    return tuple(e for e in stand if isinstance(e.fact, TimeAway))


def _keep(record: Record, runner: Runner, fact: Fact, now: datetime, replaces: str = "") -> None:
    entry_id = str(uuid7(milliseconds(now), secrets.randbits(RANDOM_BITS)))
    record.add([Entry(entry_id, runner.id, now, "coach", fact, replaces)], now)


def _take_back(workspace: ws.Workspace, runner: Runner, first: date, now: datetime) -> int:
    there = told(workspace, runner)
    begin = [e for e in there if isinstance(e.fact, TimeAway) and e.fact.first == first]
    if not begin:
        have = "; ".join(away_text(e.fact) for e in there if isinstance(e.fact, TimeAway))
        raise Stop(f"no time away of {runner.id} begins on {first}", f"there is {have}" if have else "there is none")
    left = [e.fact for e in there if isinstance(e.fact, TimeAway) and e not in begin]
    after, _ = with_away(runner, left)
    with opened(workspace) as record:
        for entry in begin:
            _keep(record, runner, TakenBack(), now, entry.entry_id)
        lines = difference(runner, after, workspace.programme.weeks, record.sent_mondays(runner.id))
    for entry in begin:
        assert isinstance(entry.fact, TimeAway)
        print(f"{runner.id} {plain(runner.name)}: taken back: {away_text(entry.fact)}")
    print(said(lines))
    return 0


def listed(workspace: ws.Workspace, runner: Runner) -> list[str]:
    """The times away of one runner, a line each."""
    there = [e.fact for e in told(workspace, runner) if isinstance(e.fact, TimeAway)]
    head = f"{runner.id} {plain(runner.name)}"
    return [f"{head}: {away_text(a)}" for a in there] or [f"{head}: no time away is recorded"]


def away_text(away: TimeAway) -> str:
    """`holiday, 2026-02-02 to 2026-02-08, with mat; band thin`; the coach's ramp and who said so behind it."""
    days = str(away.first) if away.first == away.last else f"{away.first} to {away.last}"
    text = f"{away.kind}, {days}"
    if away.kit is None:
        text += ", no training"
    else:
        text += f", with {plain(away.kit)}" if away.kit.strip() else ", with their own kit"
    if away.ramp:
        weeks = "week" if len(away.ramp) == 1 else f"{len(away.ramp)} weeks"
        text += f", then {', '.join(number(round(100 * s)) for s in away.ramp)} % for {weeks}"
    return text + (f", said by {plain(away.by)}" if away.by else "")


def said(lines: tuple[str, ...]) -> str:
    """What moves, wrapped; or that nothing does."""
    return "\n".join(
        part
        for line in lines or ("No programme week moves.",)
        for part in wrap(line, terminal_width(), initial_indent="  ", subsequent_indent="    ")
    )
