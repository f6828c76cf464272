"""The coach's word on a line: it stands over any proposal, and holding back stands until the coach says otherwise."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final

from ferrule.model.fact import Decided
from ferrule.model.house import House
from ferrule.model.quantity import number
from ferrule.next.absence import day_words
from ferrule.next.ruling import Key, Move, Ruling

FLAG: Final = "red flag"
CLEARED: Final = "cleared"
"""item_key and choice of the word of a named human that a red flag was seen to."""
CHOICES: Final = ("as written", "progress", "hold", "back off", "leave out", "propose")
"""What the coach may set a line to. `progress`: no rule holds it back; `propose`: an earlier word no longer stands."""
STAYS: Final = ("hold", "back off", "leave out")
"""Choices that stand in the weeks after as well, until the coach says otherwise."""
OFTEN: Final = 2
"""So many words against one kind of proposal in a cycle, and it is said (ours)."""


def cleared_on(decided: Iterable[Decided]) -> tuple[date, ...]:
    """Mondays for which a named human cleared red flags."""
    return tuple(sorted(d.monday for d in decided if d.item_key == FLAG and d.choice == CLEARED and d.by))


def in_force(decided: Iterable[Decided], since: date, monday: date) -> dict[Key, Decided]:
    """The word that stands on each line in the week of `monday`: that week's own, else the last one that stays.

    since   the first Monday of the cycle: line keys mean the same lines only inside it
    """
    out: dict[Key, Decided] = {}
    for d in sorted(decided, key=lambda d: d.monday):
        key = (d.session_key, d.item_key)
        if d.item_key == FLAG or not since <= d.monday <= monday:
            continue
        out.pop(key, None)
        if d.choice in STAYS or (d.monday == monday and d.choice != "propose"):
            out[key] = d
    return out


def ruling_of(key: Key, word: Decided, monday: date, house: House) -> Ruling:
    """What the coach's word makes of the line."""
    since = "" if word.monday == monday else f" on {day_words(word.monday)}"
    why = f": {word.why}" if word.why else ""
    moves: tuple[Move, ...] = ("progress", "hold", "back off", "leave out")
    move: Move = next((m for m in moves if m == word.choice), "as written")
    reason = f"{word.by} set it to {move}{since}{why}"
    most = {"hold": 1.0, "back off": 1 - house.value("pain-cut-percent") / 100}.get(move)
    return Ruling("coach", reason, move, frozenset((key,)), most=most, keep=most is not None)


def habits(decided: Iterable[Decided], since: date, monday: date) -> tuple[str, ...]:
    """What the coach has set aside more than once in this cycle, in words, so that the next proposal says it."""
    counts: dict[tuple[Key, str, str], int] = {}
    for d in decided:
        if since <= d.monday < monday and d.item_key != FLAG and d.proposed and d.choice != d.proposed:
            place = ((d.session_key, d.item_key), d.proposed, d.choice)
            counts[place] = counts.get(place, 0) + 1
    return tuple(
        f"{key[0]}/{key[1]}: {number(n)} times {choice!r} instead of {proposed!r}"
        for (key, proposed, choice), n in sorted(counts.items())
        if n >= OFTEN
    )
