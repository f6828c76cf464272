"""A session done several times a week, told once with all its days; and what found no day, told once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Final

from ferrule.deliver import amounts
from ferrule.deliver.plain import clean
from ferrule.deliver.session_words import session_title
from ferrule.model.fitted import FittedBlock, FittedSession, Reason
from ferrule.model.words import DAYS

NOON, EVENING = time(12), time(17)
_TIME: Final = re.compile(r"(?P<base>.+) \((?P<number>\d+) of (?P<of>\d+)\)")
_TIME_OF_TITLE: Final = re.compile(r"(?P<head>[^:]+) \(\d+ of (?P<of>\d+)\)(?P<tail>(?:: .*)?)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Repeated:
    """Times of one written session that are done alike, in their order through the week.

    key     of the written session; with the times it stands for when the others of the session differ: `1 (3 of 3)`
    times   at least one
    """

    key: str
    times: tuple[FittedSession, ...]

    @property
    def first(self) -> FittedSession:
        return self.times[0]

    @property
    def title(self) -> str:
        """`Session 1: calf and hip`."""
        return session_title(replace(self.first, key=self.key))


def base_key(key: str) -> str:
    """`1` of `1 (2 of 3)`."""
    found = _TIME.fullmatch(key)
    return found["base"] if found else key


def repeated(sessions: Iterable[FittedSession]) -> tuple[Repeated, ...]:
    """The sessions with equal times of one written session together, in the order they first come."""
    groups: dict[tuple[object, ...], list[FittedSession]] = {}
    for s in sessions:
        alike = (tuple(map(_printed, s.blocks)), s.name, s.notes, s.where, s.fetch, s.leave_out)
        groups.setdefault((base_key(s.key), *alike), []).append(s)
    bases = [key[0] for key in groups]
    told = []
    for (base, *_), times in groups.items():
        times.sort(key=lambda s: (s.day, s.start or time.min))
        key = str(base) if bases.count(base) == 1 else _numbered(str(base), times)
        told.append(Repeated(key, tuple(times)))
    return tuple(told)


def _printed(block: FittedBlock) -> FittedBlock:
    """The block without what only the coach reads."""
    return replace(block, items=tuple(replace(i, reasons=(), prediction=None) for i in block.items))


def _numbered(base: str, times: Sequence[FittedSession]) -> str:
    found = [m for s in times if (m := _TIME.fullmatch(s.key))]
    if len(found) != len(times):
        return base
    return f"{base} ({joined(m['number'] for m in found)} of {found[0]['of']})"


def joined(parts: Iterable[str]) -> str:
    """`a, b and c`."""
    *most, last = list(parts)
    return f"{', '.join(most)} and {last}" if most else last


def when_words(told: Repeated) -> str:
    """`Monday 19, Wednesday 21 and Friday 23 January, 18:30, about 34 min each time`."""
    groups = _by_starts(told.times)
    parts = [", ".join(p for p in (days_words(days), _starts(starts)) if p) for starts, days in groups]
    said = "; ".join(parts)
    each = " each time" if len(told.times) > 1 else ""
    longest = amounts.minutes(max(s.minutes for s in told.times))
    return f"{said}{', ' if len(parts) == 1 else '; '}{longest}{each}"


def _by_starts(times: Iterable[FittedSession]) -> list[tuple[tuple[time | None, ...], list[date]]]:
    """The days that have the same starts together, in the order of their first day."""
    by_day: dict[date, list[time | None]] = {}
    for s in times:
        by_day.setdefault(s.day, []).append(s.start)
    groups: dict[tuple[time | None, ...], list[date]] = {}
    for day, starts in by_day.items():
        groups.setdefault(tuple(starts), []).append(day)
    return list(groups.items())


def days_words(days: Sequence[date]) -> str:
    """`Monday 19 January`, `Monday 19 and Friday 23 January`, `Every day, Monday 19 to Sunday 25 January`."""
    row = (days[-1] - days[0]).days == len(days) - 1
    shown = [days[0], days[-1]] if row and len(days) > 3 else list(days)
    said = [
        amounts.day(d) if n + 1 == len(shown) or shown[n + 1].month != d.month else amounts.day(d).rpartition(" ")[0]
        for n, d in enumerate(shown)
    ]
    if len(shown) == len(days):
        return joined(said)
    return ("Every day, " if len(days) == len(DAYS) else "") + " to ".join(said)


def _starts(starts: tuple[time | None, ...]) -> str:
    """`18:30`; `morning and evening (7:00 and 18:00)`; `twice` without times."""
    known = [s for s in starts if s is not None]
    if len(known) < len(starts):
        return {1: "", 2: "twice"}.get(len(starts), f"{len(starts)} times")
    clocks = joined(map(amounts.clock, known))
    if len(known) == 2 and known[0] < NOON and known[1] >= EVENING:
        return f"morning and evening ({clocks})"
    return clocks


def short_days(told: Repeated) -> str:
    """For a list of links: `Mon 19, Wed 21, Fri 23`; `Every day`."""
    days = list(dict.fromkeys(s.day for s in told.times))
    if len(days) == len(DAYS):
        return "Every day"
    said = [f"{DAYS[d.weekday()]} {d.day}" for d in days]
    row = (days[-1] - days[0]).days == len(days) - 1
    return f"{said[0]} to {said[-1]}" if row and len(days) > 3 else ", ".join(said)


def each_time(told: Repeated) -> tuple[str, ...]:
    """The name of every time, to choose from: `Mon 19`; on a day with two `Mon 19, morning`, else `Mon 19, 2nd time`."""
    by_day: dict[date, list[FittedSession]] = {}
    for s in told.times:
        by_day.setdefault(s.day, []).append(s)
    said = []
    for day, times in by_day.items():
        name = f"{DAYS[day.weekday()]} {day.day}"
        parts = [_part(s.start) for s in times]
        for n, part in enumerate(parts, 1):
            own = part if part and parts.count(part) == 1 else f"time {n}"
            said.append(name if len(times) == 1 else f"{name}, {own}")
    return tuple(said)


def _part(start: time | None) -> str:
    return "" if start is None else "morning" if start < NOON else "afternoon" if start < EVENING else "evening"


@dataclass(frozen=True, slots=True)
class Dayless:
    """A written session with times that found no day. said: `Session 1: calf`, `9 of the 14 times of Session 2: calf`."""

    said: str
    why: str


def dayless(rest: Iterable[tuple[str, Reason]], *, by_reason: bool = False) -> tuple[Dayless, ...]:
    """Sessions without a day, each written session once; for the coach once for each reason."""
    groups: dict[tuple[str, str], list[tuple[int, str]]] = {}
    for title, reason in rest:
        said, of = clean(title), 1
        if found := _TIME_OF_TITLE.fullmatch(said):
            said, of = found["head"] + found["tail"], int(found["of"])
        groups.setdefault((said, reason.text if by_reason else ""), []).append((of, reason.text))
    return tuple(Dayless(_of_times(said, len(all_), all_[0][0]), all_[0][1]) for (said, _), all_ in groups.items())


def _of_times(said: str, missing: int, of: int) -> str:
    return said if missing >= of else f"{said} ({missing} of its {of} times)"
