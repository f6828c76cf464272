"""One runner's week through the solver's seam: a Problem in, an Answer out; and which rules clash when none is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ferrule.fit.constraints import ALL
from ferrule.fit.objective import levels, weights
from ferrule.fit.problem import Answer, Problem
from ferrule.fit.seam import Solved, solve_in_order, solver_of
from ferrule.fit.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

PACKS: tuple[tuple[int, ...], ...] = ((0, 1, 2, 3), (4, 5, 6))
"""Levels packed into one objective each: weights leave no overlap, so a pack is lexicographic (objective_test.py)."""


def solve(problem: Problem, time_limit_s: float = 20.0) -> Answer:
    """The lexicographic optimum of `problem`: deterministic, one thread.

    The ground state (everything omitted, every session dropped) always exists, so there is always an answer.
    `proven` is False when the time limit stopped a level early; the answer is then the best one found, and `floors` say
    how much better each level could still be.
    """
    from ortools.sat.python import cp_model

    v = _model(cp_model.CpModel(), problem)
    for literal in v.rules.values():
        v.model.add(literal == 1)
    exprs = levels(v)
    calls = []
    for pack in PACKS:
        packed = dict(zip(pack, weights(problem, pack), strict=True))
        calls.append([packed.get(k, 0) for k in range(len(exprs))])
    watched = [literal for row in [*v.x, *v.cut, *v.y, v.omit, v.drop] for literal in row]
    found = solve_in_order(v.model, exprs, calls, watched, time_limit_s)
    return _answer(v, found) if found.values else _ground(problem)


def _ground(problem: Problem) -> Answer:
    """Everything omitted, every session dropped: what is left when no time was given at all."""
    lines, sessions = len(problem.lines), len(problem.sessions)
    text = sum(x.omit for x in problem.lines) + sum(s.drop for s in problem.sessions)
    levels = (text, sum(x.moved for x in problem.lines), 0, 0, 0, 0, 0)
    return Answer((None,) * lines, (0,) * len(problem.blocks), (None,) * sessions, levels, False, (0,) * len(levels))


def _model(model: cp_model.CpModel, problem: Problem) -> Variables:
    v = Variables(model, problem)
    for add in ALL:
        add(v)
    return v


def _answer(v: Variables, found: Solved) -> Answer:
    def chosen(row: Sequence[cp_model.IntVar]) -> int | None:
        return next((i for i, literal in enumerate(row) if found.chosen(literal)), None)

    return Answer(
        option=tuple(chosen(row) for row in v.x),
        reduction=tuple(chosen(row) or 0 for row in v.cut),
        slot=tuple(chosen(row) for row in v.y),
        levels=found.values,
        proven=found.proven,
        floors=tuple(max(0, floor or 0) for floor in found.floors),  # no level is below 0
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
        solver = solver_of(5.0)
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
