"""The seam to the solver: a 0-1 model and goals in order in, an optimum with its proof out. CP-SAT is imported late.

Nothing here knows of runners or weeks. `solve.py` brings a runner's week; `Rows` brings any linear 0-1 programme as plain
numbers (published assignment problems in the tests, the squad's lanes).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SEED: Final = 20260105
WORK_A_SECOND: Final = 1.0
"""Units of the solver's own work that stand for a second. The limit counts work, so that a slow machine gives the same
answer; the clock only ends what has taken far longer."""
PATIENCE, PATIENCE_S = 3.0, 2.0


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found.

    status   `optimal` every goal proven; `best found` a limit stopped it; `impossible` no answer exists (proven);
             `nothing` the limit came before any answer
    values   value of each goal at the answer
    floors   what each goal is proven to be at least, the goals before it held at `values`; None where nothing is proven
    chosen   is this variable 1 in the answer?
    """

    status: str
    values: tuple[int, ...]
    floors: tuple[int | None, ...]
    chosen: Callable[[cp_model.IntVar], bool]

    @property
    def proven(self) -> bool:
        return self.status == "optimal"


def solve_in_order(
    model: cp_model.CpModel,
    goals: Sequence[cp_model.LinearExpr],
    packs: Sequence[Sequence[int]],
    watched: Sequence[cp_model.IntVar],
    time_limit_s: float,
) -> Solved:
    """Minimise `goals` lexicographically, one thread, fixed seed.

    packs    for each call of the solver the weights of all goals (0: not in this call), highest goal first; weights of a
             call leave no overlap, so that a call is lexicographic in itself. Every goal is in one call.
    watched  variables of the answer; an answer is the hint of the next call
    The limit is for all calls together.
    """
    from ortools.sat.python import cp_model

    values: tuple[int, ...] = ()
    floors: list[int | None] = [None] * len(goals)
    last: cp_model.CpSolver | None = None
    status = "optimal"
    left = time_limit_s
    for number, pack in enumerate(packs):
        inside = [k for k, weight in enumerate(pack) if weight]
        model.minimize(sum(pack[k] * goals[k] for k in inside))
        solver = solver_of(left)
        found = solver.solve(model)
        left = max(0.0, left - solver.deterministic_time / WORK_A_SECOND)
        if found == cp_model.INFEASIBLE:
            return Solved("impossible", (), (), lambda _: False)
        if found not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            status = "best found" if last else "nothing"
            break
        last = solver
        values = tuple(int(solver.value(goal)) for goal in goals)
        for k, floor in zip(inside, _floors(solver, pack, inside, values, found == cp_model.OPTIMAL), strict=True):
            floors[k] = floor
        if found != cp_model.OPTIMAL:
            status = "best found"
            break
        if number + 1 < len(packs):
            for k in inside:
                model.add(goals[k] <= values[k])
            model.clear_hints()  # type: ignore[no-untyped-call]
            for literal in watched:
                model.add_hint(literal, solver.value(literal))
    if last is None:
        return Solved(status, (), tuple(floors), lambda _: False)
    kept = last
    return Solved(status, values, tuple(floors), lambda literal: kept.boolean_value(literal))


def _floors(
    solver: cp_model.CpSolver, pack: Sequence[int], inside: Sequence[int], values: Sequence[int], proven: bool
) -> list[int | None]:
    """Floors of the goals of one call. Of a bound on their weighted sum only the highest goal is told: those after it may
    stand anywhere from 0 to below its weight."""
    if proven:
        return [values[k] for k in inside]
    if not math.isfinite(solver.best_objective_bound):
        return [None for _ in inside]
    first = inside[0]
    floor = math.ceil(solver.best_objective_bound - 1e-6) // pack[first]
    return [min(values[first], floor), *(None for _ in inside[1:])]


def solver_of(time_limit_s: float) -> cp_model.CpSolver:
    """Settings measured on weeks of one runner: a light presolve and full linearisation."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    p = solver.parameters
    p.num_workers = 1
    p.random_seed = SEED
    p.linearization_level = 2
    p.cp_model_probing_level = 0
    p.symmetry_level = 0
    p.max_presolve_iterations = 1
    p.max_deterministic_time = WORK_A_SECOND * time_limit_s
    p.max_time_in_seconds = PATIENCE * time_limit_s + PATIENCE_S
    return solver


@dataclass(frozen=True, slots=True)
class Rows:
    """A linear 0-1 programme in plain whole numbers.

    columns  number of variables
    rows     (least or None, {column: number}, most or None): least <= sum <= most
    goal     {column: number}, minimised
    """

    columns: int
    rows: tuple[tuple[int | None, dict[int, int], int | None], ...]
    goal: dict[int, int]


def solve_rows(programme: Rows, time_limit_s: float = 20.0) -> tuple[Solved, tuple[int, ...]]:
    """(what was found, the columns that are 1) of a plain 0-1 programme, through the same seam as a week."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    x = [model.new_bool_var(f"x{n}") for n in range(programme.columns)]
    for least, row, most in programme.rows:
        total = cp_model.LinearExpr.weighted_sum([x[n] for n in row], list(row.values()))
        low = sum(min(0, c) for c in row.values()) if least is None else least
        high = sum(max(0, c) for c in row.values()) if most is None else most
        model.add_linear_constraint(total, low, high)
    goal = cp_model.LinearExpr.weighted_sum([x[n] for n in programme.goal], list(programme.goal.values()))
    found = solve_in_order(model, [goal], [(1,)], x, time_limit_s)
    return found, tuple(n for n, literal in enumerate(x) if found.values and found.chosen(literal))
