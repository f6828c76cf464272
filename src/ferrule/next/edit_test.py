"""Fewer sets: each line within a set of its share, the whole week near to it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.next.edit import Owed


@pytest.mark.parametrize(
    ("sets", "share", "left"),
    [
        ([3, 3, 3, 3, 3, 3], 0.48, [1, 2, 1, 2, 1, 2]),  # 9 of 18, not the 6 that each rounding alone gives
        ([4, 4, 4], 0.5, [2, 2, 2]),
        ([3, 3, 3, 3, 3], 0.6, [2, 2, 1, 2, 2]),
        ([1, 1, 4], 0.5, [1, 1, 2]),  # one is one, and the four do not pay for it
        ([3], 0.8, [2]),
    ],
)
def test_what_one_line_loses_to_rounding_another_gets_back(sets: list[int], share: float, left: list[int]) -> None:
    owed = Owed()
    assert [owed.fewer(n, share) for n in sets] == left


@settings(max_examples=200, derandomize=True)
@given(st.lists(st.tuples(st.integers(2, 6), st.integers(1, 4)), min_size=1, max_size=12), st.floats(0.5, 1.0))
def test_the_week_comes_to_its_share(blocks: list[tuple[int, int]], share: float) -> None:
    """Blocks of two sets or more: the week lies within half a set a line of the widest block; no line gets more than it had."""
    owed = Owed()
    left = [(owed.fewer(n, share, lines), n, lines) for n, lines in blocks]
    assert all(1 <= got <= n and abs(got - n * share) < 1 + 1e-6 for got, n, _ in left)
    widest = max(lines for _, lines in blocks)
    gap = sum(lines * (got - n * share) for got, n, lines in left)
    assert abs(gap) <= widest + 1e-6
