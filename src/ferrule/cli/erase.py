"""`ferrule erase WORKSPACE RUNNER --by NAME`: everything kept of one runner removed for good."""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import named, parser_for
from ferrule.cli.findings import plain
from ferrule.cli.record import HELP, opened_file, print_findings, record_file
from ferrule.cli.stop import Stop
from ferrule.model.finding import Finding
from ferrule.model.squad import Runner
from ferrule.store.record import Record

MORE = """\
Entries, sent weeks and clearances go from the record and from the bytes of its file. It cannot be undone. That somebody
was erased is noted with the day and NAME, not who. Sheets, pages, calendars, exports and backups written before are files
of yours: erase them too. The id is asked for twice unless --yes."""


def run(words: list[str]) -> int:
    """Ask, erase, say what is left to do. Returns the exit code."""
    parser = parser_for("erase", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help=HELP)
    parser.add_argument("runner", metavar="RUNNER", help="id of the runner, as in the record")
    parser.add_argument("--by", metavar="NAME", type=named, required=True, help="who erases: the coach, not the runner")
    parser.add_argument("--yes", action="store_true", help="do not ask")
    args = parser.parse_args(words)
    path = record_file(args.workspace)
    row = _row(args.workspace, args.runner)
    with opened_file(path) as record:
        runner_id = _kept_id(record, args.runner, row)
        if args.by.casefold() in {runner_id.casefold(), *({row.name.casefold()} if row else ())}:
            raise Stop("that would leave the runner's name in the note", "give the name of the one who erases")
        if not args.yes:
            _ask(runner_id)
        names = (row.name,) if row else ()
        erased = record.erase(runner_id, args.by, datetime.now(UTC), names)
    if erased.weeks + erased.clearances + erased.entries:
        print(f"erased: {erased.weeks} sent weeks, {erased.clearances} clearances, {erased.entries} entries")
    else:
        print(f"the record keeps nothing of {plain(runner_id)}; its file was cleaned once more")
    print("backups, exports, sheets, pages and calendars written before are yours to erase")
    print_findings((*erased.findings, *([_still_listed(row)] if row else ())))
    return 0


def _kept_id(record: Record, asked: str, row: Runner | None) -> str:
    """The id as it is kept. Raises Stop when neither record nor squad list has it, or two could be meant."""
    kept = record.runners()
    if asked in kept:
        return asked
    near = [runner_id for runner_id in kept if runner_id.casefold() == asked.strip().casefold()]
    if len(near) == 1:
        return near[0]
    if row is not None and not near:
        return row.id
    raise Stop(
        f"the record keeps nothing of {plain(asked)!r}; nothing was erased",
        f"it has {', '.join(map(plain, kept[:30]))}" if kept else "it is empty",
    )


def _row(folder: Path, runner_id: str) -> Runner | None:
    """The runner's row in the squad list, if there is a list and it has one."""
    if not (folder / ws.SQUAD).is_file():
        return None
    squad, _, _ = ws.squad_of(folder / ws.SQUAD, ws.surroundings(folder))
    return next((r for r in squad.runners if r.id.casefold() == runner_id.strip().casefold()), None)


def _ask(runner_id: str) -> None:
    """Have the id typed twice. Raises Stop when it is not."""
    if not sys.stdin.isatty():
        raise Stop("nobody is there to be asked", "give --yes when you mean it")
    for question in ("type the id of the runner to erase: ", "once more, it cannot be undone: "):
        try:
            typed = input(question).strip()
        except EOFError:
            typed = ""
        if typed != runner_id:
            raise Stop("that is not the id; nothing was erased", "", 1)


def _still_listed(row: Runner) -> Finding:
    return Finding(
        "erased-runner-in-squad-list",
        "advice",
        "the squad list still has the row of this runner",
        "The list is your file: it is not changed here, and the runner would be fitted again.",
        "Take the row out, and the runner's own lines in the programme, if any.",
        row.span,
    )
