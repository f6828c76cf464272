from __future__ import annotations

from time import process_time

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.programme.align import MOST_PRODUCT, in_gaps, matched, reordered, unmatched


def test_a_line_put_in_moves_nothing() -> None:
    pairs = matched("abcabc", "abxcabc")
    assert [("abcabc"[a], "abxcabc"[b]) for a, b in pairs] == [(k, k) for k in "abcabc"]
    assert not reordered(pairs)


def test_what_changed_its_place_is_still_found() -> None:
    pairs = matched("abcd", "bacd")
    assert sorted(pairs) == [(0, 1), (1, 0), (2, 2), (3, 3)]
    assert reordered(pairs)


def test_what_stands_between_the_same_neighbours_belongs_together() -> None:
    assert in_gaps(3, 3, [(0, 0), (2, 2)]) == [(1, 1)]
    assert in_gaps(3, 2, [(0, 0), (2, 1)]) == []
    assert in_gaps(3, 4, [(0, 0), (2, 3)], lambda a, b: float(b)) == [(1, 2)]
    assert in_gaps(2, 2, [(0, 0)], lambda a, b: 0.0) == []


@settings(derandomize=True, max_examples=300, deadline=None)
@given(st.lists(st.sampled_from("abcd"), max_size=12), st.lists(st.sampled_from("abcd"), max_size=12))
def test_pairs_are_of_equals_each_once_and_as_many_as_there_can_be(old: list[str], new: list[str]) -> None:
    pairs = matched(old, new)
    assert all(old[a] == new[b] for a, b in pairs)
    assert len({a for a, _ in pairs}) == len({b for _, b in pairs}) == len(pairs)
    left = [old[k] for k in unmatched(len(old), [a for a, _ in pairs])]
    right = [new[k] for k in unmatched(len(new), [b for _, b in pairs])]
    assert not set(left) & set(right)


def test_a_session_of_thousands_of_equal_lines_does_not_stop_it() -> None:
    many = 4000
    assert many**2 > MOST_PRODUCT
    start = process_time()
    pairs = matched(["x", *["a"] * many, "y"], ["y", *["a"] * (many + 7), "x"])
    assert len(pairs) == many + 2
    assert process_time() - start < 2
