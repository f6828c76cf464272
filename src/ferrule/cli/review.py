"""`ferrule review WORKSPACE --cycle N`: the end of a cycle on pages; one for a physiotherapist, one for a helping coach."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_workspace, day, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.due import listed
from ferrule.cli.findings import terminal_width
from ferrule.cli.record import exists, opened, with_clearances
from ferrule.cli.sheets import file_stem
from ferrule.cli.stop import Stop
from ferrule.deliver.document import Document, html_of, text_of
from ferrule.deliver.hand_over import hand_over
from ferrule.deliver.physio import physio_page
from ferrule.deliver.review import coach_review, runner_review
from ferrule.deliver.review_facts import RunnerReview, SentCopy, review_of
from ferrule.model.fact import Entry
from ferrule.model.programme import Cycle
from ferrule.model.squad import Capacity, Runner
from ferrule.next.beliefs import beliefs
from ferrule.next.squad import offsets_for
from ferrule.record.standing import standing
from ferrule.squad.place import monday_of, week_away
from ferrule.store.record import Record

MORE = """\
Printed is the page for the coach. --out writes it, and a page for each runner, as HTML to read or print.
--physio R is one page about one runner for a physiotherapist; --hand-over one page for a helping coach. Read each page
before you hand it on: it says what runners told, in their own words."""
PHYSIO_WEEKS = 6
"""Weeks on the physiotherapist's page when no cycle is named."""


def run(words: list[str]) -> int:
    """Read what was sent and told, print or write the pages. Returns the exit code."""
    args = _arguments(words)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    if not exists(workspace):
        raise Stop("nothing has been signed in this workspace, so there is nothing to review", "`ferrule sign` first")
    with opened(workspace) as record:
        entries = standing(record.entries())
        if args.hand_over:
            return _give(_hand_over(workspace, record, entries, args.on), args.out, "hand-over")
        cycle = None if args.cycle is None else cycle_named(workspace, args.cycle)
        if args.physio:
            runner = runner_of(workspace.squad, args.physio)
            copies = copies_of(record, runner, cycle)[-(PHYSIO_WEEKS if cycle is None else 99) :]
            review = review_of(runner, copies, entries, workspace.library)
            if review is None:
                raise Stop(f"no week was sent to {runner.id}" + (" in that cycle" if cycle else ""), "")
            page = physio_page(review, entries, workspace.library, workspace.house)
            return _give(page, args.out, file_stem(runner.id, review.first) + "-physio")
        assert cycle is not None  # one of the three is there
        reviews, without = reviews_of(workspace, record, entries, cycle)
    if not reviews:
        raise Stop(f"no week of cycle {cycle.key} was sent to anybody", "sign its weeks first, or name another cycle")
    coach = coach_review(reviews, workspace.programme, cycle, without)
    print(text_of(coach, terminal_width()), end="")
    if args.out:
        stem = f"review-cycle-{file_stem(cycle.key, reviews[0].first)}"
        ws.write_text(args.out / f"{stem}.html", html_of(coach))
        for review in reviews:
            page = runner_review(review, workspace.programme, cycle, workspace.library, workspace.house)
            ws.write_text(args.out / f"{file_stem(review.runner.id, review.first)}-review.html", html_of(page))
        print(f"\nWritten to {args.out}: {stem}.html for you, and a page for each of {len(reviews)} runners")
    return 0


def _arguments(words: list[str]) -> argparse.Namespace:
    parser = parser_for("review", MORE)
    add_workspace(parser)
    parser.add_argument("--cycle", metavar="KEY", help="the cycle with this number or letter")
    parser.add_argument("--physio", metavar="R", help="the page for a physiotherapist about this runner")
    parser.add_argument("--hand-over", action="store_true", help="the page for a helping coach")
    parser.add_argument("--on", metavar="DATE", type=day, help="the hand-over as of that day; today when left out")
    parser.add_argument("--out", metavar="DIR", type=Path, help="folder to write the pages to")
    args = parser.parse_args(words)
    if args.cycle is None and not args.physio and not args.hand_over:
        parser.error("name a cycle with --cycle, or a page with --physio R or --hand-over")
    return args


def _give(page: Document, out: Path | None, stem: str) -> int:
    print(text_of(page, terminal_width()), end="")
    if out:
        ws.write_text(out / f"{stem}.html", html_of(page))
        print(f"\nWritten to {out / f'{stem}.html'}")
    return 0


def cycle_named(workspace: ws.Workspace, key: str) -> Cycle:
    """The cycle of that key. Raises Stop with the keys there are."""
    for cycle in workspace.programme.cycles:
        if cycle.key.lower() == key.strip().lower():
            return cycle
    have = ", ".join(c.key for c in workspace.programme.cycles)
    raise Stop(f"the programme has no cycle {key!r}", f"it has {have}" if have else "it could not be read")


def copies_of(record: Record, runner: Runner, cycle: Cycle | None) -> tuple[SentCopy, ...]:
    """The newest copy of each week sent to one runner, of one cycle or of all; not of weeks they were away in the end."""
    found = []
    for monday in record.sent_mondays(runner.id):
        copy = record.latest(runner.id, monday)
        if copy is None or week_away(runner, monday):
            continue
        if cycle is None or cycle.first_week <= copy.week.programme_week <= cycle.last_week:
            found.append(SentCopy(copy.copy_id, copy.week))
    return tuple(found)


def reviews_of(
    workspace: ws.Workspace, record: Record, entries: Sequence[Entry], cycle: Cycle
) -> tuple[tuple[RunnerReview, ...], tuple[tuple[str, str], ...]]:
    """The cycle of everybody, and of whom no week of it was sent, with the reason."""
    made: list[RunnerReview] = []
    without: list[tuple[str, str]] = []
    for runner in workspace.squad.runners:
        copies = copies_of(record, runner, cycle)
        before, after = _beliefs(workspace, runner, copies, entries) if len(copies) > 1 else (None, None)
        review = review_of(runner, copies, entries, workspace.library, before, after)
        if review is None:
            held = any(h.cleared_by is None for h in runner.holds)
            without.append((f"{runner.id} {runner.name}", "on hold" if held else "no week was signed"))
        else:
            made.append(review)
    return tuple(made), tuple(without)


def _beliefs(
    workspace: ws.Workspace, runner: Runner, copies: Sequence[SentCopy], entries: Iterable[Entry]
) -> tuple[Capacity | None, Capacity | None]:
    """What is believed at the end of the first of these weeks and of the last, by one estimate of what the squad shares."""
    first, last = (c.week.monday + timedelta(days=7) for c in (copies[0], copies[-1]))
    told = tuple(entries)
    shared = offsets_for(workspace.programme, workspace.squad, workspace.library, told, runner, copies[-1].week.monday)
    alone = replace(workspace.squad, runners=(runner,))

    def on(monday: date) -> Capacity | None:
        return beliefs(alone, workspace.library, told, monday, shared)[0].get(runner.id)

    return on(first), on(last)


def _hand_over(workspace: ws.Workspace, record: Record, entries: Sequence[Entry], on: date | None) -> Document:
    today = on or datetime.now().astimezone().date()
    weeks = {copy.runner_id: copy.week for copy in record.sent(monday_of(today))}
    dues = listed(record, workspace.squad, workspace.house, today)
    return hand_over(
        workspace.squad, workspace.programme, workspace.library, workspace.house, entries, weeks, dues, today
    )
