"""What stands for one runner, as a table: newest week first, each session with its exercises and sets."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby

from ferrule.cli.findings import plain
from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.exercise import Library
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, SessionTold, WeekTold
from ferrule.model.squad import Runner
from ferrule.model.words import DAYS
from ferrule.record.questions import words_of
from ferrule.record.standing import day_of, performed
from ferrule.squad.place import monday_of

INDENT = "  "


def told_table(runner: Runner, entries: Iterable[Entry], library: Library, width: int) -> list[str]:
    """The lines of the table; entries stand, in any order."""
    told = sorted(entries, key=performed)
    out = [f"{runner.id} {plain(runner.name)}: {len(told)} {'entry stands' if len(told) == 1 else 'entries stand'}"]
    wide = min(30, max((len(label_of(e.fact, library)) for e in told), default=0))
    weeks = {m: list(part) for m, part in groupby(told, key=lambda e: monday_of(day_of(e.fact)))}
    for monday in sorted(weeks, reverse=True):
        out += ["", f"week of {monday}"]
        for day, part in groupby(weeks[monday], key=lambda e: day_of(e.fact)):
            for label, said in _lines([e.fact for e in part], library):
                start = f"{INDENT}{DAYS[day.weekday()]} {day.day:>2}  {label:<{wide}}  "
                out += textwrap.wrap(plain(said), max(width, len(start) + 20), initial_indent=start,
                                     subsequent_indent=" " * len(start), break_on_hyphens=False)  # fmt: skip
    return out


def as_told(entries: Iterable[Entry], library: Library) -> list[dict[str, object]]:
    """The same as data, in the order done."""
    return [
        {
            "id": e.entry_id,
            "day": day_of(e.fact).isoformat(),
            "kind": type(e.fact).__name__,
            "what": label_of(e.fact, library),
            "told": said_of(e.fact),
            "source": e.source,
            "recorded_at": e.recorded_at.isoformat(),
        }
        for e in sorted(entries, key=performed)
    ]


def _lines(facts: list[Fact], library: Library) -> Iterator[tuple[str, str]]:
    """Sets of one exercise in one line, everything else in a line of its own."""
    for _, part in groupby(facts, key=_line_key):
        same = list(part)
        yield label_of(same[0], library), "; ".join(said_of(f) for f in same)


def _line_key(fact: Fact) -> tuple[object, ...]:
    if isinstance(fact, LoggedSet):
        return "set", fact.session_key, fact.item_key, fact.variant_id
    return (id(fact),)


def label_of(fact: Fact, library: Library) -> str:
    """What a fact is about, in a few words."""
    if isinstance(fact, LoggedSet):
        known = library.variants.get(fact.variant_id)
        return plain(fact.variant_id if known is None else known.name)
    if isinstance(fact, SessionTold):
        return f"session {plain(fact.session_key)}".strip()
    if isinstance(fact, PainTold):
        side = "" if fact.side == "both" else f"{fact.side} "
        return f"pain: {side}{fact.region or 'no place told'}"
    if isinstance(fact, LoggedTest):
        return f"test: {fact.kind}"
    names = {"WeekTold": "the week", "RunTold": "run", "Asked": "asks", "TimeAway": "away", "Decided": "coach"}
    return names.get(type(fact).__name__, "taken back")


def said_of(fact: Fact) -> str:
    """What a fact says, in a few words."""
    if isinstance(fact, LoggedSet):
        return ("" if fact.side == "both" else f"{fact.side} ") + words_of(fact)
    if isinstance(fact, PainTold):
        parts = [f"{fact.worst}/10" if fact.worst is not None else ""]
        parts += [f"next morning {fact.morning}/10" if fact.morning is not None else ""]
        parts += [f"red flag: {flag}" for flag in fact.flags]
        return ", ".join(p for p in (*parts, fact.words) if p) or "no number told"
    if isinstance(fact, TimeAway):
        return f"{fact.kind} to {_day(fact.last)}" + (f", with {fact.kit}" if fact.kit else "")
    if isinstance(fact, LoggedTest):
        return f"{fact.value:g}" + ("" if fact.side == "both" else f" {fact.side}")
    if isinstance(fact, Asked):
        return (fact.words or "something has changed") + (
            f"; answered by {fact.answered_by}" if fact.answered_by else ""
        )
    if isinstance(fact, Decided):
        return f"{fact.choice} instead of {fact.proposed}, {fact.by}"
    words = fact.words if isinstance(fact, (SessionTold, WeekTold)) else ""
    return words_of(fact) + (f": {words}" if words else "")


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
