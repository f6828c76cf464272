"""`ferrule shots WORKSPACE`: the fewest clips that show everything a cycle asks for."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path

from ferrule.cli import workspace as ws
from ferrule.cli.arguments import add_json, day, parser_for
from ferrule.cli.compare import show
from ferrule.cli.findings import terminal_width
from ferrule.cli.fitting import file_errors, fit_week
from ferrule.cli.reading import indented, read_file
from ferrule.cli.record import with_clearances
from ferrule.cli.stop import Stop
from ferrule.deliver.shots import Clip, ShotList, shots_of, shots_of_week
from ferrule.model.finding import has_errors
from ferrule.squad.place import monday_of

MORE = """\
WORKSPACE is a folder with programme.md, or a programme. Every week and every alternative of the cycle is counted.
A clip shows one exercise, or two that differ only in load or hands. What was noticed while reading goes to standard
error; exit code 1 when an error is among it."""


def run(words: list[str]) -> int:
    """Read, list, print. Returns the exit code."""
    parser = parser_for("shots", MORE)
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help="workspace, or a programme")
    parser.add_argument("--cycle", metavar="KEY", help="only the cycle with this number or letter")
    parser.add_argument(
        "--week",
        metavar="DATE",
        type=day,
        help="what the squad is given that week, fitted: its lanes, and the ways out",
    )
    add_json(parser)
    args = parser.parse_args(words)
    if args.week is not None:
        return _fitted(args.workspace, args.week, json_wanted=args.json)
    read = read_file(args.workspace / ws.PROGRAMME if args.workspace.is_dir() else args.workspace)
    show(read.findings, read.sources)
    cycles = [c for c in read.programme.cycles if args.cycle in (None, c.key)]
    if args.cycle is not None and not cycles:
        there = ", ".join(c.key for c in read.programme.cycles)
        raise Stop(f"{read.programme.file} has no cycle {args.cycle!r}", f"it has {there}" if there else "it has none")
    lists = [shots_of(read.programme, cycle, read.library) for cycle in cycles]
    if args.json:
        json.dump({"cycles": [as_data(shots) for shots in lists]}, sys.stdout, indent=2, ensure_ascii=False)
        print()
    else:
        print(
            indented("\n\n".join(text_of(shots) for shots in lists) or "no cycle, so nothing to film", terminal_width())
        )
    return 1 if has_errors(read.findings) else 0


def _fitted(folder: Path, week: date, *, json_wanted: bool) -> int:
    """The shot list of one week as it is fitted to the squad."""
    workspace = with_clearances(ws.open_workspace(folder))
    shots = shots_of_week(fit_week(workspace, monday_of(week)), workspace.library)
    if json_wanted:
        json.dump({"cycles": [as_data(shots)]}, sys.stdout, indent=2, ensure_ascii=False)
        print()
    else:
        print(indented(text_of(shots), terminal_width()))
    return 1 if has_errors(file_errors(workspace)) else 0


def text_of(shots: ShotList) -> str:
    """The shot list of one cycle in words."""
    first, last = shots.weeks
    weeks = f"week {first}" if first == last else f"weeks {first}-{last}"
    things = "1 thing" if shots.showings == 1 else f"{shots.showings} things"
    clips = "1 clip" if len(shots.clips) == 1 else f"{len(shots.clips)} clips"
    lines = [
        f"{shots.cycle}, {weeks}: {clips} for {things} to be seen, the fewest that do",
        "The whole body and what it rests on in the picture, three repetitions, quiet background.",
        "",
    ]
    for number, clip in enumerate(shots.clips, start=1):
        lines += [f"{number}. {' + '.join(clip.names)}", *(f"  {line}" for line in _how(clip))]
    for head, told in (
        ("Left open by the programme, to be filmed when the week is fitted:", shots.open_lines),
        ("Not in the library, so nothing is known about how to film it:", shots.unknown),
    ):
        if told:
            lines += ["", head, *(f"  {line}" for line in told)]
    return "\n".join(lines)


def _how(clip: Clip) -> tuple[str, ...]:
    side = "" if clip.shot.side == "either side" else f", {clip.shot.side} nearer to the camera"
    view = {"side": "from the side", "front": "from the front", "behind": "from behind"}[clip.shot.view]
    fetch = f"fetch: {', '.join(clip.fetch)}" if clip.fetch else "fetch: nothing"
    return (
        f"camera: {view}{side}",
        *((f"start: {clip.setup}",) if clip.setup else ()),
        f"must be seen: {clip.shot.see}",
        f"say: {clip.shot.say}",
        fetch,
        f"used in: {'; '.join(clip.used)}",
    )


def as_data(shots: ShotList) -> dict[str, object]:
    """The same as plain data."""
    return {
        "cycle": shots.cycle,
        "weeks": list(shots.weeks),
        "showings": shots.showings,
        "clips": [
            {
                "shows": [
                    {"id": s.variant_id, "place": s.place, "band": s.band, "name": name}
                    for s, name in zip(clip.showings, clip.names, strict=True)
                ],
                "view": clip.shot.view,
                "side": clip.shot.side,
                "see": clip.shot.see,
                "say": clip.shot.say,
                "setup": clip.setup,
                "fetch": list(clip.fetch),
                "used": list(clip.used),
            }
            for clip in shots.clips
        ],
        "open_lines": list(shots.open_lines),
        "unknown": list(shots.unknown),
    }
