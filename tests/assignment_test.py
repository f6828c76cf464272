"""Published assignment problems, solved by the seam that solves a runner's week.

Published optima: OR-Library, generalised assignment gap1 to gap3 (tests/data/assignment/README.md).
"""

from __future__ import annotations

import pytest
from bench.assignment import Assignment, problems, rows_of

from ferrule.fit.seam import solve_rows

ALL = tuple(problems())


def test_there_are_fifteen() -> None:
    assert len({a.name for a in ALL}) == 15


@pytest.mark.parametrize("a", ALL, ids=lambda a: a.name)
def test_the_published_optimum_is_found_proven_and_kept_by_hand(a: Assignment) -> None:
    found, chosen = solve_rows(rows_of(a))
    assert found.proven
    assert -found.values[0] == a.optimum
    jobs = len(a.profit[0])
    agent = {n % jobs: n // jobs for n in chosen}
    assert sorted(n % jobs for n in chosen) == list(range(jobs))  # each job once
    assert sum(a.profit[i][j] for j, i in agent.items()) == a.optimum
    for i, has in enumerate(a.has):
        assert sum(a.takes[i][j] for j in agent if agent[j] == i) <= has
