"""`ferrule sheets WORKSPACE --week DATE --out DIR`: sheets, pages and calendars of signed weeks."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_week, add_workspace, parser_for
from ferrule.cli.fitting import clear_line, fit_week, progress_line
from ferrule.cli.record import exists, opened, with_clearances
from ferrule.deliver.calendar import calendar
from ferrule.deliver.page import runner_page
from ferrule.deliver.sheet import sheet_pdf
from ferrule.model.entry import TimeAway
from ferrule.model.fact import TakenBack
from ferrule.model.fitted import FittedWeek
from ferrule.record.standing import moment
from ferrule.squad.away import days_away
from ferrule.squad.place import monday_of
from ferrule.store.record import SentWeek

MORE = """\
Only signed copies leave. Each runner gets three files: .pdf to print, .html for the phone, .ics for the calendar.
--drafts adds sheets and pages of unsigned weeks, each marked as a draft on every page."""


def run(words: list[str]) -> int:
    """Write the files and say which. Returns the exit code."""
    parser = parser_for("sheets", MORE)
    add_workspace(parser)
    add_week(parser)
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder to write to")
    parser.add_argument("--drafts", action="store_true", help="also write watermarked drafts of weeks not signed")
    args = parser.parse_args(words)
    monday = monday_of(args.week)
    workspace = with_clearances(ws.open_workspace(args.workspace))
    copies = copies_of(workspace, monday)
    written = write_signed(workspace, copies, args.out)
    print(f"{len(current(copies))} signed weeks: {len(written)} files in {args.out}")
    if args.drafts:
        drafts = unsigned_weeks(workspace, copies, monday)
        written = write_drafts(workspace, drafts, args.out)
        print(f"{len(drafts)} drafts, not signed: {len(written)} files in {args.out}")
    elif not copies:
        print("nothing is signed for that week; `ferrule sign` signs it, --drafts shows it unsigned")
    return 0


def copies_of(workspace: ws.Workspace, monday: date) -> tuple[SentWeek, ...]:
    """Every signed copy of that week, by runner and sequence."""
    if not exists(workspace):
        return ()
    with opened(workspace) as record:
        return record.sent(monday)


def current(copies: Iterable[SentWeek]) -> tuple[SentWeek, ...]:
    """The newest copy of each runner."""
    return tuple({copy.runner_id: copy for copy in copies}.values())


def write_signed(workspace: ws.Workspace, copies: tuple[SentWeek, ...], out: Path) -> tuple[Path, ...]:
    """Sheet, page and calendar of each runner's newest copy. Returns the files written."""
    written: list[Path] = []
    newest = current(copies)
    edits = edits_of(workspace, newest)
    show = progress_line(sys.stderr, "writing", len(newest))
    for done, copy in enumerate(newest, start=1):
        stem = file_stem(copy.runner_id, copy.monday)
        library, house, week = workspace.library, workspace.house, copy.week
        pdf = sheet_pdf(week, library, house, draft=False, copy_id=copy.copy_id)
        page = runner_page(week, library, house, draft=False, copy_id=copy.copy_id)
        before = [c.week for c in copies if c.runner_id == copy.runner_id and c.sequence < copy.sequence]
        edit = edits[copy.runner_id]
        ics = calendar(
            week,
            sequence=edit.sequence,
            stamp=max(copy.signed_at, edit.newest),
            library=library,
            earlier=before,
            away=edit.away,
        )
        for name, data in ((f"{stem}.pdf", pdf), (f"{stem}.html", page.encode("utf-8")), (f"{stem}.ics", ics)):
            ws.write_bytes(out / name, data)
            written.append(out / name)
        for left in (out / f"{stem}-draft.pdf", out / f"{stem}-draft.html"):
            left.unlink(missing_ok=True)  # a draft of what is signed by now would only mislead
        if show is not None:
            show(done, len(newest), copy.week.runner_name)
    clear_line(sys.stderr)
    return tuple(written)


@dataclass(frozen=True, slots=True)
class Edit:
    """What a calendar must know of a runner beside the copy itself.

    sequence   of RFC 5545: copies sent up to that week, and times away told since. It grows with each, also where a
               session has gone on to another week under the same UID
    newest     when the last time away was told;  away: days on which nothing is trained
    """

    sequence: int
    newest: datetime
    away: frozenset[date]


def edits_of(workspace: ws.Workspace, newest: tuple[SentWeek, ...]) -> dict[str, Edit]:
    """For each newest copy, by runner id, what has come since that its calendar must say."""
    if not newest:
        return {}
    made: dict[str, Edit] = {}
    runners = {r.id: r for r in workspace.squad.runners}
    with opened(workspace) as record:
        for copy in newest:
            told = [e for e in record.entries(copy.runner_id) if isinstance(e.fact, TimeAway | TakenBack)]
            sent = record.sent_mondays(copy.runner_id)
            runner = runners.get(copy.runner_id)
            made[copy.runner_id] = Edit(
                sum(n for monday, n in sent.items() if monday <= copy.monday) + len(told),
                max((moment(e) for e in told), default=copy.signed_at),
                frozenset() if runner is None else days_away(runner),
            )
    return made


def unsigned_weeks(workspace: ws.Workspace, copies: tuple[SentWeek, ...], monday: date) -> tuple[FittedWeek, ...]:
    """Fitted weeks of runners who have no signed copy for that week."""
    have = {copy.runner_id for copy in copies}
    week = fit_week(workspace, monday)
    return tuple(o for o in week.outcomes if isinstance(o, FittedWeek) and o.runner_id not in have)


def write_drafts(workspace: ws.Workspace, weeks: tuple[FittedWeek, ...], out: Path) -> tuple[Path, ...]:
    """Watermarked sheet and page of each week; no calendar, which cannot be taken back. Returns the files written."""
    written: list[Path] = []
    for week in weeks:
        stem = file_stem(week.runner_id, week.monday) + "-draft"
        ws.write_bytes(out / f"{stem}.pdf", sheet_pdf(week, workspace.library, workspace.house, draft=True))
        ws.write_text(out / f"{stem}.html", runner_page(week, workspace.library, workspace.house, draft=True))
        written += [out / f"{stem}.pdf", out / f"{stem}.html"]
    return tuple(written)


def file_stem(runner_id: str, monday: date) -> str:
    """Runner and Monday as the first part of a file name: letters, digits, - and _ only, and never the same for two."""
    kept = re.sub(r"[^\w-]+", "_", runner_id).strip("_")[:40]
    if kept != runner_id:
        kept = f"{kept or 'runner'}-{sha256(runner_id.encode('utf-8', 'replace')).hexdigest()[:6]}"
    return f"{kept}-{monday.isoformat()}"
