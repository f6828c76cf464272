"""Cells with dates: the anchor, the day a runner joins, and races."""

from __future__ import annotations

import re
from datetime import date

from ferrule.model.finding import Finding
from ferrule.model.squad import Anchor
from ferrule.squad.cell import Cell, entries, fault, shown
from ferrule.squad.dates import NoDate, read_date


def read_anchor(cell: Cell) -> tuple[Anchor | None, list[Finding]]:
    """`from 2026-01-05` or `to race 2026-05-17`; the year must be written."""
    if cell.empty:
        return None, [
            fault(
                cell,
                "no-anchor",
                "there is no anchor",
                "Nothing says when the programme begins for this runner, so no week is fitted.",
                'Write "from 2026-01-05" or "to race 2026-05-17".',
                level="advice",
            )
        ]
    found = re.fullmatch(r"(from|to race|to the race|race)(?: on)?:? (.+)", cell.key)
    if not found:
        what = f"{shown(cell.text)} does not say whether the programme begins or ends there"
        return None, [_left_out(cell, "anchor", what, "", 'Write "from 2026-01-05" or "to race 2026-05-17".')]
    day = read_date(found[2], None, "ahead")
    if isinstance(day, date):
        return Anchor("from" if found[1] == "from" else "to race", day, cell.span), []
    what = f"{shown(found[2])} in the anchor cannot be read as a day"
    return None, [_left_out(cell, day.code, what, day.why + " ", day.fix)]


def _left_out(cell: Cell, code: str, what: str, why: str, fix: str) -> Finding:
    return fault(cell, code, what, f"{why}Until it is mended no week is fitted for this runner.", fix)


def read_joins(cell: Cell, anchor: Anchor | None) -> tuple[date | None, list[Finding]]:
    """The first day the runner takes part, when that is later than the anchor."""
    if cell.empty:
        return None, []
    day = read_date(re.sub(r"^(from|on) ", "", cell.key), anchor, "ahead")
    if isinstance(day, date):
        return day, []
    what = f"{shown(cell.text)} cannot be read as the day this runner joins"
    return None, [fault(cell, day.code, what, f"{day.why} Until it is mended the anchor alone counts.", day.fix)]


def read_races(cell: Cell, anchor: Anchor | None) -> tuple[tuple[date, ...], list[Finding]]:
    """Race days in order, each once; words after a date are for people. The race of the anchor is always one of them."""
    days = {anchor.day} if anchor is not None and anchor.kind == "to race" else set()
    findings: list[Finding] = []
    if not cell.empty:
        for part in entries(cell, commas=False):
            found = race_day(part, anchor)
            pieces = [part] if isinstance(found, date) else re.split(r", ", part)
            for piece in pieces:
                day = found if isinstance(found, date) else race_day(piece, anchor)
                if isinstance(day, date):
                    days.add(day)
                    continue
                why = f"{day.why} This race is left out, so heavy leg work is not kept away from it."
                what = f"{shown(piece)} cannot be read as the day of a race"
                findings.append(fault(cell, day.code, what, why, day.fix))
    return tuple(sorted(days)), findings


def race_day(text: str, anchor: Anchor | None) -> date | NoDate:
    """The day one entry of the races means; words after a full date are for people."""
    first = re.match(r"\d{4}-\d{1,2}-\d{1,2}(?= )|\d{1,2} [A-Za-z]+ \d{4}(?= )", text)
    return read_date(first[0] if first else text, anchor, "ahead")
