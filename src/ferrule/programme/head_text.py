"""Canonical lines of cycle, session and block heads."""

from __future__ import annotations

from ferrule.model.programme import Block, BlockKind, Cycle, Session
from ferrule.model.quantity import Range
from ferrule.programme.text import seconds_text

_KIND_WORD: dict[BlockKind, str] = {"warm-up": "Warm-up", "straight": "Straight", "pair": "Pair", "circuit": "Circuit"}


def block_head(
    kind: BlockKind, label: str, sets: Range | None, rest_s: Range | None, between_s: Range | None
) -> str:  # fmt: skip
    """`Pair A, 4 rounds, between 15 s, rest 75-90 s`; what is not stated is left out."""
    parts = [f"{_KIND_WORD[kind]} {label}".strip()]
    if sets is not None:
        word = "set" if kind == "straight" else "round"
        parts.append(f"{sets} {word}" + ("" if sets == Range.of(1) else "s"))
    if between_s is not None:
        parts.append("between " + seconds_text(between_s))
    if rest_s is not None:
        parts.append("rest " + seconds_text(rest_s))
    return ", ".join(parts)


def session_head(key: str, name: str, minutes: int | None, day: int | None) -> str:
    """`### Session 1, day 2: calf and hip, 35 min`."""
    first = f"### Session {key}".rstrip() + (f", day {day}" if day is not None else "")
    rest = ", ".join(p for p in (name, f"{minutes} min" if minutes is not None else "") if p)
    return f"{first}: {rest}" if name else ", ".join(p for p in (first, rest) if p)


def cycle_head(key: str, name: str, weeks: tuple[int, int] | None) -> str:
    """`## Cycle 1, weeks 1-3: Foundations`; a cycle named by its weeks as `## Week 4: Deload`."""
    span = "" if weeks is None else f"week {weeks[0]}" if weeks[0] == weeks[1] else f"weeks {weeks[0]}-{weeks[1]}"
    if key.startswith("week"):
        first = f"## {key[:1].upper()}{key[1:]}"
    else:
        first = f"## Cycle {key}".rstrip() + (f", {span}" if span else "")
    return f"{first}: {name}" if name else first


def head_of_block(block: Block) -> str:
    """The head line of a block: `Pair A, 3 rounds, rest 75-90 s`."""
    return block_head(block.kind, block.label, block.sets, block.rest_s, block.between_s)


def head_of_session(session: Session) -> str:
    """The head line of a session: `Session 1: step and calf, 35 min`."""
    return session_head(session.key, session.name, session.minutes, session.day)


def head_of_cycle(cycle: Cycle) -> str:
    """The head line of a cycle: `Cycle 1, weeks 1-3: Foundations`."""
    return cycle_head(cycle.key, cycle.name, (cycle.first_week, cycle.last_week))
