"""What one rule makes of some lines of one runner's week; a rule returns these and decides nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ferrule.model.programme import Item

Key = tuple[str, str]
"""(session key, line key), as written."""
Move = Literal["as written", "another exercise", "progress", "hold", "back off", "ask", "stop", "leave out"]
ORDER: tuple[Move, ...] = ("stop", "leave out", "ask", "back off", "hold", "progress", "another exercise", "as written")
"""The gravest first: of several rules on one line it names the move."""
HURT_AT = "pain at it"
"""Rule on lines where an exercise hurt that should not have: left out, whatever the library says it loads."""
GONE = ("red flag", "condition", HURT_AT)
"""Rules whose `stop` leaves the line out; what other rules stop may go on as another exercise."""


@dataclass(frozen=True, slots=True)
class Ruling:
    """One rule on some lines.

    rule     its name in docs/next.md;  reason: in words a coach reads
    lines    None: every line of the week
    most     times last week's demand;  step: at most one step of load above it
    keep     no more repetitions, seconds, sets or rounds than were sent last week
    sets     share of the written sets
    strict   nothing rather than more than `most`
    item     the line as a written condition makes it
    """

    rule: str
    reason: str
    move: Move
    lines: frozenset[Key] | None = None
    most: float | None = None
    step: bool = False
    keep: bool = False
    sets: float | None = None
    strict: bool = False
    item: Item | None = None

    def on(self, key: Key) -> bool:
        """Is this line one of its lines?"""
        return self.lines is None or key in self.lines

    @property
    def binds(self) -> bool:
        """Does it hold anything back?"""
        return self.move not in ("progress", "another exercise", "as written")


def gravest(rulings: Iterable[Ruling]) -> Move | None:
    """The gravest move of several rulings; None of none."""
    return min((r.move for r in rulings), key=ORDER.index, default=None)
