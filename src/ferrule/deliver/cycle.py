"""A cycle of one runner as a small table: a line of the text a row, a week a column; and the change-overs between cycles."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from ferrule.fit.cycle import Cell, CycleLine, RunnerCycle, cycles_of
from ferrule.model.fitted import Away, FittedWeek, Held, Impossible, SquadWeek

LABEL, LEAST = 24, 12
"""Widths: of the written line, and the least of a week's column."""
SAME, LEFT_OUT, AS_WRITTEN = "=", "-", "as written"


def cycle_table(weeks: Sequence[SquadWeek], width: int = 80) -> str:
    """Every runner's weeks as text, `width` columns at most.

    `=` is the week before over again; `-` is not done that week; a name alone is another exercise than the written one.
    Runners without a week say why.
    """
    width = max(width, LABEL + LEAST + 2)
    out: list[str] = []
    for runner_id, name in {o.runner_id: o.runner_name for w in weeks for o in w.outcomes}.items():
        out.append(f"{name} ({runner_id})")
        cycles = cycles_of(tuple(weeks), runner_id)
        for n, cycle in enumerate(cycles):
            out += _cycle(cycle, n > 0, width)
        out += _without(weeks, runner_id, width)
        out.append("")
    key = f"{SAME} as the week before   {LEFT_OUT} not done that week   {AS_WRITTEN}: the coach's exercise, no load of ours"
    return "\n".join([*out, *textwrap.wrap(key, width)])


def _cycle(cycle: RunnerCycle, later: bool, width: int) -> Iterator[str]:
    told = f"{cycle.cycle_name or 'Cycle'}, {_weeks(cycle.weeks)}"
    if later:
        new = f"new: {', '.join(cycle.new)}" if cycle.new else "nothing new"
        gone = f"no longer: {', '.join(cycle.gone)}" if cycle.gone else "everything else goes on"
        yield from textwrap.wrap(
            f"Change-over at week {cycle.weeks[0]}: {new}; {gone}", width, initial_indent="  ", subsequent_indent="    "
        )
    yield from textwrap.wrap(told, width, initial_indent="  ", subsequent_indent="    ")
    fits = max(1, (width - LABEL - 2) // (LEAST + 2))
    for start in range(0, len(cycle.weeks), fits):
        shown = range(start, min(start + fits, len(cycle.weeks)))
        column = min(30, (width - LABEL - 2) // len(shown) - 2)
        yield "  " + " " * LABEL + "".join(f"  {f'week {cycle.weeks[n]}':<{column}}" for n in shown).rstrip()
        for line in cycle.lines:
            yield from _row(line, shown, column)


def _weeks(weeks: tuple[int, ...]) -> str:
    return f"week {weeks[0]}" if len(weeks) == 1 else f"weeks {weeks[0]}-{weeks[-1]}"


def _row(line: CycleLine, shown: range, column: int) -> Iterator[str]:
    cells = [textwrap.wrap(f"{line.session_key}  {line.written}", LABEL, subsequent_indent="   ")]
    cells += [textwrap.wrap(_cell(line, n, n == shown[0]), column) for n in shown]
    widths = [LABEL, *(column for _ in shown)]
    for k in range(max(len(c) for c in cells)):
        parts = [f"{c[k] if k < len(c) else '':<{w}}" for c, w in zip(cells, widths, strict=True)]
        yield ("  " + "  ".join(parts)).rstrip()


def _cell(line: CycleLine, n: int, first: bool) -> str:
    cell = line.cells[n]
    if cell is None:
        return LEFT_OUT
    before = line.cells[n - 1] if n else None
    if before is not None and (before.name, before.load) == (cell.name, cell.load) and not first:
        return SAME
    return _own(cell, line.written)


def _own(cell: Cell, written: str) -> str:
    if cell.name == written:
        return cell.load or ("no weight" if cell.departs else AS_WRITTEN)
    return f"{cell.name}, {cell.load}" if cell.load else cell.name


def _without(weeks: Sequence[SquadWeek], runner_id: str, width: int) -> Iterator[str]:
    """Why a runner has no week, the same reason in weeks one after another once."""
    told: list[tuple[SquadWeek, SquadWeek, str]] = []
    for week in weeks:
        for o in week.outcomes:
            if o.runner_id != runner_id or isinstance(o, FittedWeek):
                continue
            why = o.reason if isinstance(o, Held | Away) else "; ".join(f.what for f in o.reasons)
            ways = " " + " ".join(f"Or: {w.text}." for w in o.ways_out) if isinstance(o, Impossible) else ""
            text = f"{why}.{ways}".rstrip()
            if told and told[-1][2] == text and (week.monday - told[-1][1].monday).days == 7:
                told[-1] = (told[-1][0], week, text)
            else:
                told.append((week, week, text))
    for first, last, text in told:
        day, to = (f"{w.monday.day} {w.monday:%B}" for w in (first, last))
        when = f"Week of {day}" if first is last else f"Weeks of {day} to {to}"
        yield from textwrap.wrap(f"{when}: {text}", width, initial_indent="  ", subsequent_indent="    ")
