"""`ferrule runs WORKSPACE [FILE ...] --runner R`: runs from files are kept; what is known of them is said."""

from __future__ import annotations

import argparse
import json
import secrets
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, tzinfo
from pathlib import Path
from typing import get_args
from zoneinfo import ZoneInfo

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, add_workspace, day, named, parser_for
from ferrule.cli.clear import runner_of
from ferrule.cli.due import people_of
from ferrule.cli.findings import as_data as findings_as_data
from ferrule.cli.findings import may_style, render, terminal_width
from ferrule.cli.reading import indented
from ferrule.cli.record import exists, opened
from ferrule.cli.stop import Stop
from ferrule.model.fact import Entry, RunTold
from ferrule.model.finding import Finding, has_errors, in_order
from ferrule.model.house import House
from ferrule.model.squad import RunKind, Runner
from ferrule.notice.longest_run import longest_run
from ferrule.notice.race_curve import RaceCurve, clock, curve_of, curve_words, race_words
from ferrule.notice.run_again import read_again
from ferrule.notice.run_entries import read_runs
from ferrule.notice.run_kind import KnownRun, kinds
from ferrule.notice.run_table import day_words, read_run_table
from ferrule.notice.session_load import load_words, week_load
from ferrule.record.standing import runs_of, sessions_of, standing
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.squad.place import monday_of

MORE = """\
FILE is a GPX track or a table of runs (.csv: date, distance, time, climb, kind). The same file twice is kept once.
Without FILE it lists the runs of the last weeks: which were key and long, against the runner's own weeks, and why."""
SHOWN_DAYS = 42
MOST_BYTES = 60_000_000


class Local(tzinfo):
    """The time zone of this machine, summer time of each day included."""

    def fromutc(self, dt: datetime) -> datetime:
        """Local time of a moment."""
        return dt.replace(tzinfo=UTC).astimezone().replace(tzinfo=self)

    def utcoffset(self, dt: datetime | None) -> timedelta | None:
        """Local time ahead of UTC."""
        return None if dt is None else dt.replace(tzinfo=None).astimezone().utcoffset()

    def dst(self, dt: datetime | None) -> timedelta | None:  # noqa: ARG002 - the name is the base class's
        """Not told apart."""
        return None

    def tzname(self, dt: datetime | None) -> str:  # noqa: ARG002
        """What it is called here."""
        return "local"


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of one runner's runs: those shown, findings about them, the race curve, and the line of session load."""

    runner: Runner
    runs: tuple[KnownRun, ...]
    findings: tuple[Finding, ...]
    races: int
    curve: RaceCurve | None
    load: str


def run(words: list[str]) -> int:
    """Keep runs, or the coach's word on one; then list. Returns the exit code."""
    args = _arguments(words)
    folder = people_of(args.workspace)
    runner = runner_of(folder.squad, args.runner)
    now = datetime.now(UTC)
    read, findings = read_files(args.files, runner.id, args.zone or Local(), args.on)
    entries, odd = read_again(read, told_runs(folder, runner) if read else ())
    findings = in_order((*findings, *odd))
    added = ""
    if args.set:
        added = _overrule(folder, runner, args, now)
    elif args.files:
        added, more = _keep(folder, entries, now, dry=args.dry)
        findings += more
    held = [*told_runs(folder, runner), *(entries if args.dry else ())]
    found = known(runner, held, folder.house, args.until)
    if args.json:
        print(json.dumps(as_data(found, added, findings, args.race), indent=2, ensure_ascii=False))
    else:
        if findings:
            print(render(findings, {}, width=terminal_width(), styled=may_style(sys.stderr)), file=sys.stderr)
        print(indented(said(found, added, args.race), terminal_width()))
    return 1 if has_errors(findings) else 0


def _arguments(words: list[str]) -> argparse.Namespace:
    parser = parser_for("runs", MORE)
    add_workspace(parser)
    parser.add_argument("files", metavar="FILE", nargs="*", type=Path, help="GPX tracks and tables of runs")
    parser.add_argument("--runner", metavar="R", required=True, help="id of the runner, as in the squad list")
    parser.add_argument("--on", metavar="DATE", type=day, help="the day of a track that has no times")
    parser.add_argument("--zone", metavar="NAME", type=zone, help="time zone of the runner, as Europe/London")
    parser.add_argument("--dry", action="store_true", help="only say what would be kept")
    parser.add_argument("--set", metavar="DATE", type=day, help="the longest run of that day was of another kind")
    parser.add_argument("--kind", choices=get_args(RunKind), help="what it was")
    parser.add_argument("--by", metavar="NAME", type=named, help="who says so")
    parser.add_argument("--until", metavar="DATE", type=day, help="last day listed; the newest run's when left out")
    parser.add_argument("--race", metavar="KM", type=kilometres, help="what the runner's own races say of a distance")
    add_json(parser)
    args = parser.parse_args(words)
    if any((args.set, args.kind, args.by)) and not all((args.set, args.kind, args.by)):
        parser.error("--set, --kind and --by go together: which run, what it was, and who says so")
    if args.set and args.files:
        parser.error("--set is for a run that is kept already; leave the files out")
    return args


def zone(name: str) -> ZoneInfo:
    """A time zone by its name. Raises argparse.ArgumentTypeError."""
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise argparse.ArgumentTypeError(f"{name!r} is no time zone; write it as Europe/London") from None


def kilometres(text: str) -> float:
    """A distance of a race, km. Raises argparse.ArgumentTypeError."""
    try:
        km = float(text.replace(",", "."))
    except ValueError:
        km = 0.0
    if not 0.1 <= km <= 1000:
        raise argparse.ArgumentTypeError(f"{text!r} is no distance of a race in kilometres")
    return km


