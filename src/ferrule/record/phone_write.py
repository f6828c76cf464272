"""Entries -> the file a phone gives back (docs/log.md): what the page writes, for simulated runners and the demo."""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import datetime, time
from typing import Any

from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold


def phone_file(entries: Iterable[Entry], copy_id: str, runner_id: str, made: datetime) -> bytes:
    """The file of those entries, one entry a line; `read_phone_file` reads the same entries from it.

    A key that says nothing is left out. Raises ValueError for a fact that no runner tells (a coach's decision).
    """
    told = [json.dumps(_entry(e, copy_id), ensure_ascii=False) for e in entries]
    head = json.dumps(
        {"ferrule": 1, "copy": copy_id, "runner": runner_id, "made": made.isoformat()}, ensure_ascii=False
    )
    body = ",\n".join(told)
    return f'{head[:-1]}, "entries": [\n{body}\n], "end": {len(told)}}}\n'.encode()


def _entry(entry: Entry, copy_id: str) -> dict[str, Any]:
    kind, keys = _keys(entry.fact)
    own = keys.pop("copy", "")
    envelope = {
        "id": entry.entry_id,
        "at": entry.recorded_at.isoformat(),
        "replaces": entry.replaces,
        "kind": kind,
        "copy": own if own != copy_id else "",
    }
    return {k: v for k, v in (envelope | keys).items() if v is not None and v != "" and v != ()}


def _keys(fact: Fact) -> tuple[str, dict[str, Any]]:
    match fact:
        case LoggedSet():
            return "set", {
                "day": fact.day.isoformat(), "time": _clock(fact.at), "session": fact.session_key, "item": fact.item_key,
                "n": fact.number, "outcome": fact.outcome, "done": fact.done, "reserve": _reserve(fact.reserve),
                "effort_asked": fact.effort_asked or None, "side": _side(fact.side), "variant": fact.variant_id,
                "load_kg": None if fact.band else fact.load_kg, "place": None if fact.band else fact.place, "band": fact.band,
                "unit": fact.unit, "asked": fact.asked, "stopped": fact.stopped, "copy": fact.copy_id,
            }  # fmt: skip
        case SessionTold():
            return "session", {
                "day": fact.day.isoformat(), "time": _clock(fact.at), "session": fact.session_key, "outcome": fact.outcome,
                "rating": fact.rating, "minutes": fact.minutes, "why": fact.why, "words": fact.words, "copy": fact.copy_id,
            }  # fmt: skip
        case WeekTold():
            return "week", {
                "monday": fact.monday.isoformat(), "did": fact.did, "felt": fact.felt, "pain": fact.pain, "words": fact.words,
                "copy": fact.copy_id,
            }  # fmt: skip
        case PainTold():
            return "pain", {
                "day": fact.day.isoformat(), "region": fact.region, "side": _side(fact.side), "worst": fact.worst,
                "morning": fact.morning, "session": fact.session_key, "item": fact.item_key, "variant": fact.variant_id,
                "flags": list(fact.flags) or None, "words": fact.words,
            }  # fmt: skip
        case Asked():
            return "ask", {"day": fact.day.isoformat(), "words": fact.words}
        case TimeAway():
            first, last = fact.first.isoformat(), fact.last.isoformat()
            return "away", {"first": first, "last": last, "away": fact.kind, "kit": fact.kit}
        case LoggedTest():
            return "test", {
                "day": fact.day.isoformat(), "test": fact.kind, "value": fact.value, "side": _side(fact.side)
            }  # fmt: skip
        case RunTold():
            return "run", {
                "day": fact.day.isoformat(), "time": _clock(fact.at), "distance_km": fact.distance_km, "minutes": fact.minutes,
                "climb_m": fact.climb_m, "run": fact.kind, "rating": fact.rating,
            }  # fmt: skip
        case TakenBack():
            return "back", {"why": fact.why}
        case _:
            raise ValueError(f"no runner tells a {type(fact).__name__}")


def _clock(at: time | None) -> str | None:
    return None if at is None else at.strftime("%H:%M")


def _side(side: str) -> str | None:
    return None if side == "both" else side


def _reserve(reserve: Reserve | None) -> object:
    """`2`, `4` for four or more, `[1, 2]` for a range."""
    if reserve is None:
        return None
    if reserve == Reserve(4, None):
        return 4
    return reserve.low if reserve.low == reserve.high and reserve.low < 4 else [reserve.low, reserve.high]
