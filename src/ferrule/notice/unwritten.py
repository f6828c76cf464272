"""Runners whose next week, not signed yet, would hold something the coach did not write, or for whom there is no week."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from ferrule.model.fact import Decided
from ferrule.model.fitted import FittedItem, FittedWeek, Impossible, Reason
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
    facts = list(_changes(told, draft))
    if facts:
        words = [f"{told.name}, a few things are different for you this week.", *(f"{f}." for f in facts)]
        yield told.due("not what you wrote", told.now, facts, [*words, "Tell me if that does not suit you."], (key,))


def _changes(told: Told, week: FittedWeek) -> Iterator[str]:
    decided = {
        (e.fact.session_key, e.fact.item_key)
        for e in told.said
        if isinstance(e.fact, Decided) and e.fact.monday == week.monday
    }
    for session in week.sessions:
        for block in session.blocks:
            for item in block.items:
                if item.departs and (session.key, item.item_key) not in decided:
                    yield f"{session.name or session.key}: {item_words(item)}"
        yield from (f"{session.name or session.key}: {r.text}" for r in session.reasons if r.departs)
    yield from (f"no day for {key}: {reason.text}" for key, reason in week.rest_sessions)


def item_words(item: FittedItem) -> str:
    """`Step-up instead of Box step: no box of 40 cm`."""
    changed = f"{item.name} instead of {item.written}" if item.name != item.written else item.name
    return f"{changed}: {_because(item.reasons)}"


def _because(reasons: tuple[Reason, ...]) -> str:
    return "; ".join(r.text for r in reasons if r.departs)
