"""`ferrule next WORKSPACE --week DATE`: what the record says about next week, line by line; the coach's word on a line."""

from __future__ import annotations

import json
import secrets
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, add_week, add_workspace, named, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import terminal_width
from ferrule.cli.fit import plain_lines
from ferrule.cli.fitting import failed, file_errors, fit_next, show_findings
from ferrule.cli.next_told import told_in
from ferrule.cli.record import opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.deliver.document import html_of, text_of
from ferrule.deliver.proposals import proposals_document, summary_lines
from ferrule.model.fact import Decided, Entry
from ferrule.model.squad import Runner
from ferrule.next.decided import CHOICES, CLEARED, FLAG
from ferrule.next.propose import Proposal, Proposals, propose
from ferrule.next.ruling import Key
from ferrule.next.squad import Told
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.squad.place import monday_of

MORE = """\
Nothing leaves: `ferrule sign` signs the same week. A word kept with --set stands over the proposal; `hold`, `back off` and
`leave out` stand in the weeks after as well, until `propose` or another word. LINE is a name or SESSION/KEY, as 1/A1; the
line `red flag` takes the choice `cleared`, by the name of whoever may say so."""


def run(words: list[str]) -> int:
    """Propose and print, or keep a word of the coach. Returns the exit code."""
    parser = parser_for("next", MORE)
    add_workspace(parser)
    add_week(parser)
    parser.add_argument("--runner", metavar="R", action="append", help="only this runner; may be given again")
    parser.add_argument("--out", metavar="FILE.html", type=Path, help="also write the proposals as a page to this file")
    parser.add_argument(
        "--set", nargs=3, metavar=("R", "LINE", "CHOICE"), help=f"keep your word on a line: {', '.join(CHOICES)}"
    )
    parser.add_argument("--by", metavar="NAME", type=named, help="with --set: who says so")
    parser.add_argument("--why", metavar="TEXT", default="", help="with --set: why, kept with it")
    add_json(parser)
    args = parser.parse_args(words)
    if args.set and not args.by:
        parser.error("--set needs --by, so that it stands in the record who decided")
    if not args.set and (args.by or args.why):
        parser.error("--by and --why go with --set")
    workspace = with_clearances(ws.open_workspace(args.workspace))
    monday = monday_of(args.week)
    told = told_in(workspace, monday)
    if args.set:
        return _set(workspace, told, monday, args.set, args.by, " ".join(args.why.split()))
    wanted = {runner_of(workspace.squad, r).id for r in args.runner or ()}
    found = fit_next(workspace, told)
    shown = [p for p in found.proposals if not wanted or p.runner_id in wanted]
    title = workspace.programme.title or workspace.programme.file
    document = proposals_document(shown, monday, title)
    if args.out:
        ws.write_text(args.out, html_of(document))
    if args.json:
        print(json.dumps(as_data(shown, monday), indent=2, ensure_ascii=False))
    else:
        show_findings(file_errors(workspace), workspace, sys.stderr)
        text = text_of(document, terminal_width()) if wanted or len(shown) == 1 else "\n".join(summary_lines(shown))
        print(plain_lines(text))
        if not wanted and len(shown) > 1:
            print("\n--runner R shows one runner's lines with their reasons, --out FILE.html everybody's")
    return 1 if failed(workspace, found.week) else 0


def as_data(proposals: Sequence[Proposals], monday: date) -> dict[str, object]:
    """The proposals as plain data."""
    import msgspec

    return {
        "monday": monday.isoformat(),
        "runners": [
            {
                "runner_id": p.runner_id, "runner_name": p.runner_name, "outcome": type(p.outcome).__name__.lower(),
                "silence": p.silence, "notes": p.notes, "asks": p.asks, "lines": msgspec.to_builtins(p.lines),
            }
            for p in proposals
        ],
    }  # fmt: skip


def _set(workspace: ws.Workspace, told: Told, monday: date, words: Sequence[str], by: str, why: str) -> int:
    """Keep the coach's word. Raises Stop for a line or a choice that is not known."""
    runner = runner_of(workspace.squad, words[0])
    line, choice = words[1].strip(), " ".join(words[2].lower().split())
    now = datetime.now(UTC)
    if line.lower() == FLAG:
        if choice != CLEARED:
            raise Stop(f"a red flag is {CLEARED} or it stands, not {choice!r}", "nothing else lifts it")
        if not told.plans[runner.id].flags:
            print(f"{runner.id} {runner.name}: no red flag waits; nothing was written")
            return 0
        fact = Decided(monday, "", FLAG, "stop", CLEARED, by, why)
    else:
        if choice not in CHOICES:
            raise Stop(f"{choice!r} is no choice", f"one of {', '.join(CHOICES)}")
        own = propose_alone(workspace, told, runner, monday)
        row = _row(own, line)
        fact = Decided(monday, row.session_key, row.item_key, row.move, choice, by, why)
    entry_id = str(uuid7(milliseconds(now), secrets.randbits(RANDOM_BITS)))
    with opened(workspace) as record:
        added = record.add([Entry(entry_id, runner.id, now, "coach", fact)], now)
    if added.findings:
        show_findings(added.findings, workspace, sys.stderr)
        return 1
    where = FLAG if fact.item_key == FLAG else f"{fact.session_key}/{fact.item_key}"
    instead = "" if choice == fact.proposed else f" instead of {fact.proposed}"
    print(plain_lines(f"{runner.id} {runner.name}: {where} is set to {choice}{instead} by {by}, from {monday}"))
    return 0


def propose_alone(workspace: ws.Workspace, told: Told, runner: Runner, monday: date) -> Proposals:
    """The proposals of one runner, fitted alone: quick, and the same lines."""
    from ferrule.cli.next_told import entries_in

    before = next(r for r in workspace.squad.runners if r.id == runner.id)
    return propose(
        workspace.programme, before, workspace.library, workspace.house, monday, last=told.last.get(runner.id),
        entries=entries_in(workspace), capacity=told.beliefs.get(runner.id),
    )[0]  # fmt: skip


def _row(own: Proposals, line: str) -> Proposal:
    """The line of that key or name. Raises Stop when there is none, or several."""
    if not own.lines:
        raise Stop(f"{own.runner_id} has no lines in that week", "`ferrule next` says why")
    low = line.casefold()
    found = [x for x in own.lines if f"{x.session_key}/{x.item_key}".casefold() == low]
    found = found or [x for x in own.lines if low in (x.written.casefold(), x.now.partition(":")[0].casefold())]
    if len(found) == 1:
        return found[0]
    every = ", ".join(f"{_key((x.session_key, x.item_key))} {x.written}" for x in (found or own.lines))
    said = f"{line!r} stands in several lines" if found else f"there is no line {line!r}"
    raise Stop(said, f"name one of {every}")


def _key(key: Key) -> str:
    return f"{key[0]}/{key[1]}"
