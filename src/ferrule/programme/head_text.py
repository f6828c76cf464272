"""Canonical lines of cycle, session and block heads, and the words of what they say beyond name, sets and rests."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from ferrule.model.programme import Block, BlockKind, Cycle, Session
from ferrule.model.quantity import Percent, Range, Tempo
from ferrule.programme.form_text import percent_text, weeks_text
from ferrule.programme.form_text import seconds_text as seconds_text

KIND_WORD: dict[BlockKind, str] = {
    "warm-up": "Warm-up", "straight": "Straight", "pair": "Pair", "circuit": "Circuit", "cool-down": "Cool-down",
}  # fmt: skip
BLOCK_MORE = (
    "name", "minutes", "every_s", "on_s", "off_s", "max_sets", "exercises", "reps_in_all", "tempo", "intensity",
)  # fmt: skip
SESSION_MORE = (
    "times_a_week", "at_least", "every_days", "twice_a_day", "days", "hours_apart", "weeks", "minutes_from", "level", "choose",
    "same_as", "beside_run", "part_of_day", "supervised", "contacts", "contacts_open",
)  # fmt: skip
CYCLE_MORE = ("times_a_week", "at_least", "open_end", "repeat_to", "overlaps", "sessions_span", "start")
"""Fields of a head that stand in `Head.more`, under the names they have in the model."""

More = Mapping[str, Any]
NO_MORE: More = MappingProxyType({})
DAY_NAMES = ("", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def more_of(value: Block | Session | Cycle, names: tuple[str, ...]) -> dict[str, Any]:
    """The fields `names` of a part, as a head holds them."""
    return {name: getattr(value, name) for name in names}


def times_text(times: Range | None, at_least: bool) -> str:
    """`2 a week`, `at least 2 a week`; empty when not stated."""
    return "" if times is None else f"{'at least ' if at_least else ''}{times} a week"


def block_words(kind: BlockKind, more: More) -> list[str]:
    """What a block says beyond its sets and rests: `12 min`, `40 s on`, `max sets`, `tempo 2-0-2`."""
    words = []
    if more.get("max_sets"):
        words.append("max sets" if kind == "straight" else "max rounds")
    if more.get("minutes") is not None:
        words.append(f"{more['minutes']} min")
    if more.get("every_s") is not None:
        words.append("every " + seconds_text(Range.of(more["every_s"])))
    on, off = more.get("on_s"), more.get("off_s")
    words += [f"{seconds_text(v)} {w}" for v, w in ((on, "on"), (off, "off")) if v is not None]
    exercises: Range | None = more.get("exercises")
    if exercises is not None:
        words.append(f"{exercises} exercise{'' if exercises == Range.of(1) else 's'}")
    if more.get("reps_in_all") is not None:
        words.append(f"{more['reps_in_all']} reps in all")
    tempo: Tempo | None = more.get("tempo")
    if tempo is not None:
        words.append(f"tempo {tempo}")
    intensity: Percent | None = more.get("intensity")
    if intensity is not None:
        words.append(percent_text(intensity))
    return words


def block_head(
    kind: BlockKind, label: str, sets: Range | None, rest_s: Range | None, between_s: Range | None,
    more: More = NO_MORE,
) -> str:  # fmt: skip
    """`Pair A, 4 rounds, between 15 s, rest 75-90 s: name`; what is not stated is left out."""
    parts = [f"{KIND_WORD[kind]} {label}".strip()]
    if sets is not None:
        word = "set" if kind == "straight" else "round"
        parts.append(f"{sets} {word}" + ("" if sets == Range.of(1) else "s"))
    parts += block_words(kind, more)
    if between_s is not None:
        parts.append("between " + seconds_text(between_s))
    if rest_s is not None:
        parts.append("rest " + seconds_text(rest_s))
    name = more.get("name") or ""
    return ", ".join(parts) + (f": {name}" if name else "")


def of_cycle_text(key: str) -> str:
    """` of cycle 1`, ` of weeks 1-3` for a cycle named by its weeks; empty for the session's own."""
    return "" if not key else f" of {key}" if key.startswith("week") else f" of cycle {key}"


