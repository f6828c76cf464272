"""One week of a programme written out for the coach: every line with its full dose, by-week tables applied."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.check.minutes import written_minutes
from ferrule.deliver import amounts
from ferrule.deliver.plain import clean
from ferrule.model.exercise import Library
from ferrule.model.programme import Block, Condition, Item, Programme, ProgrammeWeek, Session
from ferrule.programme.head_text import head_of_block, head_of_session
from ferrule.programme.text import item_text
from ferrule.programme.weeks import cycle_of


@dataclass(frozen=True, slots=True)
class Said:
    """What stands beside the lines. coach: never delivered to a runner."""

    notes: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    coach: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """A line, its alternatives in the coach's order, and what stands under it. key: empty in a warm-up."""

    key: str
    text: str
    said: Said
    runner_picks: bool
    others: tuple[WrittenLine, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenBlock:
    """A block with its head as the notation writes it."""

    head: str
    said: Said
    lines: tuple[WrittenLine, ...]


@dataclass(frozen=True, slots=True)
class WrittenSession:
    """A session. takes: how long by the minutes model, in words."""

    title: str
    takes: str
    said: Said
    blocks: tuple[WrittenBlock, ...]


@dataclass(frozen=True, slots=True)
class WrittenWeek:
    """The whole week. place: cycle and week of the cycle."""

    title: str
    week: int
    place: str
    aim: str
    said: Said
    sessions: tuple[WrittenSession, ...]


def written_week(programme: Programme, week: ProgrammeWeek, library: Library) -> WrittenWeek:
    """`week` of `programme` in words, for the coach: the coach's own notes are among them."""
    cycle = cycle_of(programme, week.week)
    coach = (*programme.coach_notes, *(cycle.coach_notes if cycle else ()))
    inside = {c for s in week.sessions for c in (*s.conditions, *(k for b in s.blocks for k in b.conditions))}
    wide = tuple(c for c in week.conditions if c not in inside)
    name = f": {clean(week.cycle_name)}" if week.cycle_name else ""
    return WrittenWeek(
        clean(programme.title),
        week.week,
        f"Cycle {clean(week.cycle_key)}{name}, week {week.cycle_week} of it",
        clean(week.aim),
        _said(week.notes, wide, coach),
        tuple(_session(s, library) for s in week.sessions),
    )


def written_text(week: WrittenWeek) -> str:
    """The week as plain lines for a terminal."""
    out = [f"{week.title}, week {week.week}".lstrip(", "), week.place]
    if week.aim:
        out.append(f"Aim: {week.aim}")
    out += _said_lines(week.said, "")
    for session in week.sessions:
        out += ["", session.title, f"  {session.takes}", *_said_lines(session.said, "  ")]
        for block in session.blocks:
            out += ["", f"  {block.head}", *_said_lines(block.said, "    ")]
            for line in block.lines:
                out += _line_lines(line)
    if not week.sessions:
        out += ["", "no session in this week"]
    return "\n".join(out)


def _line_lines(line: WrittenLine) -> list[str]:
    key = f"{line.key} " if line.key else ""
    out = [f"    {key}{line.text}", *_said_lines(line.said, "      ")]
    for other in line.others:
        out.append(f"      or {other.text}" + (" (the runner picks)" if line.runner_picks else ""))
        out += _said_lines(other.said, "        ")
    return out


def _said_lines(said: Said, indent: str) -> list[str]:
    return [
        *(f"{indent}note: {n}" for n in said.notes),
        *(f"{indent}{c}" for c in said.conditions),
        *(f"{indent}coach: {c}" for c in said.coach),
    ]


def _said(notes: tuple[str, ...], conditions: tuple[Condition, ...], coach: tuple[str, ...]) -> Said:
    told = tuple(clean(c.text) + ("" if c.acts else " (printed; Ferrule does not act on it)") for c in conditions)
    return Said(tuple(map(clean, notes)), told, tuple(map(clean, coach)))


def _session(session: Session, library: Library) -> WrittenSession:
    takes = amounts.minutes(written_minutes(session, library)) if session.blocks else "nothing to do"
    stated = "" if session.minutes is None else f"; {session.minutes} min are written"
    return WrittenSession(
        clean(head_of_session(session).lstrip("# ")),
        f"{takes[:1].upper()}{takes[1:]} by the minutes model{stated}",
        _said(session.notes, session.conditions, session.coach_notes),
        tuple(_block(b) for b in session.blocks),
    )


def _block(block: Block) -> WrittenBlock:
    bare = block.kind in ("warm-up", "cool-down")
    lines = tuple(_line(i, "" if bare else i.key) for i in block.items)
    return WrittenBlock(
        clean(head_of_block(block)), _said(block.notes, block.conditions, block.coach_notes), lines
    )  # fmt: skip


def _line(item: Item, key: str) -> WrittenLine:
    said = _said(item.notes, item.conditions, item.coach_notes)
    others = tuple(_line(a, "") for a in item.alternatives)
    return WrittenLine(clean(key), clean(item_text(item)).rstrip(":"), said, item.runner_picks, others)
