"""Which part of an old text is which part of a new one: by what it is and where it stands."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable, Hashable, Sequence
from difflib import SequenceMatcher
from itertools import pairwise

Pairs = list[tuple[int, int]]
"""(index in the old, index in the new), each index at most once."""

MOST_PRODUCT = 1_000_000
"""Longer lists (one session of a thousand lines) are matched by what they hold alone, in linear time."""


def matched(old: Sequence[Hashable], new: Sequence[Hashable]) -> Pairs:
    """Equal keys paired, in order where that is possible, so that one line put in does not move those after it."""
    pairs = in_order(old, new)
    return [*pairs, *anywhere(old, new, pairs)]


def in_order(old: Sequence[Hashable], new: Sequence[Hashable]) -> Pairs:
    """Equal keys paired so that the order is kept: first the common ends, then by difflib between them."""
    start = 0
    while start < min(len(old), len(new)) and old[start] == new[start]:
        start += 1
    end = 0
    while end < min(len(old), len(new)) - start and old[-1 - end] == new[-1 - end]:
        end += 1
    pairs = [(k, k) for k in range(start)]
    left, right = old[start : len(old) - end], new[start : len(new) - end]
    if len(left) * len(right) <= MOST_PRODUCT:
        for a, b, size in SequenceMatcher(None, left, right, autojunk=False).get_matching_blocks():
            pairs += [(start + a + k, start + b + k) for k in range(size)]
    return pairs + [(len(old) - k, len(new) - k) for k in range(end, 0, -1)]


def anywhere(old: Sequence[Hashable], new: Sequence[Hashable], pairs: Pairs) -> Pairs:
    """More pairs of equal keys among what `pairs` leaves over, first come first, whatever the order."""
    left: defaultdict[Hashable, deque[int]] = defaultdict(deque)
    for k in unmatched(len(old), [a for a, _ in pairs]):
        left[old[k]].append(k)
    rest = unmatched(len(new), [b for _, b in pairs])
    return [(left[new[k]].popleft(), k) for k in rest if left.get(new[k])]


def unmatched(count: int, taken: Sequence[int]) -> list[int]:
    """Indices below `count` that are not taken."""
    known = set(taken)
    return [k for k in range(count) if k not in known]


def in_gaps(
    old_count: int, new_count: int, pairs: Pairs, alike: Callable[[int, int], float] = lambda _a, _b: 1.0
) -> Pairs:  # fmt: skip
    """More pairs: what is left over on both sides after the same matched neighbour stands in the same place.

    alike   how much two of them have in common; 0 or less never pairs. As many on both sides pair in order, else the
            most alike first.
    """
    partner = dict(pairs)
    old_gap = _gaps(old_count, partner)
    new_gap = _gaps(new_count, {b: b for _, b in pairs})
    found: Pairs = []
    for place, left in old_gap.items():
        right = new_gap.get(place, [])
        if len(left) == len(right):
            found += [(a, b) for a, b in zip(left, right, strict=True) if alike(a, b) > 0]
            continue
        if len(left) * len(right) > MOST_PRODUCT:
            continue
        ranked = sorted((-alike(a, b), abs(i - j), a, b) for i, a in enumerate(left) for j, b in enumerate(right))
        used: set[int] = set()
        done: set[int] = set()
        for score, _, a, b in ranked:
            if score < 0 and a not in used and b not in done:
                found.append((a, b))
                used.add(a)
                done.add(b)
    return found


def _gaps(count: int, partner: dict[int, int]) -> dict[int, list[int]]:
    """Unmatched indices by the partner of the matched one before them (-1 at the start)."""
    out: defaultdict[int, list[int]] = defaultdict(list)
    before = -1
    for k in range(count):
        if k in partner:
            before = partner[k]
        else:
            out[before].append(k)
    return out


def reordered(pairs: Pairs) -> bool:
    """Whether the pairs, taken in the new order, are not in the old one."""
    old = [a for a, _ in sorted(pairs, key=lambda p: p[1])]
    return any(a > b for a, b in pairwise(old))
