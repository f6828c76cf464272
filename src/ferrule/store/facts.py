"""An entry as the bytes that are kept, and back."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any, Generic, TypeVar

import msgspec

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.fact import (
    Asked,
    Decided,
    Entry,
    Fact,
    PainTold,
    RunTold,
    SessionTold,
    Source,
    TakenBack,
    WeekTold,
)

FORMAT = 1
"""Version of the JSON form; a reader of an older form is added here when the types change."""

KINDS: dict[str, type[Any]] = {
    "set": LoggedSet,
    "test": LoggedTest,
    "away": TimeAway,
    "pain": PainTold,
    "session": SessionTold,
    "week": WeekTold,
    "run": RunTold,
    "asked": Asked,
    "decided": Decided,
    "taken back": TakenBack,
}
"""Every kind of fact, by the word it is kept under."""
_KIND_OF = {made: kind for kind, made in KINDS.items()}
_T = TypeVar("_T")


class _Envelope(msgspec.Struct, Generic[_T], gc=False):
    """Without the collector of cycles: it is let go of as soon as it is read, and holds itself nowhere."""

    entry_id: str
    runner_id: str
    recorded_at: datetime
    source: Source
    replaces: str
    kind: str
    fact: _T


_DECODERS: dict[str, msgspec.json.Decoder[Any]] = {
    kind: msgspec.json.Decoder(_Envelope[made])  # type: ignore[valid-type]
    for kind, made in KINDS.items()
}
_encode = msgspec.json.Encoder(order="deterministic").encode


class UnkeptError(ValueError):
    """The entry cannot be kept as it is; the text says why."""


def kind_of(fact: Fact) -> str:
    """The word a fact is kept under. Raises UnkeptError when it is of no known kind."""
    try:
        return _KIND_OF[type(fact)]
    except KeyError:
        raise UnkeptError(f"a {type(fact).__name__} is no fact") from None


def to_json(entry: Entry) -> bytes:
    """One JSON form for equal entries: read back once, so that 12 and 12.0 kg are written alike.

    Raises UnkeptError when the entry has no id, runner or time zone, or would not come back as it was.
    """
    if not (entry.entry_id and entry.runner_id):
        raise UnkeptError("it has no id or no runner")
    if entry.recorded_at.tzinfo is None:
        raise UnkeptError("the moment it was recorded has no time zone")
    kind = kind_of(entry.fact)
    if _misfiled(entry):
        raise UnkeptError("what it says is of another runner or entry than it is told for")
    made = _Envelope(entry.entry_id, entry.runner_id, entry.recorded_at, entry.source, entry.replaces, kind, entry.fact)
    try:
        back = _DECODERS[kind].decode(_encode(made))
    except (ValueError, TypeError) as error:  # msgspec.ValidationError is a ValueError; so is a lone surrogate
        raise UnkeptError(str(error)) from None
    if back != made:
        raise UnkeptError("a number in it is no number")
    return _encode(back)


def from_json(kind: str, content: bytes) -> Entry:
    """The entry in a JSON form. Raises ValueError (msgspec.ValidationError, DecodeError) when it is none."""
    if kind not in _DECODERS:
        raise ValueError(f"there is no kind of fact named {kind!r}")
    made = _DECODERS[kind].decode(content)
    if made.kind != kind:
        raise ValueError(f"kept as {kind!r}, but it says {made.kind!r}")
    return Entry(made.entry_id, made.runner_id, made.recorded_at, made.source, made.fact, made.replaces)


def digest_of(content: bytes) -> str:
    """SHA-256, hexadecimal (FIPS 180-4)."""
    return hashlib.sha256(content).hexdigest()


def performed_on(entry: Entry) -> date:
    """The day the fact is about; for one that is about no day, the local day it was recorded."""
    fact = entry.fact
    if isinstance(fact, TimeAway):
        return fact.first
    if isinstance(fact, WeekTold | Decided):
        return fact.monday
    if isinstance(fact, TakenBack):
        return entry.recorded_at.date()
    return fact.day


def told(entry: Entry) -> Entry:
    """The entry without the moment of recording: what two hand-overs of the same words have in common."""
    same = datetime(1970, 1, 1, tzinfo=UTC)
    fact = replace(entry.fact, recorded_at=None) if isinstance(entry.fact, LoggedSet) else entry.fact
    return replace(entry, recorded_at=same, fact=fact)


def _misfiled(entry: Entry) -> bool:
    """True when the fact names another runner or entry than its envelope does."""
    runner_id, entry_id = getattr(entry.fact, "runner_id", ""), getattr(entry.fact, "entry_id", "")
    return (runner_id or entry.runner_id) != entry.runner_id or (entry_id or entry.entry_id) != entry.entry_id
