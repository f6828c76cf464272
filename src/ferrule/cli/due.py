"""`ferrule due WORKSPACE`: who needs a word from the coach and why, and where an answer is kept."""

from __future__ import annotations

import argparse
import json
import secrets
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, replace
from datetime import UTC, date, datetime, timedelta
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, add_workspace, day, named, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.findings import plain, terminal_width
from ferrule.cli.reading import indented
from ferrule.cli.record import exists, opened, with_clearances
from ferrule.cli.stop import Stop
from ferrule.model.fact import Asked, Entry
from ferrule.model.fitted import FittedWeek, Outcome
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.quantity import number
from ferrule.model.squad import Squad
from ferrule.notice.due import clipped, due, in_order, minutes_of
from ferrule.notice.told import TIERS, Due, on, window_days
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.squad.place import monday_of
from ferrule.store.record import Record

MORE = """\
Strict tiers, the oldest first inside each; no score. Nothing is sent: a draft is words to begin from.
With --answer R --tier T --by NAME the word is said: that part goes off the list until there is something new."""


class Listed(NamedTuple):
    """The list, and the Monday of the week that was fitted for it, if one was."""

    rows: tuple[Due, ...]
    fitted: date | None


def run(words: list[str]) -> int:
    """Print the list, or keep an answer. Returns the exit code."""
    args = _arguments(words)
    now = datetime.now(UTC)
    today: date = args.on or now.astimezone().date()
    folder = people_of(args.workspace)
    squad, house = folder.squad, folder.house
    drafts = _drafts(args.workspace, args.week) if args.week else ()
    if not exists(folder):
        rows = due(squad, (), (), house, today, drafts)
    else:
        with opened(folder) as record:
            rows = listed(record, squad, house, today, drafts)
            if args.answer:
                return _answer(record, rows, squad, args, today, now)
    if args.answer:
        raise Stop("nothing has been told in this workspace yet, so nothing waits for an answer")
    found = Listed(rows, monday_of(args.week) if args.week else None)
    print(
        json.dumps(as_data(found, today), indent=2, ensure_ascii=False)
        if args.json
        else indented(said(found, today), terminal_width())
    )
    return 0


def _arguments(words: list[str]) -> argparse.Namespace:
    parser = parser_for("due", MORE)
    add_workspace(parser)
    parser.add_argument("--on", metavar="DATE", type=day, help="the list as it stood on that day; today when left out")
    parser.add_argument(
        "--week", metavar="DATE", type=day, help="fit that week first, and list lines you did not write; takes seconds"
    )
    parser.add_argument("--answer", metavar="R", help="the runner you have answered")
    parser.add_argument("--tier", choices=TIERS, help="what you have answered")
    parser.add_argument("--by", metavar="NAME", type=named, help="who answered")
    parser.add_argument("--words", metavar="TEXT", default="", help="what was said, kept with the answer")
    add_json(parser)
    args = parser.parse_args(words)
    if args.answer and not (args.tier and args.by):
        parser.error("--answer needs --tier and --by, so that it stands in the record who answered what")
    if not args.answer and (args.tier or args.by or args.words):
        parser.error("--tier, --by and --words go with --answer")
    return args


def people_of(folder: Path) -> ws.Workspace:
    """The workspace without its programme, which the list does not need. Raises Stop when there is no squad list."""
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}", "`ferrule new DIR` makes a workspace to start from")
    around = ws.surroundings(folder)
    squad, findings, sources = ws.squad_of(folder / ws.SQUAD, around)
    programme = Programme(str(folder / ws.PROGRAMME), "", 0, None, (), (), ())
    return ws.Workspace(folder, around.library, around.house, programme, squad, findings, sources)


def listed(record: Record, squad: Squad, house: House, today: date, drafts: Iterable[Outcome] = ()) -> tuple[Due, ...]:
    """The list from what the record holds; drafts of weeks that are signed by now are left out."""
    weeks = sent_weeks(record, house, today)
    signed = {(w.runner_id, w.monday) for w in weeks}
    ahead = [d for d in drafts if not (isinstance(d, FittedWeek) and (d.runner_id, d.monday) in signed)]
    rows = due(squad, weeks, entries_for(record, house, today), house, today, ahead)
    for runner_id in clipped(rows, first_monday(house, today)):
        one = replace(squad, runners=tuple(r for r in squad.runners if r.id == runner_id))
        own = [w for monday in record.sent_mondays(runner_id) if (w := record.latest(runner_id, monday))]
        draft = [d for d in ahead if d.runner_id == runner_id]
        again = due(one, [w.week for w in own], record.entries(runner_id), house, today, draft)
        rows = in_order([*(r for r in rows if r.runner_id != runner_id), *again], squad)
    return rows


