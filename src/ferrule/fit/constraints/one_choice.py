"""Each line has one choice or is omitted; each block one reduction; each session one time or is dropped."""

from __future__ import annotations

from ferrule.fit.variables import Variables

NAME = "one choice"


def add(v: Variables) -> None:
    """Structure, not a rule: it has no literal."""
    for i, options in enumerate(v.x):
        v.model.add_exactly_one([*options, v.omit[i]])
    for cuts in v.cut:
        v.model.add_exactly_one(cuts)
    for s, slots in enumerate(v.y):
        v.model.add_exactly_one([*slots, v.drop[s]])
