"""Questions that wait: "something has changed, ask me", and time away by illness that needs the coach's way back."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.model.entry import TimeAway
from ferrule.model.fact import Asked, Entry
from ferrule.notice.told import Due, Told, on
from ferrule.record.standing import day_of


def question(told: Told) -> Iterator[Due]:
    """At most one row with everything that waits. It drops when it is answered, and never by itself."""
    waiting = [
        (e, _words(e.fact))
        for e in told.said
        if isinstance(e.fact, Asked) and not e.fact.answered_by and e.entry_id not in told.answered
    ]
    ill = [(e, _ill(e.fact)) for e in told.said if isinstance(e.fact, TimeAway) and _needs_way_back(told, e)]
    found: list[tuple[Entry, str]] = sorted([*waiting, *ill], key=lambda pair: (day_of(pair[0].fact), pair[0].entry_id))
    if not found:
        return
    draft = [f"{told.name}, thank you for asking."]
    if waiting:
        draft.append("Here is what I suggest: ...")
    if ill:
        draft.append("Rest until you are well. Tell me when that is; the first week back will be an easy one.")
    yield told.due(
        "question", day_of(found[0][0].fact), (words for _, words in found), draft, (e.entry_id for e, _ in found)
    )


def _words(fact: Asked) -> str:
    said = fact.words.strip()
    return (
        f'{on(fact.day)}, asked: "{said}"'
        if said
        else f"{on(fact.day)}, something has changed, ask me; no reason given"
    )


def _needs_way_back(told: Told, entry: Entry) -> bool:
    """Illness for which nobody has set a way back: neither in itself nor in another telling of the same days."""
    ill = entry.fact
    if not isinstance(ill, TimeAway) or ill.kind != "illness" or entry.entry_id in told.answered:
        return False
    return not any(
        (away.by or away.ramp) and away.first <= ill.last and ill.first <= away.last
        for away in (e.fact for e in told.said)
        if isinstance(away, TimeAway) and away.kind == "illness"
    )


def _ill(fact: TimeAway) -> str:
    return f"ill from {on(fact.first)} to {on(fact.last)}; the way back is not set"
