"""Counts, times, loads, tempo and dates in the words a runner follows. Plain English, no locale of the machine."""

from __future__ import annotations

from collections import Counter
from datetime import date, time

from ferrule.deliver.plain import clean
from ferrule.model.fitted import LoadChoice
from ferrule.model.quantity import Range, Tempo, number
from ferrule.model.words import Place

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
DAYS_LONG = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_SMALL = ("no", "one", "two", "three", "four", "five", "six")

PLACE_WORDS: dict[Place, str] = {
    "hands": "in your hands",
    "opposite hand": "in the hand opposite the working leg",
    "same hand": "in the hand on the side of the working leg",
    "chest": "at the chest",
    "back": "on the back",
    "hips": "on the hips",
    "ankle": "at the ankle",
    "band": "",
}


def counted(value: Range) -> str:
    """`5 to 7`, or `12` when both ends are one."""
    return number(value.low) if value.single else f"{number(value.low)} to {number(value.high)}"


def either(value: Range) -> str:
    """A small reserve as people say it: `2`, `1 or 2`, `1 to 3`."""
    if value.high - value.low == 1:
        return f"{number(value.low)} or {number(value.high)}"
    return counted(value)


def seconds(value: Range | float) -> str:
    """A time: `75 to 90 s`, `2 min`, `2 min 30 s`, `2 to 3 min`. Whole minutes from 120 s on."""
    span = value if isinstance(value, Range) else Range.of(value)
    if span.single:
        return _one_time(span.low)
    if span.low >= 60 and span.low % 60 == 0 and span.high % 60 == 0:
        return f"{number(span.low / 60)} to {number(span.high / 60)} min"
    if span.high < 120:
        return f"{counted(span)} s"
    return f"{_one_time(span.low)} to {_one_time(span.high)}"


def _one_time(value: float) -> str:
    if value < 120:
        return f"{number(value)} s"
    whole, rest = divmod(value, 60)
    return f"{number(whole)} min" + (f" {number(rest)} s" if rest else "")


def rest_words(rest: Range | None, after: str) -> str:
    """`Rest 75 to 90 s after each round.`; `No rest between rounds.`; empty when not stated."""
    if rest is None:
        return ""
    if rest.high == 0:
        return f"No rest after a {after}." if after != "exercise" else "No rest after it."
    return f"Rest {seconds(rest)} after each {after}."


def minutes(value: float) -> str:
    """`about 34 min`."""
    return f"about {max(1, round(value))} min"


def tempo(value: Tempo) -> str:
    """`2 s down, no pause, 1 s up`; `x` is as fast as you can."""
    parts = [_phase(value.down, "down"), _stay(value.pause, "pause"), _phase(value.up, "up")]
    if value.top is not None:
        parts.append(_stay(value.top, "at the top"))
    return ", ".join(parts)


def _phase(value: float | str, way: str) -> str:
    if isinstance(value, str):
        return f"{way} as fast as you can"
    return f"{number(value)} s {way}" if value else f"{way} at once"


def _stay(value: float | str, what: str) -> str:
    if isinstance(value, str) or value == 0:
        return "no pause" if what == "pause" else f"no stop {what}"
    return f"{number(value)} s {what}"


def load(value: LoadChoice | None, *, takes_load: bool) -> str:
    """`12 kg at the chest (12 kg dumbbell)`; `no weight` where one could be carried; empty where none ever is."""
    if value is None or (value.kg <= 0 and value.band is None):
        return "no weight" if takes_load else ""
    pieces = Counter(clean(p) for p in value.pieces)
    fetch = " and ".join(p if n == 1 else f"{_count(n)} times {p}" for p, n in pieces.items())
    where = PLACE_WORDS[value.place]
    if value.band is not None:
        return f"{value.band} band {where}".rstrip() + _beside(fetch, f"{value.band} band")
    total = f"{number(value.kg)} kg"
    if value.place == "hands" and len(value.pieces) == 2 and len(pieces) == 1:
        return f"{total} in all, one {next(iter(pieces))} in each hand"
    return f"{total} {where}" + _beside(fetch, total)


def _beside(fetch: str, said: str) -> str:
    return f" ({fetch})" if fetch and fetch != said else ""


def _count(n: int) -> str:
    return _SMALL[n] if n < len(_SMALL) else str(n)


_PLACE_BRIEF: dict[Place, str] = {
    "hands": "in hands",
    "opposite hand": "in the opposite hand",
    "same hand": "in the same hand",
    "chest": "at chest",
    "back": "on back",
    "hips": "on hips",
    "ankle": "at ankle",
    "band": "",
}


def load_brief(value: LoadChoice | None) -> str:
    """The load in brief, for a coach's line: `12 kg at chest`; empty without one."""
    if value is None or (value.kg <= 0 and value.band is None):
        return ""
    what = f"{number(value.kg)} kg" if value.band is None else f"{value.band} band"
    return f"{what} {_PLACE_BRIEF[value.place]}".rstrip()


def day(value: date) -> str:
    """`Monday 19 January`."""
    return f"{DAYS_LONG[value.weekday()]} {value.day} {MONTHS[value.month - 1]}"


def short_date(value: date) -> str:
    """`19 January`."""
    return f"{value.day} {MONTHS[value.month - 1]}"


def clock(value: time) -> str:
    """`18:30`."""
    return f"{value.hour}:{value.minute:02d}"
