"""The columns of the squad file: their names, what else they may be called, which must be there."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `aliases` are other headings it may have; `careful` columns protect a runner."""

    name: str
    holds: str
    aliases: tuple[str, ...] = ()
    required: bool = False
    careful: bool = False


COLUMNS: tuple[Column, ...] = (
    Column("id", "a short id that never changes", ("runner", "runner id", "number", "no"), required=True),
    Column("name", "the name printed on the sheet", ("first name",), required=True),
    Column("birth year", "year of birth", ("born", "birth", "birthyear", "year of birth"), careful=True),
    Column("sex", "female or male", ()),
    Column("mass", "body mass, kg, or a band", ("body mass", "weight", "body weight")),
    Column("height", "height, cm or m", ("body height", "tall")),
    Column("level", "strength training so far", ("strength level", "strength", "strength training", "experience")),
    Column("kit", "what is at hand, by site where there are several", ("equipment", "gear")),
    Column("minutes", "longest session, minutes", ("minutes a session", "time", "session length")),
    Column("days", "weekdays possible for strength", ("days possible", "possible days", "strength days", "free days")),
    Column("runs", "the usual running week", ("running week", "running", "run days")),
    Column("anchor", "how programme weeks meet the calendar", ("programme", "place")),
    Column("joins", "first day the runner takes part", ("joined", "joins on", "takes part from", "starts")),
    Column("limits", "limits by example", ("limit",), careful=True),
    Column("sore", "sore places", ("sore places", "sore place", "soreness", "pain"), careful=True),
    Column("notes", "notes to the fitter", ("note", "notes to the fitter", "wishes", "wish"), careful=True),
    Column("races", "race days", ("race", "race days")),
    Column("tests", "home tests", ("test", "home tests", "home test", "field tests", "field test")),
    Column(
        "health",
        "a yes to a health question, or a status that holds sending",
        ("status", "health question", "health questions", "health status"),
        careful=True,
    ),
    Column("consent", "consent of a guardian", ("guardian consent", "guardian's consent", "guardian"), careful=True),
    Column(
        "shares",
        "ids of runners at the same home, who share one kit",
        ("shares kit with", "shares kit", "kit shared with", "same home as", "same home"),
    ),
)
"""Every column the reader knows, in the order the reference shows them."""

BY_NAME: dict[str, Column] = {c.name: c for c in COLUMNS}
HEADINGS: dict[str, Column] = {heading: c for c in COLUMNS for heading in (c.name, *c.aliases)}

_UNIT = re.compile(r"[ (\[]+(kg|cm|m|min|minutes)[)\]]?$")


def column_named(heading: str) -> Column | None:
    """The column of that heading, whatever the case, the spacing and a unit after it; None when unknown."""
    key = " ".join(heading.replace("_", " ").replace("’", "'").lower().split())
    return HEADINGS.get(key) or HEADINGS.get(_UNIT.sub("", key))
