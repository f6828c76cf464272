"""Hours between hard leg work and the next key run, where the programme names both days."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.check.rules.leg_reserve import too_near
from ferrule.model.finding import Span
from ferrule.model.quantity import number
from ferrule.model.words import DAYS

_KEYS = ("key runs", "key run", "hard runs", "long run")
_DAY = re.compile(r"\b(?:day\s+([1-7])|(mon|tue|wed|thu|fri|sat|sun)[a-z]*)\b", re.I)
_NUMBER = {name.lower(): n for n, name in enumerate(DAYS, 1)}


def key_run_days(course: Course) -> tuple[tuple[int, ...], Span | None]:
    """Days of `key runs: Tue, Sat` or `key runs: day 2, day 6` in the front matter, Monday 1."""
    days: set[int] = set()
    span = None
    for entry in course.programme.front:
        if entry.key.lower() in _KEYS:
            span = span or entry.span
            days.update(int(n) if n else _NUMBER[word.lower()] for n, word in _DAY.findall(entry.value))
    return tuple(sorted(days)), span


def _find(course: Course) -> Iterator[Hit]:
    runs, entry = key_run_days(course)
    if not runs:
        return
    for week, session, lines in course.sessions():
        legs = [line for line in lines if line.hard_leg]
        if session.day is None or not legs:
            continue
        least = course.value("race-gap-h" if any(too_near(course, x) for x in legs) else "key-run-gap-h")
        gap, day = min(((run - (session.day or 0)) % 7, run) for run in runs)
        if gap * 24 < least:
            when = "on the day of" if gap == 0 else f"{gap * 24} h before"
            what = f"session {session.key} (day {session.day}) loads the legs {when} the key run of day {day}"
            fix = f"Leave {number(least)} h before it; after the key run is a better place."
            yield Hit(week, session.span, what, fix, (entry,) if entry else ())


RULE = Rule(
    name="key-run-gap",
    level="advice",
    says="Where `key runs:` and the sessions' days are written, hard leg work keeps its hours before the next key run.",
    why="Running costs more on tired legs, and the key run is what the week is for.",
    source="Doma and Deakin 2015 (effect seen; the hours are from memory); after sets to failure Moran-Navarro 2017 (seen)",
    strength="moderate",
    thresholds=("key-run-gap-h", "race-gap-h", "leg-reserve"),
    find=_find,
)
