"""Time-ordered ids, UUID version 7 (RFC 9562, section 5.7)."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

RANDOM_BITS = 74
"""12 bits of `rand_a` and 62 of `rand_b`."""


def uuid7(unix_ms: int, random: int) -> UUID:
    """The UUID of `unix_ms` milliseconds since 1970-01-01 UTC (48 bits) and 74 bits of `random`.

    Layout: unix_ts_ms 48, version 0111, rand_a 12, variant 10, rand_b 62 (RFC 9562, figure 11). Raises ValueError when
    a number does not fit.
    """
    if not 0 <= unix_ms < 1 << 48:
        raise ValueError(f"milliseconds do not fit 48 bits: {unix_ms}")
    if not 0 <= random < 1 << RANDOM_BITS:
        raise ValueError(f"random bits do not fit {RANDOM_BITS} bits")
    rand_a, rand_b = random >> 62, random & ((1 << 62) - 1)
    return UUID(int=unix_ms << 80 | 0x7 << 76 | rand_a << 64 | 0b10 << 62 | rand_b)


def milliseconds(moment: datetime) -> int:
    """Milliseconds since 1970-01-01 UTC of a moment with a time zone."""
    return int(moment.timestamp() * 1000)
