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
    step     at most one step of load above it, what the coach wrote included
    strict   nothing at all rather than more than that
    firm     the printed ways out keep to it as well; and where last week's exercise may be done, it stays
    climb    sets were told and nothing holds the line: where the effort meant lies more than a step above last week, a step is
             made towards it
    quiet    a rule on the whole week: said once for the week, and on a line only where it changes something
    """

    reason: str
    most: float | None = None
    strict: bool = False
    code: ReasonCode = "held"
    step: bool = False
    quiet: bool = False
    firm: bool = False
    climb: bool = False


Bounds = Mapping[tuple[str, str], Bound]
"""By (session key, line key) as written."""
NO_BOUNDS: Bounds = {}
