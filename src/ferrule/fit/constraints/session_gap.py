"""Sessions keep the order of the text and a least time between them."""

from __future__ import annotations

from ferrule.fit.days import GAP_RULE
from ferrule.fit.problem import too_near
from ferrule.fit.variables import Variables

NAME = GAP_RULE


def add(v: Variables) -> None:
    """For two sessions s before s' of one track: 24 h * (day' - day) >= gap, unless one is dropped.

    The time of day is left to the runner where both are free, so it does not count for gaps of a day and more. Written
    over pairs of slots: those that are `too_near` exclude each other.
    """
    sessions = v.problem.sessions
    rule = v.rule(NAME)
    for s in range(len(sessions)):
        for u in range(s + 1, len(sessions)):
            for t, slot in enumerate(sessions[s].slots):
                near = [
                    v.y[u][w]
                    for w, other in enumerate(sessions[u].slots)
                    if too_near(sessions[s], slot, sessions[u], other)
                ]
                if near:
                    v.model.add(v.y[s][t] + sum(near) <= 1).only_enforce_if(rule)
