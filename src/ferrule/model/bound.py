"""How far one line of one runner's week may go by what the record says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ferrule.model.fitted import ReasonCode


@dataclass(frozen=True, slots=True)
class Bound:
    """One line.

    reason   in words a coach reads
    most     times the demand that was sent for the line the week before; None holds nothing
    strict   nothing at all rather than more than that
    """

    reason: str
    most: float | None = None
    strict: bool = False
    code: ReasonCode = "held"


Bounds = Mapping[tuple[str, str], Bound]
"""By (session key, line key) as written."""
NO_BOUNDS: Bounds = {}
