"""What changed between the copy a runner has and the week fitted again, in words for runner and coach."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time

from ferrule.fit.given import same_load
from ferrule.fit.reasons import load_words
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.words import DAYS


def changes(given: FittedWeek, new: FittedWeek) -> tuple[str, ...]:
    """One sentence a change, in the order of the copy; empty when the runner has nothing to learn anew.

    Reasons, predictions, ways out and minutes are not told: they change nothing that is done.
    """
    was, now = {s.key: s for s in given.sessions}, {s.key: s for s in new.sessions}
    out: list[str] = []
    for key, session in was.items():
        if key not in now:
            reason = next((r.text for title, r in new.rest_sessions if title.split(":")[0] == f"Session {key}"), "")
            out.append(f"session {key} of {_when(session)} is left out" + (f": {reason}" if reason else ""))
            continue
        if (session.day, session.start) != (now[key].day, now[key].start):
            out.append(f"session {key}: {_when(now[key])} instead of {_when(session)}")
        out += [f"session {key}, {text}" for text in _inside(session, now[key])]
    for key, session in now.items():
        if key not in was:
            out.append(f"session {key} is new, on {_when(session)}")
    return tuple(out)


def _when(session: FittedSession) -> str:
    day = f"{DAYS[session.day.weekday()]} {session.day.day} {session.day:%B}"
    if session.start is None:
        return day
    return f"{day} {'morning' if session.start < time(12) else 'evening'} ({session.start:%H:%M})"


def _inside(was: FittedSession, now: FittedSession) -> Iterator[str]:
    block_of = {i.item_key: b for b in now.blocks for i in b.items}
    for block in was.blocks:
        other = next((block_of[i.item_key] for i in block.items if i.item_key in block_of), None)
        if other is not None and other.rounds != block.rounds:
            yield f"{_title(block)}: {other.rounds} instead of {block.rounds} {'sets' if block.kind == 'straight' else 'rounds'}"
    before = {i.item_key: i for b in was.blocks for i in b.items}
    after = {i.item_key: i for b in now.blocks for i in b.items}
    for key, item in before.items():
        if key not in after:
            yield f"{key}: {item.name} is left out"
        else:
            yield from (f"{key}: {text}" for text in _line(item, after[key]))
    for key, item in after.items():
        if key not in before:
            yield f"{key}: {item.name} is new"


def _title(block: FittedBlock) -> str:
    """`pair A`; a block without a letter is told by its first exercise."""
    return f"{block.kind} {block.label or block.name or block.items[0].name}"


def _line(was: FittedItem, now: FittedItem) -> Iterator[str]:
    if was.variant_id != now.variant_id or was.name != now.name:
        load = "" if now.load is None else f", {load_words(now.load)}"
        yield f"{now.name}{load} instead of {was.name}"
    elif not same_load(was.load, now.load):
        yield f"{now.name} with {load_words(now.load)} instead of {load_words(was.load)}"
    if _amount(was) != _amount(now):
        yield f"{now.name}: {_amount(now)} instead of {_amount(was)}"


def _amount(item: FittedItem) -> str:
    """What is counted, with its sides and effort."""
    parts = []
    for value, unit in ((item.reps, ""), (item.hold_s, " s"), (item.distance_m, " m"), (item.contacts, " contacts")):
        if value is not None:
            parts.append(f"{value}{unit}{'/side' if item.per_side else ''}")
    if item.per_set:
        parts.append("sets " + ", ".join(str(n) for n in item.per_set))
    if item.left_right is not None:
        parts.append(f"left {item.left_right[0]}, right {item.left_right[1]}")
    if item.rir is not None:
        parts.append(f"{item.rir} RIR")
    if item.tempo is not None:
        parts.append(f"tempo {item.tempo}")
    if item.pause_s is not None:
        parts.append(f"pause {item.pause_s:g} s")
    return ", ".join(parts)
