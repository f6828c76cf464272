"""Which adjustable pieces a load occupies, and what they must be set to."""

from __future__ import annotations

import re

from ferrule.model.fitted import LoadChoice

_ADJUSTABLE = re.compile(r"adjustable (?P<kind>\w+?)s? at (?P<kg>[\d.]+) kg$")


def settings_of(load: LoadChoice | None) -> tuple[tuple[str, str], ...]:
    """(piece, setting) for each piece that must be changed to make another load: adjustable weights, bars, rucksacks."""
    if load is None:
        return ()
    out: dict[str, str] = {}
    for piece in load.pieces:
        match = _ADJUSTABLE.search(piece)
        if match:
            out[f"adjustable {match['kind']}"] = match["kg"]
        elif piece.startswith("rucksack"):
            out["rucksack"] = piece
        elif piece.endswith("barbell"):
            out["barbell"] = " and ".join(load.pieces)
    return tuple(sorted(out.items()))
