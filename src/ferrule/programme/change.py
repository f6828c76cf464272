"""A difference in meaning between two versions of a programme, as a value and as a line people read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

Kind = Literal["added", "gone", "moved", "swapped", "changed", "order"]
Level = Literal["week", "session", "block", "line", "alternative"]


@dataclass(frozen=True, slots=True)
class Where:
    """The place of a change by its names in the new text; in the old one for what is gone. Empty where it is wider."""

    session: str = ""
    block: str = ""
    line: str = ""
    alternative: str = ""

    @property
    def level(self) -> Level:
        """The narrowest part that is named."""
        if self.alternative:
            return "alternative"
        return "line" if self.line else "block" if self.block else "session" if self.session else "week"


@dataclass(frozen=True, slots=True)
class Change:
    """One thing a runner does differently.

    kind    added, gone: `what` of this place came or went, told in `new` or `old`
            moved: the same thing stands elsewhere;  swapped: another exercise in the same line
            changed: the field `what` says `new` where it said `old`;  order: the same parts in another order
    what    a field ("reps", "rest", "note"), or the part that came, went or moved ("session", "block", "line")
    also    names of the line's alternatives that changed in the same way
    """

    kind: Kind
    where: Where
    what: str
    old: str = ""
    new: str = ""
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WeekChange:
    """Changes that hold in exactly these programme weeks (ascending, counted from 1)."""

    weeks: tuple[int, ...]
    changes: tuple[Change, ...]


def weeks_text(weeks: Sequence[int]) -> str:
    """`Week 4`, `Weeks 1-3`, `Weeks 1, 4-6`."""
    runs: list[list[int]] = []
    for week in weeks:
        if runs and week == runs[-1][1] + 1:
            runs[-1][1] = week
        else:
            runs.append([week, week])
    said = ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in runs)
    return f"{'Week' if len(weeks) == 1 else 'Weeks'} {said}"


def changes_text(changes: Iterable[WeekChange]) -> str:
    """All changes as a list: weeks, under them sessions, under them blocks and lines. Empty when there are none."""
    out: list[str] = []
    for part in changes:
        out += [*([""] if out else []), weeks_text(part.weeks)]
        before = Where()
        for change in part.changes:
            where = change.where
            if where.session != before.session and where.session:
                out.append(f"  {where.session}")
            out.append("  " * (2 if where.session else 1) + change_text(change))
            before = where
    return "\n".join(out)


def change_text(change: Change) -> str:
    """One change in a line, its week and session left out: `Pair A: rounds 4 (was 3)`."""
    where = change.where
    named = where.line or where.block
    if change.kind in _WHOLE and change.what == where.level:  # the text begins with its own name
        named = {"line": where.block, "alternative": where.line}.get(where.level, "")
    elif where.alternative:
        named = f"{where.line}, or {where.alternative}"
    also = f" (also or {', or '.join(change.also)})" if change.also else ""
    return (f"{named}: " if named else "") + _said(change) + also


_WHOLE = ("added", "gone")


def _said(change: Change) -> str:
    what, old, new = change.what, change.old, change.new
    if change.kind == "added":
        return f"new {what}: {new}"
    if change.kind == "gone":
        return f"{what} gone: {old}"
    if change.kind == "moved":
        return f"stands in {new} (was in {old})"
    if change.kind == "swapped":
        return (
            f"{new.removeprefix(change.where.alternative or change.where.line).lstrip(': ')}, instead of {old}".lstrip(
                ", "
            )
        )
    if change.kind == "order":
        return f"order of {what}: {new} (was {old})"
    return f"{what} {new} (was {old})"
