"""A week the runner already has: which sessions are past and stay, and what each line and session was."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek, LoadChoice
from ferrule.model.programme import Item, Named
from ferrule.programme.text import dose_text


@dataclass(frozen=True, slots=True)
class Given:
    """The copy sent for this week, and from when on it may still change.

    open_from  the first day that may change: sessions before it are as they were, done or not our business any more
    lost       days on which nothing is done, or was: their sessions look for another day from `open_from` on
    """

    week: FittedWeek
    open_from: date
    lost: frozenset[date] = frozenset()

    def done(self) -> Mapping[str, FittedSession]:
        """Sessions that stay exactly as they are, by key."""
        return {s.key: s for s in self.week.sessions if s.day < self.open_from and s.day not in self.lost}

    def still_open(self) -> Mapping[str, FittedSession]:
        """Sessions that may change, by key."""
        done = self.done()
        return {s.key: s for s in self.week.sessions if s.key not in done}

    def line(self, session_key: str, item_key: str) -> FittedItem | None:
        """What a line was given as, in a time of its session that is still open; None when it was left out of all."""
        for session in self.still_open().values():
            if base_key(session.key) == session_key:
                for item in (i for b in session.blocks for i in b.items):
                    if item.item_key == item_key:
                        return item
        return None


def base_key(session_key: str) -> str:
    """The written session of one of its times: `1 (2 of 3)` is session `1`."""
    return session_key.split(" (")[0]


def line_text(item: Item) -> str:
    """The written line and its alternatives in canonical form."""
    return " / ".join(f"{_name(i)}: {dose_text(i.dose)}" for i in (item, *item.alternatives))


def _name(item: Item) -> str:
    if isinstance(item.exercise, Named):
        return item.exercise.text
    return f"any {item.exercise.pattern} {item.exercise.legs or ''}".strip()


def untouched(item: Item, was: FittedItem) -> bool:
    """True when the coach has not edited the line since it was given; copies from before lines were kept say nothing."""
    return was.line in ("", line_text(item))


def same_load(a: LoadChoice | None, b: LoadChoice | None) -> bool:
    """The same weight at the same place, or the same band; which pieces make it up is no change."""
    if a is None or b is None:
        return a is b
    return (a.kg, a.place, a.band) == (b.kg, b.place, b.band)
