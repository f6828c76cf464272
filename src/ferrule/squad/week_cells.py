"""Cells about the week: days possible for strength, and the usual running week."""

from __future__ import annotations

import re
from datetime import time

from ferrule.model.finding import Finding
from ferrule.model.squad import Run, RunKind
from ferrule.model.words import DAYS
from ferrule.squad.cell import Cell, entries, fault, shown

_DAY_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SHORT = {"mon": 0, "tue": 1, "tues": 1, "wed": 2, "weds": 2, "thu": 3, "thur": 3, "thurs": 3, "fri": 4, "sat": 5}
_DAY_NUMBERS = {
    **{name: i for i, name in enumerate(_DAY_NAMES)},
    **{f"{name}s": i for i, name in enumerate(_DAY_NAMES)},
    **_SHORT,
    "sun": 6,
}
_DAY_GROUPS = {
    "any": (0, 1, 2, 3, 4, 5, 6),
    "any day": (0, 1, 2, 3, 4, 5, 6),
    "every day": (0, 1, 2, 3, 4, 5, 6),
    "all": (0, 1, 2, 3, 4, 5, 6),
    "weekdays": (0, 1, 2, 3, 4),
    "weekend": (5, 6),
    "weekends": (5, 6),
}
RUN_WORDS: dict[RunKind, tuple[str, ...]] = {
    "easy": ("easy", "recovery", "steady", "easy run", "jog"),
    "key": ("key", "key run", "hills", "hill reps", "intervals", "tempo", "threshold", "fast", "track", "reps", "hard"),
    "long": ("long", "long run"),
    "race": ("race",),
}
"""What may be written for each kind of run."""
_RUNS: dict[str, RunKind] = {word: kind for kind, words in RUN_WORDS.items() for word in words}


def day_number(word: str) -> int | None:
    """Monday 0; None when the word is no weekday."""
    return _DAY_NUMBERS.get(word.lower().rstrip("."))


def is_day_word(word: str) -> bool:
    """A weekday, a range of weekdays, or a word for several."""
    key = word.lower().rstrip(".")
    return key in _DAY_GROUPS or all(day_number(end) is not None for end in key.split("-"))


def read_days(cell: Cell) -> tuple[tuple[int, ...], list[Finding]]:
    """Weekdays possible, in order, each once. An empty cell means any day.

    Days stand apart by spaces, commas or semicolons (`Mon Wed Fri`); `Mon-Fri`, `weekdays`, `weekend`, `any` are known.
    """
    if cell.key in _DAY_GROUPS or cell.empty:
        return _DAY_GROUPS.get(cell.key, _DAY_GROUPS["any"]), []
    found: set[int] = set()
    unknown: list[str] = []
    for word in re.split(r"[\s,;/&+]+", re.sub(r" ?- ?", "-", cell.key)):
        if not word or word in ("and", "or"):
            continue
        ends = [day_number(end) for end in word.split("-")]
        if word in _DAY_GROUPS:
            found.update(_DAY_GROUPS[word])
        elif len(ends) == 1 and ends[0] is not None:
            found.add(ends[0])
        elif len(ends) == 2 and ends[0] is not None and ends[1] is not None:
            found.update((ends[0] + i) % 7 for i in range((ends[1] - ends[0]) % 7 + 1))
        else:
            unknown.append(word)
    if not unknown:
        return tuple(sorted(found)), []
    kept = ", ".join(DAYS[d] for d in sorted(found))
    return tuple(sorted(found)), [
        fault(
            cell,
            "unknown-weekday",
            f"{', '.join(shown(u, 20) for u in dict.fromkeys(unknown))} in {shown(cell.text)} is no weekday",
            f"Strength is laid only on days that are named; read so far: {kept or 'none'}.",
            f"Write {' '.join(DAYS)}.",
        )
    ]


def read_runs(cell: Cell) -> tuple[tuple[Run, ...], list[Finding]]:
    """The usual running week: `Tue key 18:30; Thu easy; Sun long 09:00`.

    An entry is one or more weekdays, a kind (easy, key, long, race; easy when left out) and a starting time when it is
    known. A kind that is not known counts as key, the careful end.
    """
    if cell.empty:
        return (), []
    runs: dict[Run, None] = {}
    findings: list[Finding] = []
    waiting: list[int] = []
    parts = entries(cell)
    for i, part in enumerate(parts):
        words = part.lower().replace("/", " ").split()
        days: list[int] = []
        while words and (words[0] in ("and", "&") or day_number(words[0]) is not None):
            day = day_number(words.pop(0))
            days += [] if day is None else [day]
        if days and not words and i + 1 < len(parts):
            waiting += days
            continue
        days, waiting = waiting + days, []
        start, rest, bad_time = _start(" ".join(words))
        kind = _RUNS.get(rest) if rest else "easy"
        if not days:
            findings.append(_bad_run(cell, part, "no weekday is named", "This run is left out."))
            continue
        if bad_time:
            findings.append(_bad_run(cell, part, "the time is none of the day", "The run is kept without a time."))
        if kind is None:
            why = "It is kept as a key run, so that heavy leg work stays away from it."
            findings.append(_bad_run(cell, part, f"{shown(rest, 30)} is no kind of run", why))
        for day in days:
            runs[Run(day, kind or "key", start)] = None
    ordered = sorted(runs, key=lambda r: (r.day, r.start or time(23, 59), r.kind))
    return tuple(ordered), findings


def _bad_run(cell: Cell, part: str, what: str, why: str) -> Finding:
    fix = 'Write "Tue key 18:30; Thu easy; Sun long 09:00"; kinds are easy, key, long, race.'
    return fault(cell, "running-week", f"in {shown(part)} {what}", why, fix)


def _start(text: str) -> tuple[time | None, str, bool]:
    """(time, the words left, whether a time was written that is none)."""
    found = re.search(r"\b(?:at )?(\d{1,2})(?:[:.](\d{2}))? ?(am|pm|h)?(?= |$)", text)
    if not found or not (found[2] or found[3]):
        return None, text, False
    hour, minute = int(found[1]), int(found[2] or 0)
    rest = " ".join((text[: found.start()] + " " + text[found.end() :]).split())
    if found[3] in ("am", "pm"):
        if not 1 <= hour <= 12:
            return None, rest, True
        hour = hour % 12 + (12 if found[3] == "pm" else 0)
    return (time(hour, minute), rest, False) if hour < 24 and minute < 60 else (None, rest, True)