def entries_for(record: Record, house: House, today: date) -> tuple[Entry, ...]:
    """What the list needs of the record: everything but old sets."""
    return record.entries(sets_from=today - timedelta(days=window_days(house)))


def first_monday(house: House, today: date) -> date:
    """The Monday of the first sent week that is read for everybody."""
    return monday_of(today - timedelta(days=window_days(house)))


def sent_weeks(record: Record, house: House, today: date) -> list[FittedWeek]:
    """The newest copy of every runner's week, from as far back as the list looks to the week after this one."""
    monday = first_monday(house, today)
    out: list[FittedWeek] = []
    while monday <= today + timedelta(days=7):
        newest = {copy.runner_id: copy.week for copy in record.sent(monday)}
        out += newest.values()
        monday += timedelta(days=7)
    return out


def _drafts(folder: Path, week: date) -> tuple[Outcome, ...]:
    from ferrule.cli.fitting import fit_week

    return fit_week(with_clearances(ws.open_workspace(folder)), monday_of(week)).outcomes


def _answer(
    record: Record, rows: Sequence[Due], squad: Squad, args: argparse.Namespace, today: date, now: datetime
) -> int:
    """Keep what was said to one runner about one tier."""
    known = {row.runner_id for row in rows}
    runner_id = args.answer if args.answer in known else runner_of(squad, args.answer).id
    row = next((r for r in rows if (r.runner_id, r.tier) == (runner_id, args.tier)), None)
    if row is None:
        raise Stop(f"nothing of {runner_id} waits under {args.tier!r}", "`ferrule due` lists what does")
    stamp = milliseconds(now)
    made = [
        Entry(
            str(uuid7(stamp, secrets.randbits(RANDOM_BITS))),
            runner_id,
            now,
            "coach",
            Asked(today, " ".join(args.words.split()), key, args.by),
        )
        for key in row.keys
    ]
    record.add(made, now)
    print(f"{runner_id} {plain(row.runner_name)}: {args.tier}, answered by {args.by}; off the list until there is more")
    if args.tier == "red flag":
        print("An answer clears nobody: who trains again is for somebody qualified to say.", file=sys.stderr)
    return 0


def said(found: Listed, today: date) -> str:
    """The list as text: tiers, and under each the runners with facts, draft and minutes."""
    rows = found.rows
    lines = [_head(rows, today)]
    for tier, group in groupby(rows, key=lambda row: row.tier):
        lines += ["", tier]
        for row in group:
            days = (today - row.since).days
            ago = "today" if days <= 0 else "1 day" if days == 1 else f"{days} days"
            lines.append(
                f"  {row.runner_id} {row.runner_name}, since {on(row.since)} ({ago}), {number(row.minutes)} min"
            )
            lines += [f"    {plain(fact)}" for fact in row.facts]
            lines.append(f"    draft: {plain(row.draft)}")
    if found.fitted is None:
        lines += ["", "Lines you did not write are listed with --week DATE, which fits that week first."]
    return "\n".join(lines)


def _head(rows: Sequence[Due], today: date) -> str:
    people = len({row.runner_id for row in rows})
    if not people:
        return f"{on(today)} {today.year}: nobody needs a word from you"
    needs = "1 runner needs" if people == 1 else f"{people} runners need"
    return f"{on(today)} {today.year}: {needs} a word from you, about {number(minutes_of(rows))} min"


def as_data(found: Listed, today: date) -> Mapping[str, object]:
    """The same as plain data."""
    rows = [{**asdict(row), "since": row.since.isoformat(), "days": (today - row.since).days} for row in found.rows]
    return {
        "on": today.isoformat(),
        "minutes": minutes_of(found.rows),
        "fitted_week": found.fitted.isoformat() if found.fitted else None,
        "due": rows,
    }
