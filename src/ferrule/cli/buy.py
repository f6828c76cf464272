"""`ferrule buy WORKSPACE --week DATE`: what one more piece of kit would change, found by fitting again with it."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from datetime import date
from textwrap import wrap

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, add_week, add_workspace, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain, terminal_width
from ferrule.cli.fitting import file_errors, in_processes, progress_line, show_findings
from ferrule.cli.next_told import told_in
from ferrule.cli.record import with_clearances
from ferrule.cli.stop import Stop
from ferrule.fit.buy import COMMON, Advice, Gain, LineGain, Thing, ranked, things, what_to_buy
from ferrule.model.finding import has_errors
from ferrule.model.squad import Runner
from ferrule.squad.place import monday_of
from ferrule.squad.sites import sites_of

MORE = """\
Each runner's week is fitted once for every thing they do not own; nothing is guessed and nothing is kept.
Things are ranked by weeks that become possible, then by lines that come back to the text or into the effort meant
(those lost taken away), then by effort. A thing that changes nothing is not listed."""

HOW = {"as written": "as written again", "right": "into the effort meant", "done": "done again"}


def run(words: list[str]) -> int:
    """Fit with each thing and print what it would change. Returns the exit code."""
    parser = parser_for("buy", MORE)
    add_workspace(parser)
    add_week(parser)
    parser.add_argument("--runner", metavar="R", action="append", help="only this runner; may be given again")
    parser.add_argument(
        "--item", metavar="KIT", action="append",
        help='as in the squad list, "kettlebell 12 kg"; may be given again. Else a list of common home kit',
    )  # fmt: skip
    parser.add_argument(
        "--site", metavar="SITE", default="", help="where it would be, as the squad list calls it; else the first"
    )
    add_json(parser)
    args = parser.parse_args(words)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    shop, unread = things(args.item or COMMON)
    if unread:
        raise Stop(unread[0].what, unread[0].fix)
    runners = [runner_of(workspace.squad, r) for r in args.runner or ()] or list(workspace.squad.runners)
    away = [r for r in runners if args.site and all(s.name.lower() != args.site.lower() for s in sites_of(r))]
    if away and args.runner:
        raise Stop(
            f"{away[0].name} ({away[0].id}) trains at no site called {args.site!r}", "the column kit names the sites"
        )
    runners = [r for r in runners if r not in away]
    if not runners:
        raise Stop(f"nobody trains at {args.site!r}", "the column kit of the squad list names the sites")
    gains = _asked(workspace, runners, shop, args.week, args.site)
    advice = ranked(gains)
    if args.json:
        print(json.dumps(data_of(advice, runners, shop), indent=2, ensure_ascii=False))
    else:
        show_findings(file_errors(workspace), workspace, sys.stderr)
        print(shown(advice, runners, shop))
    return 1 if has_errors(file_errors(workspace)) else 0


def _asked(
    workspace: ws.Workspace, runners: Sequence[Runner], shop: Sequence[Thing], day: date, site: str
) -> list[Gain]:
    monday = monday_of(day)
    progress = progress_line(sys.stderr, f"fitting with {len(shop)} things,", len(runners))

    told = told_in(workspace, monday)
    by_id = {r.id: r for r in told.squad.runners}
    asked = [by_id[r.id] for r in runners]

    def ask(workers: int) -> list[Gain]:
        out: list[Gain] = []
        found = what_to_buy(
            workspace.programme, asked, workspace.library, workspace.house, monday, shop,
            last=told.goes_on, beliefs=told.beliefs, workers=workers, site=site,
            own={r: p.own for r, p in told.plans.items()},
        )  # fmt: skip
        for n, (runner, gains) in enumerate(found):
            out += gains
            if progress is not None:
                progress(n + 1, len(runners), runner.name)
        return out

    return in_processes(ask, 4 * len(runners))


def shown(advice: Sequence[Advice], runners: Sequence[Runner], shop: Sequence[Thing]) -> str:
    """The things in order, for whom they do what."""
    who = runners[0].name if len(runners) == 1 else f"{len(runners)} runners"
    lines = [f"{plain(who)}: {len(shop)} things tried, {len(advice)} would change the week"]
    width = terminal_width()
    for n, a in enumerate(advice, 1):
        tied = ", as much as the next" if a.tied else ""
        lines += ["", f"{n}. {plain(a.thing)}: {_sum(a)}{tied}"]
        for gain in a.gains:
            if said := _said(gain):
                start = f"   {gain.runner_id:<5} "
                lines += wrap(plain(said), width, initial_indent=start, subsequent_indent=" " * 9)
    return "\n".join(lines)


def _sum(advice: Advice) -> str:
    parts = []
    if advice.weeks:
        parts.append(f"{advice.weeks} {'week becomes' if advice.weeks == 1 else 'weeks become'} possible")
    if advice.lines or not advice.weeks:
        parts.append(f"{advice.lines} {'line' if advice.lines == 1 else 'lines'} better")
    if abs(advice.effort) >= 0.1:
        nearer = "nearer to" if advice.effort > 0 else "further from"
        parts.append(f"{abs(advice.effort):g} reps {nearer} the effort meant")
    return ", ".join(parts)


def _said(gain: Gain) -> str:
    told = [f"{_line(x)}: {x.now} ({HOW[x.how]}; was {x.was})" for x in gain.better]
    told += [f"{_line(x)}: {x.now} (given up; was {x.was})" for x in gain.worse]
    if gain.possible:
        told.insert(0, "has a week only with it")
    if not told and gain.effort:
        told.append(f"{gain.effort:+.1f} reps nearer to the effort meant")
    return "; ".join(told)


def _line(line: LineGain) -> str:
    return f"session {line.session_key} {line.item_key} {line.written}"


def data_of(advice: Iterable[Advice], runners: Sequence[Runner], shop: Sequence[Thing]) -> dict[str, object]:
    """The same as plain data."""
    import msgspec

    return {
        "runners": [r.id for r in runners],
        "tried": [t.name for t in shop],
        "things": [
            {
                "thing": a.thing, "weeks": a.weeks, "lines": a.lines, "effort_reps": a.effort, "tied": a.tied,
                "runners": msgspec.to_builtins(a.gains),
            }
            for a in advice
        ],
    }  # fmt: skip
