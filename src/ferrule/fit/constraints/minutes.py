"""A session is no longer than its limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ferrule.fit.linear import linear
from ferrule.fit.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

NAME = "minutes of a session"


def block_s(v: Variables, block: int, reduction: int) -> cp_model.LinearExpr:
    """Seconds of a block when `reduction` of its rounds are taken away, linear in the choices."""
    own = v.problem.blocks[block].reductions[reduction][1]
    terms = [
        (x, option.line_s[reduction])
        for row, line in zip(v.x, v.problem.lines, strict=True)
        if line.block == block
        for x, option in zip(row, line.options, strict=True)
    ]
    return linear(terms) + own


def session_s(v: Variables, session: int) -> cp_model.LinearExpr:
    """Seconds of a session. Each block's seconds are at least those of the reduction that is chosen."""
    total = []
    for b in v.blocks_of(session):
        longest = max(
            sum(max((o.line_s[0] for o in line.options), default=0) for line in v.problem.lines if line.block == b)
            + v.problem.blocks[b].reductions[0][1],
            0,
        )
        if len(v.cut[b]) == 1:
            total.append(block_s(v, b, 0))
            continue
        seconds = v.model.new_int_var(0, longest, f"seconds{b}")
        for k, cut in enumerate(v.cut[b]):
            v.model.add(seconds >= block_s(v, b, k)).only_enforce_if(cut)
        total.append(seconds)
    return sum(total)  # type: ignore[return-value]


def add(v: Variables) -> None:
    """session seconds <= limit;  `over` counts the seconds above the promise for the objective."""
    for s, session in enumerate(v.problem.sessions):
        seconds = session_s(v, s)
        v.model.add(seconds <= session.limit_s).only_enforce_if(v.rule(NAME), v.drop[s].negated())
        slack = max(0, session.limit_s - session.promised_s)
        over = v.model.new_int_var(0, slack, f"over{s}")
        v.model.add(over >= seconds - session.promised_s).only_enforce_if(v.rule(NAME), v.drop[s].negated())
        v.over.append(over)
