"""The two printed lines of recourse of each draft, and its expected loss with them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

import numpy as np

from ferrule.fit.draft import Draft
from ferrule.fit.effort import Array, with_recourse
from ferrule.model.words import Group

EASIER_BY, HARDER_BY = 0.87, 1.15
"""A recourse differs by about a seventh of the demand: less is not felt (ours)."""
NEAR_EASIER, NEAR_HARDER = 0.6, 1.6
"""Another load of the same variant is the recourse when it lies this near; else another variant may be nearer (ours)."""


def add_recourse(drafts: Sequence[Draft]) -> None:
    """Every dosed draft gets its printed easier and harder line, and its expected loss with them.

    The nearest on the way: another load of the same variant, else one of the coach's own alternatives, else the family
    without a load, else anything without a load: nobody is sent to a strange exercise with a weight in hand.
    """
    groups: dict[Group, list[Draft]] = {}
    for d in drafts:
        if d.group is not None and d.lost is not None:
            groups.setdefault(d.group, []).append(d)
    for members in groups.values():
        variants: dict[str, list[Draft]] = {}
        families: dict[str, list[Draft]] = {}
        for d in members:
            assert d.variant is not None  # it has a group
            variants.setdefault(d.variant.id, []).append(d)
            if not d.carried:
                families.setdefault(d.variant.family, []).append(d)
        listed = _Steps([d for d in members if d.origin in ("written", "alternative")])
        bare = _Steps([d for d in members if not d.carried and d.variant is not None and not d.variant.end_range])
        for same in variants.values():
            first = same[0].variant
            assert first is not None  # it has a group
            tiers = (_Steps(same), listed, _Steps(families.get(first.family, [])), bare)
            for d in same:
                near = (tiers[0].above(d, NEAR_HARDER * d.demand), tiers[0].below(d, NEAR_EASIER * d.demand))
                d.harder = near[0] or next((x for t in tiers[1:] if (x := t.above(d))), None)
                d.easier = near[1] or next((x for t in tiers[1:] if (x := t.below(d))), None)
        own = np.array([d.lost for d in members])
        easier = np.array([_lost(d.easier, d) for d in members])
        harder = np.array([_lost(d.harder, d) for d in members])
        for d, expected in zip(members, with_recourse(own, easier, harder), strict=True):
            d.expected_loss = float(expected)


class _Steps:
    """Drafts of one group in order of demand; among equals the nearest to the text is found first."""

    def __init__(self, drafts: Sequence[Draft]) -> None:
        self.rising = sorted(drafts, key=lambda d: (d.demand, d.distance))
        self.falling = sorted(drafts, key=lambda d: (d.demand, -d.distance))
        self.up, self.down = [d.demand for d in self.rising], [d.demand for d in self.falling]

    def above(self, d: Draft, most: float = float("inf")) -> Draft | None:
        i = bisect_left(self.up, HARDER_BY * d.demand)
        return self.rising[i] if i < len(self.rising) and self.up[i] <= most else None

    def below(self, d: Draft, least: float = 0.0) -> Draft | None:
        i = bisect_right(self.down, EASIER_BY * d.demand) - 1
        return self.falling[i] if i >= 0 and self.down[i] >= least else None


def _lost(recourse: Draft | None, own: Draft) -> Array | None:
    return own.lost if recourse is None else recourse.lost
