"""Days as they are typed at the head of a log: `Thu 22 Jan`, `2026-01-22`, `yesterday`, `Thu`."""

from __future__ import annotations

import re
from datetime import date, timedelta

from ferrule.model.finding import Span
from ferrule.model.squad import Anchor
from ferrule.model.words import DAYS
from ferrule.squad.dates import read_date

_WEEKDAY = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?", re.IGNORECASE)
AHEAD = timedelta(days=30)
"""So far after the day it is may a day lie that was typed without a year: a slip, or a log of another clock."""
_BEFORE = {"today": 0, "yesterday": 1, "day before yesterday": 2}


def read_day(text: str, near: date) -> date | None:
    """The day `text` means; None when it is no day. Without a year it is the last such day that is at most AHEAD after `near`."""
    key = " ".join(text.lower().split()).strip(" .,:")
    if key in _BEFORE:
        return near - timedelta(days=_BEFORE[key])
    alone = _WEEKDAY.fullmatch(key)
    if alone:
        wanted = [d.lower() for d in DAYS].index(alone[1])
        return near - timedelta(days=(near.weekday() - wanted) % 7)
    return _behind(key, near) if key else None


def _behind(key: str, near: date) -> date | None:
    """The windows of `read_date` are under a year wide, so two of them are laid side by side."""
    for end in (near + AHEAD, near + AHEAD - timedelta(days=300)):
        found = read_date(key, Anchor("to race", end, Span("", 1)), "behind")
        if isinstance(found, date):
            return found
    return None


def weekday_said(text: str) -> int | None:
    """The weekday a text begins with, Monday 0."""
    found = _WEEKDAY.match(text.strip())
    return [d.lower() for d in DAYS].index(found[1].lower()) if found else None


def read_days(text: str, near: date) -> tuple[date, date] | None:
    """`7 Feb to 14 Feb, ...`: both days, looked for up to 300 days after `near`; one day alone is both."""
    first = text.split(",")[0]
    parts = re.split(r"\s+(?:to|until|till|-)\s+", first.strip(), flags=re.IGNORECASE)
    if len(parts) > 2:
        return None
    days = [_ahead(p, near) for p in parts]
    if len(parts) == 2 and days[0] is None and days[1] is not None and parts[0].strip().isdigit():
        days[0] = _ahead(f"{parts[0]} {days[1]:%b %Y}", near)  # `7 to 14 Feb`
    if any(d is None for d in days):
        return None
    return days[0], days[-1]  # type: ignore[return-value]


def _ahead(text: str, near: date) -> date | None:
    key = " ".join(text.lower().split()).strip(" .,:")
    found = read_date(key, Anchor("from", near, Span("", 1)), "ahead") if key else None
    return found if isinstance(found, date) else None
