"""The coach's read-back on a terminal: plain text, no colour, as wide as it is told."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from ferrule.deliver import amounts
from ferrule.deliver.changes import not_fitted
from ferrule.deliver.outlook import outlook_lines
from ferrule.deliver.pictures import spread_counts
from ferrule.deliver.plain import clean, cut, padded, width
from ferrule.deliver.readback import budget, by_cycle, counts, first_looks, moved, weeks, who
from ferrule.deliver.repeats import base_key, repeated
from ferrule.model.fitted import FittedWeek, SquadWeek
from ferrule.model.words import DAYS

COLUMNS = 100
LEAST_COLUMNS = 72
"""Narrower than this the table would not be one; a narrower terminal wraps it itself."""


def squad_table(squad_week: SquadWeek, columns: int = COLUMNS) -> str:
    """Who needs a look first, each runner's days, and how the squad meets each line. Ends with a newline.

    columns   no line is longer, down to LEAST_COLUMNS
    """
    columns = max(LEAST_COLUMNS, columns)
    day = f"{amounts.day(squad_week.monday)} {squad_week.monday.year}"
    lines = [
        *_wrap(f"{clean(squad_week.programme)}: week of {day}", 0, columns),
        *_wrap(counts(squad_week), 0, columns),
        *_wrap(budget(squad_week), 0, columns),
    ]
    looks = first_looks(squad_week)
    if looks:
        lines += ["", "To look at first"]
        for look in looks:
            lines += _wrap(f"{look.who}: {look.kind}", 2, columns)
            for text in look.lines:
                lines += _wrap(text, 4, columns)
            for way in look.ways:
                lines += _wrap(f"way out: {way}", 4, columns)
    lines += _weeks(weeks(squad_week), columns)
    lines += _lines(squad_week, columns)
    for heading, told in outlook_lines(squad_week):
        lines += ["", *_wrap(heading, 0, columns)]
        for text in told:
            lines += _wrap(text, 2, columns)
    if left := not_fitted(squad_week):
        lines += ["", "Not fitted, printed as you wrote it"]
        for n in left:
            lines += _wrap(f"{n.where} {n.written}: {n.forms}. {', '.join(n.who)}", 2, columns)
    if squad_week.findings:
        lines += ["", "Findings"]
        for f in squad_week.findings:
            where = f" {f.span}" if f.span is not None else ""
            stop = "" if f.what.endswith((".", "?", "!")) or not f.fix else "."
            lines += _wrap(f"{f.level}{where} {f.code}: {f.what}{stop} {f.fix}", 2, columns)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _weeks(fitted: Sequence[FittedWeek], columns: int) -> list[str]:
    if not fitted:
        return []
    name = min(30, columns - 7 * len(DAYS) - 12)
    lines = ["", padded("Runner", name) + "".join(padded(d, 7) for d in DAYS) + "  departures"]
    for week in fitted:
        days = ["" for _ in DAYS]
        for s in week.sessions:
            days[s.day.weekday()] = "+".join(p for p in (days[s.day.weekday()], cut(base_key(s.key), 3)) if p)
        differ = sum(i.departs for t in repeated(week.sessions) for b in t.first.blocks for i in b.items)
        lines.append(
            padded(who(week), name - 1) + " " + "".join(padded(d or ".", 7) for d in days) + f"  {differ or ''}"
        )
    return lines


def _lines(squad: SquadWeek, columns: int) -> list[str]:
    if not squad.spread:
        return []
    written = min(46, columns - 48)
    head = padded("Line, done as written", written + 8) + "".join(
        f"{n:>10}" for n in ("too easy", "right", "too hard", "cannot")
    )
    lines = ["", head]
    told = ""
    for cycle, spread in by_cycle(squad):
        if cycle != told:
            lines += _wrap(f"in {cycle}", 0, columns) if cycle else []
            told = cycle
        where = padded(f"{spread.session_key} {spread.item_key}", 7)
        numbers = "".join(f"{n or '.':>10}" for _, n in spread_counts(spread))
        lines.append(f"{where} {padded(spread.written, written)}{numbers}")
        for group in moved(spread):
            lines += _wrap(f"{group.said}: {', '.join(group.who)}. {group.why}", 8, columns)
    return lines


def _wrap(text: str, indent: int, columns: int) -> Iterable[str]:
    """`text` in lines of at most `columns`; wide letters count two, so they are wrapped at half."""
    said = clean(text)
    room = columns - indent - 2
    wide = room if width(said) == len(said) else room // 2
    lead = " " * indent
    return textwrap.wrap(said, wide + indent, initial_indent=lead, subsequent_indent=lead + "  ") or [""]
