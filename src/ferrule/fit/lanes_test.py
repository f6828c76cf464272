"""Lanes against trying everything, and on cases whose answer can be seen."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.fit import lanes
from ferrule.fit.lanes import Price, choose_lanes

PRICES = st.dictionaries(
    st.sampled_from(["r1", "r2", "r3", "r4", "r5", "r6"]),
    st.dictionaries(
        st.sampled_from(["a", "b", "c", "d", "e"]),
        st.tuples(st.integers(0, 6), st.integers(0, 9)),
        max_size=5,
    ),
    max_size=6,
)


def brute(prices: dict[str, dict[str, Price]], most: int) -> tuple[int, int, int]:
    """(exceptions, text, effort) of the best set, written from the rule: fewest exceptions, then least text, then effort."""
    counted = [mine for mine in prices.values() if mine]
    names = sorted({v for mine in counted for v in mine})
    best: list[tuple[int, int, int]] = []
    for n in range(1, most + 1):
        for some in combinations(names, n):
            left, text, effort = 0, 0, 0
            for mine in counted:
                near = min((mine[v] for v in some if v in mine), default=None)
                if near is None:
                    left += 1
                else:
                    text, effort = text + near[0], effort + near[1]
            best.append((left, text, effort))
    return min(best, default=(0, 0, 0))


@settings(derandomize=True, max_examples=300, deadline=None)
@given(PRICES, st.integers(1, 4))
def test_lanes_equal_trying_everything(prices: dict[str, dict[str, Price]], most: int) -> None:
    found = choose_lanes(prices, most)
    assert (len(found.exceptions), found.text, found.effort) == brute(prices, most)
    assert len(found.variants) <= most
    assert found.gap == 0
    assert (found.free_text, found.free_effort) <= (found.text, found.effort)


@settings(derandomize=True, max_examples=25, deadline=None)
@given(PRICES, st.integers(1, 3))
def test_the_solver_agrees_where_too_many_sets_would_have_to_be_looked_at(
    prices: dict[str, dict[str, Price]], most: int
) -> None:
    looked = choose_lanes(prices, most)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lanes, "MOST_SUMS", -1)
        solved = choose_lanes(prices, most)
    assert (len(solved.exceptions), solved.text, solved.effort) == (len(looked.exceptions), looked.text, looked.effort)
    assert solved.gap == 0


def test_a_known_case_of_four_runners() -> None:
    prices = {
        "near": {"as written": (0, 0), "easier": (12, 5)},
        "weak": {"as written": (140, 90), "easier": (12, 5), "easiest": (14, 0)},
        "weaker": {"as written": (240, 90), "easier": (112, 50), "easiest": (14, 0)},
        "no step": {"another": (30, 3)},
    }
    two = choose_lanes(prices, 2)
    assert two.variants == ("easier", "another")
    assert (two.exceptions, two.text, two.wanted) == ((), 166, 4)
    one = choose_lanes(prices, 1)
    assert one.variants == ("easier",)
    assert one.exceptions == ("no step",)


def test_nobody_to_serve() -> None:
    assert choose_lanes({}, 3).variants == ()
    assert choose_lanes({"r1": {}}, 3).exceptions == ()


def test_no_time_at_all_still_answers_and_says_the_gap_is_open() -> None:
    prices = {f"r{n}": {f"v{m}": ((n * m) % 7, m) for m in range(6)} for n in range(6)}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lanes, "MOST_SUMS", -1)
        found = choose_lanes(prices, 2, time_limit_s=0.0)
    assert 1 <= len(found.variants) <= 2
    assert found.gap > 0
