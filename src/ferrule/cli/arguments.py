"""Arguments that several commands share."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from ferrule.cli.main import COMMANDS


def parser_for(name: str, more: str = "") -> argparse.ArgumentParser:
    """An argument parser for the command `name`, described as in the list of commands; `more` is added below it."""
    does = next(does for command, _, does in COMMANDS if command == name)
    return argparse.ArgumentParser(
        prog=f"ferrule {name}",
        description=does[0].upper() + does[1:] + ".",
        epilog=more or None,
        allow_abbrev=False,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def add_workspace(parser: argparse.ArgumentParser) -> None:
    """WORKSPACE: a folder with programme.md and squad.csv."""
    parser.add_argument("workspace", metavar="WORKSPACE", type=Path, help="folder with programme.md and squad.csv")


def add_week(parser: argparse.ArgumentParser) -> None:
    """--week DATE: any day of the week that is meant."""
    parser.add_argument(
        "--week", metavar="DATE", type=day, required=True, help="any day of that week, as 2026-01-19 (a Monday)"
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    """--json: the same as data on standard output."""
    parser.add_argument("--json", action="store_true", help="print the same as data")


def day(text: str) -> date:
    """A date written as year-month-day. Raises argparse.ArgumentTypeError with what to write instead."""
    try:
        found = date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no date; write it as 2026-01-19") from None
    if not 1970 <= found.year <= 2200:
        raise argparse.ArgumentTypeError(f"{text!r} is not a year Ferrule plans for")
    return found


def named(text: str) -> str:
    """A person's name as given on the command line: not blank, spaces tidied, no control characters."""
    name = " ".join(text.split())
    if not name or not name.isprintable():
        raise argparse.ArgumentTypeError("a name is needed, so that it stands in the record who did this")
    return name