def session_words(more: More) -> list[str]:
    """What a session says beyond its day, name and time: `2 a week`, `after the run`, `weeks 4-8`."""
    words = [times_text(more.get("times_a_week"), bool(more.get("at_least")))]
    words.append("twice a day" if more.get("twice_a_day") else "")
    every = more.get("every_days")
    if every is not None:
        words.append({1: "every day", 2: "every second day"}.get(every, f"every {every} days"))
    if more.get("days"):
        words.append("days " + ", ".join(str(d) for d in more["days"]))
    if more.get("hours_apart") is not None:
        words.append(f"{more['hours_apart']} h apart")
    if more.get("weeks") is not None:
        words.append(weeks_text(more["weeks"]))
    words.append(f"level {more['level']}" if more.get("level") else "")
    words.append(f"choose one of {', '.join(more['choose'])}" if more.get("choose") else "")
    if more.get("same_as") is not None:
        cycle, session = more["same_as"]
        words.append(f"as session {session}" + of_cycle_text(cycle))
    run = more.get("beside_run")
    words.append("" if run is None else "same day as the run" if run == "same day" else f"{run} the run")
    words.append(more.get("part_of_day") or "")
    supervised = more.get("supervised")
    words.append("" if supervised is None else "supervised" if supervised else "on your own")
    if more.get("contacts") is not None:
        lead = f"{more['contacts_open']} " if more.get("contacts_open") else ""
        words.append(f"{lead}{more['contacts']} contacts")
    return [w for w in words if w]


def session_head(key: str, name: str, minutes: int | None, day: int | None, more: More = NO_MORE) -> str:
    """`### Session 1, day 2, 2 a week: calf and hip, 35 min`."""
    label = key.removesuffix(f" {more['level']}") if more.get("level") else key
    first = ", ".join(
        [f"### Session {label}".rstrip(), *([f"day {day}"] if day is not None else []), *session_words(more)]
    )
    low = more.get("minutes_from")
    time = "" if minutes is None else f"{low}-{minutes} min" if low is not None else f"{minutes} min"
    rest = ", ".join(p for p in (name, time) if p)
    return f"{first}: {rest}" if name else ", ".join(p for p in (first, rest) if p)


def cycle_words(more: More) -> list[str]:
    """What a cycle says beyond its weeks and name: `repeat to week 52`, `overlapping`, `3 a week`."""
    words = []
    if more.get("sessions_span") is not None:
        words.append("sessions {}-{}".format(*more["sessions_span"]))
    if more.get("repeat_to") is not None:
        words.append(f"repeat to week {more['repeat_to']}")
    words.append("overlapping" if more.get("overlaps") else "")
    if more.get("start") is not None:
        words.append(f"start in week {more['start']}")
    words.append(times_text(more.get("times_a_week"), bool(more.get("at_least"))))
    return [w for w in words if w]


def cycle_head(key: str, name: str, weeks: tuple[int, int] | None, more: More = NO_MORE) -> str:
    """`## Cycle 1, weeks 1-3: Foundations`; a cycle named by its weeks as `## Week 4: Deload`."""
    words = cycle_words(more)
    if weeks is None or more.get("sessions_span") is not None:
        span = ""
    elif more.get("open_end"):
        span = f"from week {weeks[0]} on" if weeks[0] == weeks[1] else f"weeks {weeks[0]}-{weeks[1]} and on"
    else:
        span = f"week {weeks[0]}" if weeks[0] == weeks[1] else f"weeks {weeks[0]}-{weeks[1]}"
    if key.startswith("week"):
        first = f"## {key[:1].upper()}{key[1:]}" + (" and on" if more.get("open_end") else "")
    else:
        first = f"## Cycle {key}".rstrip() + (f", {span}" if span else "")
    first = ", ".join([first, *words])
    return f"{first}: {name}" if name else first


def head_of_block(block: Block) -> str:
    """The head line of a block: `Pair A, 3 rounds, rest 75-90 s`."""
    return block_head(
        block.kind, block.label, block.sets, block.rest_s, block.between_s, more_of(block, BLOCK_MORE)
    )  # fmt: skip


def head_of_session(session: Session) -> str:
    """The head line of a session: `Session 1: step and calf, 35 min`."""
    return session_head(session.key, session.name, session.minutes, session.day, more_of(session, SESSION_MORE))


def head_of_cycle(cycle: Cycle) -> str:
    """The head line of a cycle: `Cycle 1, weeks 1-3: Foundations`."""
    return cycle_head(cycle.key, cycle.name, (cycle.first_week, cycle.last_week), more_of(cycle, CYCLE_MORE))
