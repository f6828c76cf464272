"""Sessions keep the order of the text and a least time between them, counted in whole days of 24 h."""

from __future__ import annotations

from ferrule.fit.days import DAY, GAP_RULE
from ferrule.fit.variables import Variables

NAME = GAP_RULE


def add(v: Variables) -> None:
    """For two sessions s before s': 24 h * (day' - day) >= gap, unless one is dropped.

    The time of day is left to the runner where both are free, so it does not count. Written over pairs of slots:
    those too near, or in the wrong order, exclude each other.
    """
    sessions = v.problem.sessions
    rule = v.rule(NAME)
    for s in range(len(sessions)):
        for u in range(s + 1, len(sessions)):
            for t, slot in enumerate(sessions[s].slots):
                near = [
                    v.y[u][w]
                    for w, other in enumerate(sessions[u].slots)
                    if (other.day - slot.day) * DAY < v.problem.gap_min
                ]
                if near:
                    v.model.add(v.y[s][t] + sum(near) <= 1).only_enforce_if(rule)
