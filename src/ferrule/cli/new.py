"""`ferrule new DIR`: a workspace to start from."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from ferrule.check.house import house_toml
from ferrule.cli import workspace as ws
from ferrule.cli.arguments import parser_for
from ferrule.cli.stop import Stop


def run(words: list[str]) -> int:
    """Write the workspace and say what to do next. Returns the exit code."""
    parser = parser_for("new", "DIR must not exist yet, or be empty. Nothing is ever overwritten.")
    parser.add_argument("folder", metavar="DIR", type=Path, help="folder to make")
    folder: Path = parser.parse_args(words).folder
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise Stop(f"{folder} is there already and holds something", "name a new folder")
    except OSError as fault:
        raise Stop(f"{folder} cannot be used: {fault.strerror or fault}") from None
    start = files("ferrule.cli") / "start"
    for name in (ws.PROGRAMME, ws.SQUAD):
        ws.write_bytes(folder / name, (start / name).read_bytes())
    ws.write_text(folder / ws.HOUSE, house_toml())
    print(
        f"{folder} made: {ws.PROGRAMME}, {ws.SQUAD}, {ws.HOUSE}\n\n"
        f"  ferrule check {folder}                      what Ferrule noticed\n"
        f"  ferrule fit {folder} --week 2026-01-05      each runner's week, to read\n"
        f"\nThe three runners are invented; put your own squad into {ws.SQUAD}."
    )
    return 0
