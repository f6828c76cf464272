"""The levels of the objective, lexicographic: each is minimised with all before it held at their optimum."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ferrule.fit.linear import linear
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
    options = [(x, o) for row, line in zip(v.x, p.lines, strict=True) for x, o in zip(row, line.options, strict=True)]
    slots = [(y, t) for row, s in zip(v.y, p.sessions, strict=True) for y, t in zip(row, s.slots, strict=True)]
    left_out = list(zip(v.omit, p.lines, strict=True))
    cuts = [(cut, k, b) for row, b in zip(v.cut, p.blocks, strict=True) for k, cut in enumerate(row)]
    text = [(x, o.text) for x, o in options] + [(omit, line.omit) for omit, line in left_out]
    text += [(drop, session.drop) for drop, session in zip(v.drop, p.sessions, strict=True)]
    text += [(cut, b.reductions[k][0]) for cut, k, b in cuts]
    text += [(short, SHORTFALL) for short in v.short]
    if v.lost is not None:
        text.append((v.lost, DAY_LOST))
    moved = [(x, o.moved) for x, o in options] + [(omit, line.moved) for omit, line in left_out]
    moved += [(y, t.moved) for y, t in slots]
    moved += [(cut, 1) for cut, k, b in cuts if b.given is not None and k != b.given]
    over = [(o, 1) for o in v.over]
    effort = [(x, o.effort) for x, o in options]
    days = [(y, t.cost) for y, t in slots]
    same = [(x, o.same) for x, o in options] + [(y, t.same) for y, t in slots]
    order = [(x, o.tie) for x, o in options]
    order += [(y, slot_tie(s, t)) for s, row in enumerate(v.y) for t, y in enumerate(row)]
    return [linear(terms) for terms in (text, moved, over, effort, days, same, order)]


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
