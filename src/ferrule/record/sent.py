"""Lines of a sent week, looked up by the keys that logs use, and what a set of one asks for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek, LoadChoice
from ferrule.model.programme import LIGHT
from ferrule.model.words import Side

Copies = Callable[[str], FittedWeek | None]
"""The week of a copy id; None when the record does not know it."""

BEFORE_DAYS, AFTER_DAYS = 3, 13
"""A session is believed on days from so many before the Monday of its week to so many after it: done early, done late, or
in the week after. Any other day is that of a wrong clock (ours)."""
WIDE_DAYS = 35
"""The same for what belongs to no session: pain, a run, a test (ours)."""


@dataclass(frozen=True, slots=True)
class SentLine:
    """One line of a sent week: its session, its number of sets, and the line."""

    session: FittedSession
    rounds: int
    item: FittedItem
    light: bool = False
    """Of a warm-up or cool-down."""


def no_copies(_copy_id: str) -> FittedWeek | None:
    """The copies of a record that holds none."""
    return None


def lines_of(week: FittedWeek) -> tuple[SentLine, ...]:
    """Every line of the week in the order it is done. Cluster and drop sets count as one set."""
    return tuple(
        SentLine(session, item.sets, item, block.kind in LIGHT)
        for session in week.sessions
        for block in session.blocks
        for item in block.items
    )


def line_of(week: FittedWeek, session_key: str, item_key: str) -> SentLine | None:
    """The line of those keys. A line met once in the week is found by its item key alone."""
    found: SentLine | None = None
    for session in week.sessions:
        if session_key and session.key != session_key:
            continue
        for block in session.blocks:
            for item in block.items:
                if item.item_key == item_key:
                    if found is not None:
                        return found if session_key else None
                    found = SentLine(session, item.sets, item)
    return found


def session_of(week: FittedWeek, session_key: str) -> FittedSession | None:
    """The session of that key."""
    return next((s for s in week.sessions if s.key == session_key), None)


def unit_of(item: FittedItem) -> Literal["reps", "s"]:
    """What a set of this line is counted in."""
    return "reps" if item.hold_s is None else "s"


def asked_of(item: FittedItem, number: int, side: Side = "both") -> float | None:
    """Repetitions or seconds asked for in set `number`, the least of a range; None for metres."""
    if item.per_set:
        return float(item.per_set[min(max(number, 1), len(item.per_set)) - 1])
    if item.left_right is not None:
        left, right = item.left_right
        return float({"left": left, "right": right, "both": min(left, right)}[side])
    amount = item.reps or item.hold_s or item.contacts
    return None if amount is None else float(amount.low)


def load_of(item: FittedItem, variant_id: str) -> LoadChoice | None:
    """The load of the line for `variant_id`: its own, or that of a printed way out; None for another exercise."""
    if variant_id == item.variant_id:
        return item.load
    ways = (item.too_hard, item.too_easy)
    return next((way.load for way in ways if way is not None and way.variant_id == variant_id), None)


def believed(week: FittedWeek, day: date, *, session: bool) -> bool:
    """May `day` be the day of something in this week, or of something told with it?"""
    before, after = (BEFORE_DAYS, AFTER_DAYS) if session else (WIDE_DAYS, WIDE_DAYS)
    return week.monday - timedelta(days=before) <= day <= week.monday + timedelta(days=after)


def day_instead(week: FittedWeek, session_key: str) -> date:
    """The day that stands for one that cannot be: that of the session, else the last of the week."""
    session = session_of(week, session_key)
    return week.monday + timedelta(days=6) if session is None else session.day
