"""Lanes: at most k variants a line for the whole squad, chosen exactly at least total departure (a k-median).

Candidates are the variants anybody may do on the line, runners the places to be served. Cost of a runner with a set of
lanes is the price of their nearest lane: first the price of leaving the text, then effort, as whole numbers packed so
that the order of levels stays; a runner whom no lane serves costs more than everything else together, so the fewest
exceptions come before the least departure.

Exact: every set of k is looked at, after leaving out variants that another one beats for every runner. Above MOST_SUMS
sums CP-SAT proves it instead; `gap` is then the proven one (0 when optimal).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
LineKey = tuple[str, str, str]
"""Cycle key, session key, line key."""
Allowed = Mapping[LineKey, frozenset[str]]
"""The variants each line is held to; a line without an entry is free."""
Price = tuple[int, int]
"""Price of leaving the text, effort in hundredths of a repetition."""

MOST_SUMS = 400_000_000
"""Sets times runners that are still looked at one by one: some four seconds on one core."""
_BATCH = 4_000_000


@dataclass(frozen=True, slots=True)
class Lanes:
    """The lanes of one line.

    variants    the lanes, in the order of the candidates;  exceptions: runners whom none of them serves
    text, effort   total prices of the served ones with their nearest lane;  gap: proven, relative to the least possible
    free_text, free_effort   the same when everybody takes what is best for them
    wanted      how many variants that would be
    """

    variants: tuple[str, ...]
    exceptions: tuple[str, ...]
    text: int
    effort: int
    free_text: int
    free_effort: int
    wanted: int
    gap: float = 0.0


def choose_lanes(prices: Mapping[str, Mapping[str, Price]], most: int, time_limit_s: float = 20.0) -> Lanes:
    """The best `most` variants for one line.

    prices  runner id -> variant id -> Price, for what that runner may do; a runner who may do nothing is not counted
    most    lanes, at least 1

    Of sets that cost the same the one whose variants come first (in the order they are met) is taken.
    """
    runners = [r for r, mine in prices.items() if mine]
    names = list(dict.fromkeys(v for r in runners for v in prices[r]))
    if not runners:
        return Lanes((), (), 0, 0, 0, 0, 0)
    cost, scale, bar = _packed([prices[r] for r in runners], names)
    kept = _undominated(cost)
    if comb(len(kept), min(most, len(kept))) * len(runners) <= MOST_SUMS:
        chosen, gap = _enumerated(cost[:, kept], min(most, len(kept))), 0.0
    else:
        chosen, gap = _solved(cost[:, kept], most, time_limit_s)
    columns = sorted(kept[i] for i in chosen)
    own = cost.min(axis=1)
    nearest = cost[:, columns].min(axis=1)
    served = nearest < bar
    in_use = {int(np.argmin(row)) for row in cost}
    used = sorted({columns[int(np.argmin(row))] for row in cost[:, columns][served]})
    return Lanes(
        variants=tuple(names[c] for c in used),
        exceptions=tuple(r for r, ok in zip(runners, served, strict=True) if not ok),
        text=int((nearest[served] // scale).sum()), effort=int((nearest[served] % scale).sum()),
        free_text=int((own[served] // scale).sum()), free_effort=int((own[served] % scale).sum()),
        wanted=len(in_use), gap=gap,
    )  # fmt: skip


def _packed(rows: Sequence[Mapping[str, Price]], names: Sequence[str]) -> tuple[Ints, int, int]:
    """Costs (runners, variants) with both levels in one number, its scale, and the cost of what may not be done."""
    scale = 1 + sum(max(e for _, e in mine.values()) for mine in rows)
    bar = 1 + sum(max(t * scale + e for t, e in mine.values()) for mine in rows)
    if bar * (len(rows) + 1) >= 2**63:
        raise OverflowError("prices too large to be packed in 63 bits")
    cost = np.full((len(rows), len(names)), bar, dtype=np.int64)
    at = {v: n for n, v in enumerate(names)}
    for r, mine in enumerate(rows):
        for v, (text, effort) in mine.items():
            cost[r, at[v]] = text * scale + effort
    return cost, scale, bar


def _undominated(cost: Ints) -> list[int]:
    """Columns that no other one beats for every runner; of equal ones the first."""
    many = cost.shape[1]
    out = []
    for v in range(many):
        better: Bools = np.asarray((cost <= cost[:, [v]]).all(axis=0))
        alike: Bools = np.asarray((cost == cost[:, [v]]).all(axis=0))
        if not any(better[w] and (w < v or not alike[w]) for w in range(many) if w != v):
            out.append(v)
    return out


def _enumerated(cost: Ints, most: int) -> tuple[int, ...]:
    """The first of the best sets of `most` columns, by looking at all of them."""
    sets = list(combinations(range(cost.shape[1]), most))
    alike, times = np.unique(cost, axis=0, return_counts=True)
    columns = np.ascontiguousarray(alike.T)
    best, found = None, sets[0]
    step = max(1, _BATCH // columns.shape[1])
    for start in range(0, len(sets), step):
        batch = np.array(sets[start : start + step])
        nearest = columns[batch[:, 0]]
        for k in range(1, most):
            nearest = np.minimum(nearest, columns[batch[:, k]])
        sums = nearest @ times
        at = int(np.argmin(sums))
        if best is None or sums[at] < best:
            best, found = int(sums[at]), sets[start + at]
    return found


def _solved(cost: Ints, most: int, time_limit_s: float) -> tuple[tuple[int, ...], float]:
    """The same by CP-SAT, with the proven relative gap."""
    from ortools.sat.python import cp_model

    alike, times = np.unique(cost, axis=0, return_counts=True)
    model = cp_model.CpModel()
    opened = [model.new_bool_var("") for _ in range(cost.shape[1])]
    model.add(sum(opened) <= most)
    goal = []
    for row, many in zip(alike, times, strict=True):
        taken = [model.new_bool_var("") for _ in row]
        model.add_exactly_one(taken)
        for x, lane, price in zip(taken, opened, row, strict=True):
            model.add_implication(x, lane)
            goal.append(int(price) * int(many) * x)
    model.minimize(sum(goal))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 20260105
    solver.parameters.max_time_in_seconds = time_limit_s
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return _greedy(cost, most), 1.0
    chosen = tuple(n for n, lane in enumerate(opened) if solver.boolean_value(lane))
    top = solver.objective_value
    return chosen, 0.0 if status == cp_model.OPTIMAL else (top - solver.best_objective_bound) / max(top, 1.0)


def _greedy(cost: Ints, most: int) -> tuple[int, ...]:
    """What to fall back on when no time was given at all: each lane the best one beside those before it."""
    chosen: list[int] = []
    nearest = np.full(cost.shape[0], cost.max(), dtype=np.int64)
    for _ in range(min(most, cost.shape[1])):
        sums = np.minimum(nearest[:, None], cost).sum(axis=0)
        chosen.append(int(np.argmin(sums)))
        nearest = np.minimum(nearest, cost[:, chosen[-1]])
    return tuple(dict.fromkeys(chosen))
