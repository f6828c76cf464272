"""A fitted week as the bytes that are signed, and back."""

from __future__ import annotations

import hashlib

import msgspec

from ferrule.model.fitted import FittedWeek

FORMAT = 1
"""Version of the JSON form; a reader of an older form is added here when the types change."""
_decoder = msgspec.json.Decoder(FittedWeek)


def to_json(week: FittedWeek) -> bytes:
    """One JSON form for equal weeks: read back once, so that 12 and 12.0 kg are written alike."""
    written = msgspec.json.encode(week, order="deterministic")
    return msgspec.json.encode(_decoder.decode(written), order="deterministic")


def from_json(content: bytes) -> FittedWeek:
    """The week in a JSON form. Raises ValueError (msgspec.ValidationError, DecodeError) when it is none."""
    return _decoder.decode(content)


def digest_of(content: bytes) -> str:
    """SHA-256, hexadecimal (FIPS 180-4)."""
    return hashlib.sha256(content).hexdigest()
