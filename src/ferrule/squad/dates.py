"""Dates as people write them, read only where one reading is possible."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ferrule.model.squad import Anchor

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NAMES = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_NUMBERS = re.compile(r"(\d{1,2})[/.](\d{1,2})[/.](\d{4})")
_DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?(?: of)? ([a-z]+)\.?,?(?: (\d{4}))?")
_MONTH_DAY = re.compile(r"([a-z]+)\.? (\d{1,2})(?:st|nd|rd|th)?,?(?: (\d{4}))?")

WINDOW_DAYS: dict[tuple[str, str], tuple[int, int]] = {
    ("from", "ahead"): (-30, 300),
    ("from", "behind"): (-300, 30),
    ("to race", "ahead"): (-300, 30),
    ("to race", "behind"): (-330, 0),
}
"""Days around the anchor in which a date without a year is looked for, by kind of anchor and by whether the date
lies ahead (a limit's end, a race) or behind (a clearance). Under a year wide, so there is never more than one."""

HOW = 'Write dates like "2026-03-12" or "12 March 2026".'


@dataclass(frozen=True, slots=True)
class NoDate:
    """Why a text is no date."""

    code: str
    why: str
    fix: str = HOW


def read_date(text: str, anchor: Anchor | None, toward: Literal["ahead", "behind"]) -> date | NoDate:
    """The day `text` means, or why it means none.

    ISO dates and dates with the month in words are read. Numbers with slashes or dots are read only when day and month
    cannot be taken for each other. Without a year, the one day in WINDOW_DAYS around the anchor is taken.
    """
    key = " ".join(text.lower().split()).rstrip(".,")
    key = re.sub(r"^(mon|tue|wed|thu|fri|sat|sun)[a-z]*,? ", "", key)
    if found := _ISO.fullmatch(key):
        return _day(int(found[1]), int(found[2]), int(found[3]))
    if found := _NUMBERS.fullmatch(key):
        return _numbers(int(found[1]), int(found[2]), int(found[3]))
    if found := _DAY_MONTH.fullmatch(key):
        day, month, year = int(found[1]), _month(found[2]), found[3]
    elif found := _MONTH_DAY.fullmatch(key):
        day, month, year = int(found[2]), _month(found[1]), found[3]
    else:
        return NoDate("unreadable-date", "It is not a date this reader knows.")
    if month is None:
        return NoDate("unreadable-date", "It names no month this reader knows.")
    return _day(int(year), month, day) if year else _without_year(month, day, anchor, toward)


def _month(word: str) -> int | None:
    known = [i for i, (short, name) in enumerate(zip(_MONTHS, _NAMES, strict=True), start=1) if word in (short, name)]
    return known[0] if known else (9 if word == "sept" else None)


def _day(year: int, month: int, day: int) -> date | NoDate:
    if not 2000 <= year <= 2100:
        return NoDate("unreadable-date", "Its year is not between 2000 and 2100.")
    try:
        return date(year, month, day)
    except ValueError:
        return NoDate("unreadable-date", "The calendar has no such day.")


def _numbers(first: int, second: int, year: int) -> date | NoDate:
    day_first, month_first = _day(year, second, first), _day(year, first, second)
    readings = {d for d in (day_first, month_first) if isinstance(d, date)}
    if len(readings) == 2:
        return NoDate(
            "ambiguous-date",
            f"It may be {_said(day_first)} or {_said(month_first)}.",
            f'Write "{day_first}" or "{month_first}".',
        )
    return readings.pop() if readings else day_first


def _said(day: date | NoDate) -> str:
    return f"{day.day} {_NAMES[day.month - 1].title()} {day.year}" if isinstance(day, date) else ""


def _without_year(month: int, day: int, anchor: Anchor | None, toward: Literal["ahead", "behind"]) -> date | NoDate:
    if anchor is None:
        return NoDate("date-without-year", "There is no anchor to tell the year from.")
    low, high = WINDOW_DAYS[(anchor.kind, toward)]
    first, last = anchor.day + timedelta(days=low), anchor.day + timedelta(days=high)
    for year in range(first.year, last.year + 1):
        found = _day(year, month, day)
        if isinstance(found, date) and first <= found <= last:
            return found
    if isinstance(_day(2000, month, day), NoDate):  # 2000 was a leap year
        return NoDate("unreadable-date", "The calendar has no such day.")
    return NoDate("date-without-year", f"The anchor ({anchor.kind} {anchor.day}) does not tell the year safely.")