def read_files(
    files: Sequence[Path], runner_id: str, here: tzinfo, on: date | None
) -> tuple[list[Entry], tuple[Finding, ...]]:
    """The runs of every file. Raises Stop when one cannot be opened."""
    entries: list[Entry] = []
    findings: list[Finding] = []
    for path in files:
        data = _bytes(path)
        if path.suffix.lower() == ".csv":
            made, noticed = read_run_table(data, str(path), runner_id)
        else:
            made, noticed = read_runs(data, str(path), runner_id, here, on)
        entries += made
        findings += noticed
    return entries, in_order(findings)


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as fault:
        why = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        raise Stop(f"{path} cannot be read: {why}") from None
    if len(data) > MOST_BYTES:
        raise Stop(f"{path} is larger than {MOST_BYTES // 1_000_000} million bytes", "export one run")
    return data


def _keep(
    folder: ws.Workspace, entries: Sequence[Entry], now: datetime, *, dry: bool
) -> tuple[str, tuple[Finding, ...]]:
    """What became of the runs that were read, in words."""
    if dry:
        return f"{len(entries)} runs read, none kept (--dry)", ()
    if not entries:
        return "no run was kept", ()
    with opened(folder) as record:
        told = record.add(entries, now)
    return f"{told.new} runs kept, {told.known} known already", told.findings


def told_runs(folder: ws.Workspace, runner: Runner) -> tuple[Entry, ...]:
    """Everything that counts for that runner."""
    if not exists(folder):
        return ()
    with opened(folder) as record:
        return record.entries(runner.id)


def _overrule(folder: ws.Workspace, runner: Runner, args: argparse.Namespace, now: datetime) -> str:
    """The coach's word on the longest run of a day: a correction of it, which stands over what is worked out."""
    there = [
        (e, e.fact)
        for e in standing(told_runs(folder, runner))
        if isinstance(e.fact, RunTold) and e.fact.day == args.set
    ]
    if not there:
        raise Stop(f"no run of {runner.id} is known on {args.set}", "leave --set out to list what is known")
    old, run_ = max(there, key=lambda pair: pair[1].distance_km)
    made = str(uuid7(milliseconds(now), secrets.randbits(RANDOM_BITS)))
    with opened(folder) as record:
        record.add([Entry(made, runner.id, now, "coach", replace(run_, kind=args.kind), old.entry_id)], now)
    return f"{day_words(run_.day)}, {run_.distance_km:.1f} km: {args.kind}, says {args.by}"


def known(runner: Runner, entries: Sequence[Entry], house: House, until: date | None = None) -> Known:
    """What is known of the runs of the last `SHOWN_DAYS` days up to `until`, or up to the newest run."""
    runs = runs_of(entries, runner.id)
    last = until or max((r.day for r in runs), default=date.min)
    runs = tuple(r for r in runs if r.day <= last)
    judged = kinds(runs, runner, house)
    shown = tuple(k for k in judged if (last - k.run.day).days < SHOWN_DAYS)
    findings = [f for k in shown if (f := longest_run(k.run, runs, house))]
    races = [k.run for k in judged if k.kind == "race" and k.run.minutes]
    sessions = [s for s in sessions_of(entries, runner.id) if until is None or s.day <= until]
    load = load_words(week_load(sessions, monday_of(sessions[-1].day))) if sessions else "no session was told"
    curve = curve_of(races, house.value("climb-as-flat"))
    return Known(runner, shown, tuple(findings), len(races), curve, load)


def said(found: Known, added: str, race_km: float | None) -> str:
    """All of it as text."""
    lines = [f"{found.runner.id} {found.runner.name}", *([added] if added else []), ""]
    if not found.runs:
        lines.append("no run is known")
    for item in found.runs:
        run_ = item.run
        minutes = "" if run_.minutes is None else clock(run_.minutes)
        climb = "" if run_.climb_m is None else f"{run_.climb_m:.0f} m up"
        head = f"{day_words(run_.day)}  {run_.distance_km:5.1f} km  {minutes:>8}  {climb:>9}"
        lines.append(f"{head}  {item.kind or 'not known':<9}  {item.because}")
    for finding in found.findings:
        lines += ["", finding.what, f"  {finding.why}", f"  {finding.fix}", f"  {finding.source}"]
    lines += ["", curve_words(found.curve, found.races)]
    if race_km is not None and found.curve is not None:
        lines.append(race_words(found.curve, race_km))
    return "\n".join([*lines, found.load])


def as_data(found: Known, added: str, findings: Sequence[Finding], race_km: float | None) -> Mapping[str, object]:
    """The same as plain data."""
    curve = found.curve
    return {
        "runner_id": found.runner.id,
        "said": added,
        "runs": [
            {
                "day": k.run.day.isoformat(),
                "distance_km": k.run.distance_km,
                "minutes": k.run.minutes,
                "climb_m": k.run.climb_m,
                "kind": k.kind or None,
                "because": k.because,
                "told": k.told,
            }
            for k in found.runs
        ],
        "races": found.races,
        "curve": None if curve is None else {"b": curve.b, "b_se": curve.b_se, "races": curve.n},
        "race": None if curve is None or race_km is None else dict(zip(_ENDS, curve.minutes(race_km), strict=True)),
        "session_load": found.load,
        "findings": findings_as_data((*findings, *found.findings)),
    }


_ENDS = ("low_min", "middle_min", "high_min")
