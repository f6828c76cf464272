"""The levels of the objective, lexicographic: each is minimised with all before it held at their optimum."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ferrule.fit.problem import Problem, slot_tie
from ferrule.fit.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SHORTFALL = 400
"""Price of one group worked once instead of twice: more than any swap of an exercise, less than a dropped line (ours)."""
DAY_LOST = 1000
"""Price of a rest day that the week does not have: more than any swap, less than a session (ours)."""


def levels(v: Variables) -> list[cp_model.LinearExpr]:
    """One linear expression a level, in the order of `problem.LEVELS`."""
    p = v.problem
    options = [(v.x[i][a], option) for i, line in enumerate(p.lines) for a, option in enumerate(line.options)]
    slots = [(v.y[s][t], slot) for s, session in enumerate(p.sessions) for t, slot in enumerate(session.slots)]
    text = sum(o.text * x for x, o in options) + sum(line.omit * v.omit[i] for i, line in enumerate(p.lines))
    text += sum(session.drop * v.drop[s] for s, session in enumerate(p.sessions))
    text += sum(cost * v.cut[b][k] for b, block in enumerate(p.blocks) for k, (cost, _) in enumerate(block.reductions))
    text += sum(SHORTFALL * short for short in v.short)
    if v.lost is not None:
        text += DAY_LOST * v.lost
    moved = sum(o.moved * x for x, o in options) + sum(line.moved * v.omit[i] for i, line in enumerate(p.lines))
    moved += sum(slot.moved * y for y, slot in slots)
    cuts = [(b, k, block.given) for b, block in enumerate(p.blocks) for k in range(len(block.reductions))]
    moved += sum(v.cut[b][k] for b, k, given in cuts if given is not None and k != given)
    over = sum(v.over)
    effort = sum(o.effort * x for x, o in options)
    days = sum(slot.cost * y for y, slot in slots)
    same = sum(o.same * x for x, o in options) + sum(slot.same * y for y, slot in slots)
    order = sum(o.tie * x for x, o in options) + sum(
        slot_tie(s, t) * y for s, row in enumerate(v.y) for t, y in enumerate(row)
    )
    return [text, moved, over, effort, days, same, order]  # type: ignore[list-item]


def bounds(problem: Problem) -> tuple[int, ...]:
    """Least upper bounds of each level that are quick to work out, in the order of the levels."""
    lines = problem.lines
    text = sum(max([line.omit, *(o.text for o in line.options)]) for line in lines)
    text += sum(s.drop + DAY_LOST for s in problem.sessions) + 2 * SHORTFALL * len(problem.cover)
    text += sum(max(cost for cost, _ in b.reductions) for b in problem.blocks)
    moved = sum(max([line.moved, *(o.moved for o in line.options)]) for line in lines)
    moved += sum(max((t.moved for t in s.slots), default=0) for s in problem.sessions)
    moved += sum(b.given is not None for b in problem.blocks)
    over = sum(max(0, s.limit_s - s.promised_s) for s in problem.sessions)
    effort = sum(max((o.effort for o in line.options), default=0) for line in lines)
    days = sum(max((t.cost for t in s.slots), default=0) for s in problem.sessions)
    same = len(lines) + 2 * len(problem.sessions)
    order = sum(max((o.tie for o in line.options), default=0) for line in lines)
    order += sum(max((slot_tie(s, t) for t in range(len(x.slots))), default=0) for s, x in enumerate(problem.sessions))
    return text, moved, over, effort, days, same, order


def weights(problem: Problem, pack: Sequence[int]) -> list[int]:
    """Weights that make the packed sum lexicographic: each is one more than all the levels after it can reach."""
    most = bounds(problem)
    out = [1]
    for k in reversed(pack[1:]):
        out.append(out[-1] * (most[k] + 1))
    return out[::-1]
