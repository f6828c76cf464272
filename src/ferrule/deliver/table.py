"""The coach's read-back on a terminal: plain text, at most 100 columns, no colour."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from ferrule.deliver import amounts
from ferrule.deliver.pictures import spread_counts
from ferrule.deliver.plain import clean, cut, padded, width
from ferrule.deliver.readback import budget, counts, first_looks, moved, weeks, who
from ferrule.model.fitted import FittedWeek, SquadWeek
from ferrule.model.words import DAYS

COLUMNS = 100
_LINE = 46


def squad_table(squad_week: SquadWeek) -> str:
    """Who needs a look first, each runner's days, and how the squad meets each line. Ends with a newline."""
    lines = [
        *_wrap(f"{clean(squad_week.programme)}: week of {amounts.day(squad_week.monday)} {squad_week.monday.year}", 0),
        counts(squad_week),
        budget(squad_week),
    ]
    looks = first_looks(squad_week)
    if looks:
        lines += ["", "To look at first"]
        for look in looks:
            lines += _wrap(f"{look.who}: {look.kind}", 2)
            for text in look.lines:
                lines += _wrap(text, 4)
            for way in look.ways:
                lines += _wrap(f"way out: {way}", 4)
    lines += _weeks(weeks(squad_week))
    lines += _lines(squad_week)
    if squad_week.findings:
        lines += ["", "Findings"]
        for f in squad_week.findings:
            where = f" {f.span}" if f.span is not None else ""
            lines += _wrap(f"{f.level}{where} {f.code}: {f.what} {f.fix}", 2)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _weeks(fitted: Sequence[FittedWeek]) -> list[str]:
    if not fitted:
        return []
    lines = ["", padded("Runner", 30) + "".join(padded(d, 7) for d in DAYS) + "  departures"]
    for week in fitted:
        days = ["" for _ in DAYS]
        for s in week.sessions:
            days[s.day.weekday()] = "+".join(p for p in (days[s.day.weekday()], cut(s.key, 3)) if p)
        differ = sum(i.departs for s in week.sessions for b in s.blocks for i in b.items)
        lines.append(padded(who(week), 29) + " " + "".join(padded(d or ".", 7) for d in days) + f"  {differ or ''}")
    return lines


def _lines(squad: SquadWeek) -> list[str]:
    if not squad.spread:
        return []
    head = padded("Line, done as written", _LINE + 8) + "".join(
        f"{n:>10}" for n in ("too easy", "right", "too hard", "cannot")
    )
    lines = ["", head]
    for spread in squad.spread:
        where = padded(f"{spread.session_key} {spread.item_key}", 7)
        numbers = "".join(f"{n or '.':>10}" for _, n in spread_counts(spread))
        lines.append(f"{where} {padded(spread.written, _LINE)}{numbers}")
        for group in moved(spread):
            lines += _wrap(f"{len(group.who)} to {group.instead}: {', '.join(group.who)}. {group.why}", 8)
    return lines


def _wrap(text: str, indent: int) -> Iterable[str]:
    """`text` in lines of at most COLUMNS; wide letters count two, so they are wrapped at half."""
    said = clean(text)
    room = COLUMNS - indent - 2
    wide = room if width(said) == len(said) else room // 2
    lead = " " * indent
    return textwrap.wrap(said, wide + indent, initial_indent=lead, subsequent_indent=lead + "  ") or [""]
