"""The seam to the solver: a Problem in, an Answer out. CP-SAT is imported here only, and late."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ferrule.fit.constraints import ALL
from ferrule.fit.objective import levels, weights
from ferrule.fit.problem import Answer, Problem
from ferrule.fit.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SEED = 20260105
PACKS: tuple[tuple[int, ...], ...] = ((0, 1, 2), (3, 4, 5))
"""Levels packed into one objective each: weights leave no overlap, so a pack is lexicographic (objective_test.py)."""


def solve(problem: Problem, time_limit_s: float = 20.0) -> Answer:
    """The lexicographic optimum of `problem`: deterministic, one thread.

    The ground state (everything omitted, every session dropped) always exists, so there is always an answer.
    `proven` is False when the time limit stopped a level early; the answer is then the best one found.
    """
    from ortools.sat.python import cp_model

    v = _model(cp_model.CpModel(), problem)
    for literal in v.rules.values():
        v.model.add(literal == 1)
    exprs = levels(v)
    values = [0] * len(exprs)
    proven = True
    best: Answer | None = None
    solver = _solver(time_limit_s)
    for number, pack in enumerate(PACKS):
        packed = weights(problem, pack)
        goal = sum(w * exprs[k] for w, k in zip(packed, pack, strict=True))
        v.model.minimize(goal)
        status = solver.solve(v.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return best or _ground(problem)
        proven = proven and status == cp_model.OPTIMAL
        for k, expr in enumerate(exprs):
            values[k] = int(solver.value(expr))
        best = _answer(v, solver, values, proven and number + 1 == len(PACKS))
        if number + 1 < len(PACKS):
            for k in pack:
                v.model.add(exprs[k] <= values[k])
            _hint(v, solver)
    assert best is not None  # there is at least one pack
    return best


def _ground(problem: Problem) -> Answer:
    """Everything omitted, every session dropped: what is left when no time was given at all."""
    lines, sessions = len(problem.lines), len(problem.sessions)
    text = sum(x.omit for x in problem.lines) + sum(s.drop for s in problem.sessions)
    return Answer((None,) * lines, (0,) * len(problem.blocks), (None,) * sessions, (text, 0, 0, 0, 0, 0), False)


def _model(model: cp_model.CpModel, problem: Problem) -> Variables:
    v = Variables(model, problem)
    for add in ALL:
        add(v)
    return v


def _solver(time_limit_s: float) -> cp_model.CpSolver:
    """Settings measured on weeks of this shape: a light presolve and full linearisation."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    p = solver.parameters
    p.num_workers = 1
    p.random_seed = SEED
    p.linearization_level = 2
    p.cp_model_probing_level = 0
    p.symmetry_level = 0
    p.max_presolve_iterations = 1
    p.max_time_in_seconds = time_limit_s
    return solver


def _hint(v: Variables, solver: cp_model.CpSolver) -> None:
    v.model.clear_hints()  # type: ignore[no-untyped-call]
    for row in [*v.x, *v.cut, *v.y, v.omit, v.drop]:
        for literal in row:
            v.model.add_hint(literal, solver.value(literal))


def _answer(v: Variables, solver: cp_model.CpSolver, values: Sequence[int], proven: bool) -> Answer:
    def chosen(row: Sequence[cp_model.IntVar]) -> int | None:
        return next((i for i, literal in enumerate(row) if solver.boolean_value(literal)), None)

    return Answer(
        option=tuple(chosen(row) for row in v.x),
        reduction=tuple(chosen(row) or 0 for row in v.cut),
        slot=tuple(chosen(row) for row in v.y),
        levels=tuple(values),
        proven=proven,
    )


def blame(problem: Problem, sessions: Sequence[int], lines: Sequence[int] = ()) -> tuple[str, ...]:
    """Names of a smallest set of rules that together keep `sessions` (and `lines`) out; empty when nothing does.

    Solved again without an objective, the rules as assumptions; the core is thinned by leaving out one rule at a time.
    Times are asked for alone first, for they are the usual reason and a small model.
    """
    if problem.lines and not lines:
        times = blame(replace(problem, lines=(), blocks=(), cover=()), sessions)
        if times:
            return times
    from ortools.sat.python import cp_model

    def clashes(names: Sequence[str]) -> tuple[str, ...] | None:
        v = _model(cp_model.CpModel(), problem)
        for s in sessions:
            v.model.add(v.drop[s] == 0)
        for i in lines:
            v.model.add(v.omit[i] == 0)
        held = [n for n in v.rules if n in names] if names else list(v.rules)
        v.model.add_assumptions([v.rules[n] for n in held])
        solver = _solver(5.0)
        if solver.solve(v.model) != cp_model.INFEASIBLE:
            return None
        core = set(solver.sufficient_assumptions_for_infeasibility())
        return tuple(n for n in held if v.rules[n].index in core)

    core = clashes(())
    if not core:
        return ()
    for name in core:
        fewer = tuple(n for n in core if n != name)
        if fewer and (again := clashes(fewer)):
            core = again
    return core
