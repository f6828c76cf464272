"""Runners whose next week, not signed yet, would hold something new that the coach did not write, or who have no week."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import NamedTuple

from ferrule.model.fact import Decided
from ferrule.model.fitted import FittedItem, FittedWeek, Impossible
from ferrule.notice.told import Due, Told

SPOKEN = timedelta(days=7)
"""How long a word about a week that does not exist counts as said."""


def unwritten(told: Told) -> Iterator[Due]:
    """At most one row. A line the coach has decided on is off it, and so is a week that was answered."""
    draft = told.draft
    if draft is None:
        return
    if isinstance(draft, Impossible):
        answer = told.last_answer("no week:")
        facts = [*(f.what for f in draft.reasons), *(f"would work: {way.text}" for way in draft.ways_out)]
        if answer is None or told.now - answer >= SPOKEN:
            words = [f"{told.name}, I cannot make your next week with what I know.", "Can we talk about days and kit?"]
            yield told.due("not what you wrote", told.now, facts or ("no week exists",), words, ("no week:",))
        return
    if not isinstance(draft, FittedWeek) or (key := f"week:{draft.monday.isoformat()}") in told.answered:
        return
    changes = list(_changes(told, draft))
    if changes:
        words = [
            f"{told.name}, a few things are new for you this week:",
            "; ".join(dict.fromkeys(c.to_runner for c in changes)) + ".",
            "Tell me if that does not suit you.",
        ]
        yield told.due("not what you wrote", told.now, (c.fact for c in changes), words, (key,))


class _Change(NamedTuple):
    """fact: with its reason, for the coach;  to_runner: what it comes to, for the runner."""

    fact: str
    to_runner: str


def _changes(told: Told, week: FittedWeek) -> Iterator[_Change]:
    """What the coach has neither written nor decided nor signed before, in the weeks the list looks at."""
    decided = {
        (e.fact.session_key, e.fact.item_key)
        for e in told.said
        if isinstance(e.fact, Decided) and e.fact.monday == week.monday
    }
    signed = {known for before in told.weeks for known in _departures(before)}
    for session in week.sessions:
        name = session.name or session.key
        for item in (i for b in session.blocks for i in b.items):
            if item.departs and (session.key, item.item_key) not in decided and _departure(item) not in signed:
                yield _Change(f"{name}: {item_words(item)}", _changed(item))
        for reason in session.reasons:
            if reason.departs and (name, reason.text) not in signed:
                yield _Change(f"{name}: {reason.text}", f"{name}: {reason.text}")
    for key, reason in week.rest_sessions:
        if (key, reason.text) not in signed:
            yield _Change(f"no day for {key}: {reason.text}", f"no day for {key}")


def _departures(week: FittedWeek) -> Iterator[tuple[str, str]]:
    """What a sent week held that was not written: the same again is nothing new."""
    for session in week.sessions:
        yield from (_departure(i) for b in session.blocks for i in b.items if i.departs)
        yield from ((session.name or session.key, r.text) for r in session.reasons if r.departs)
    yield from ((key, reason.text) for key, reason in week.rest_sessions)


def _departure(item: FittedItem) -> tuple[str, str]:
    return item.written, item.variant_id or item.name


def item_words(item: FittedItem) -> str:
    """`Split squat instead of Step-up (no step)`."""
    because = "; ".join(r.text.removeprefix(f"{item.written}: ") for r in item.reasons if r.departs)
    return f"{_changed(item)} ({because})"


def _changed(item: FittedItem) -> str:
    return f"{item.name} instead of {item.written}" if item.name != item.written else item.name
