"""The columns of a table of logs, and the many headings each may have."""

from __future__ import annotations

import re

COLUMNS: dict[str, tuple[str, ...]] = {
    "runner": ("runner id", "id", "name", "athlete", "who", "runner name"),
    "date": ("day", "done on", "on", "when"),
    "session": ("session key", "workout", "session name"),
    "exercise": ("variant", "movement", "what", "exercise name"),
    "set": ("set number", "round", "set no", "n"),
    "reps": ("repetitions", "rep", "done", "result", "reps done", "sets", "amount"),
    "seconds": ("hold", "time", "s", "sec", "secs", "hold s", "hold time", "duration"),
    "load": ("kg", "weight", "load kg", "weight kg"),
    "side": ("leg",),
    "RIR": ("reps in reserve", "reserve", "in reserve", "how many more", "left in the tank"),
    "RPE": ("effort",),
    "outcome": ("failed", "how", "ended", "failed at"),
    "pain": ("hurt", "sore", "pain where"),
    "morning": ("next morning", "pain next morning", "morning after"),
    "rating": ("session rating", "session rpe", "srpe"),
    "minutes": ("min", "mins", "session minutes", "length"),
    "note": ("notes", "comment", "comments", "words", "remarks"),
}
"""Column -> other headings it may have (common practice, no source)."""

_NAMED = {re.sub(r"[^a-z0-9]", "", h.lower()): column for column, also in COLUMNS.items() for h in (column, *also)}
_UNIT = re.compile(r"[(\[].*?[)\]]\s*$")


def column_named(heading: str) -> str | None:
    """The column of a heading, whatever the case, spacing, signs and a unit in brackets."""
    for said in (heading, _UNIT.sub("", heading)):
        found = _NAMED.get(re.sub(r"[^a-z0-9]", "", said.lower()))
        if found is not None:
            return found
    return None
