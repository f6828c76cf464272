"""The solver's seam on plain 0-1 programmes: brute force, limits told, and nothing that depends on the clock."""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.fit.seam import Rows, solve_rows

ROWS = st.integers(1, 7).flatmap(
    lambda n: st.builds(
        Rows,
        st.just(n),
        st.lists(
            st.tuples(
                st.one_of(st.none(), st.integers(-4, 2)),
                st.dictionaries(st.integers(0, n - 1), st.integers(-3, 5), min_size=1),
                st.one_of(st.none(), st.integers(2, 9)),
            ),
            max_size=3,
        ).map(tuple),
        st.dictionaries(st.integers(0, n - 1), st.integers(-9, 9), min_size=1),
    )
)


def brute(p: Rows) -> int | None:
    """The least goal by trying everything."""

    def total(row: dict[int, int], x: tuple[int, ...]) -> int:
        return sum(c * x[n] for n, c in row.items())

    return min(
        (
            total(p.goal, x)
            for x in itertools.product((0, 1), repeat=p.columns)
            if all(
                (low is None or total(r, x) >= low) and (high is None or total(r, x) <= high) for low, r, high in p.rows
            )
        ),
        default=None,
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(ROWS)
def test_a_plain_programme_is_solved_to_the_optimum_of_brute_force(p: Rows) -> None:
    best = brute(p)
    found, chosen = solve_rows(p)
    if best is None:
        assert found.status == "impossible"
        assert chosen == ()
    else:
        assert found.proven
        assert found.values == found.floors == (best,)
        assert sum(p.goal.get(n, 0) for n in chosen) == best


def hard() -> Rows:
    """A multi-dimensional knapsack: easy to fill, slow to prove, so that a small limit is felt."""
    n = 60
    weights = [{j: (31 * (i + 1) * (j + 3) ** 2 + 7 * i * j) % 97 + 20 for j in range(n)} for i in range(8)]
    rows = tuple((None, w, sum(w.values()) // 2) for w in weights)
    return Rows(n, rows, {j: -((17 * (j + 1) ** 3) % 31 + 40) for j in range(n)})


def test_a_small_limit_gives_the_best_found_with_its_floor_and_twice_the_same() -> None:
    found, chosen = solve_rows(hard(), 0.05)
    assert found.status == "best found"
    assert found.floors[0] is not None
    assert found.floors[0] < found.values[0] == sum(hard().goal[n] for n in chosen)
    again, other = solve_rows(hard(), 0.05)
    assert (again.values, again.floors, other) == (found.values, found.floors, chosen)


def test_no_time_at_all_gives_nothing_and_says_so() -> None:
    found, chosen = solve_rows(hard(), 0.0)
    assert (found.status, found.values, chosen) == ("nothing", (), ())
    assert not found.proven
