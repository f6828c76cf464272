"""Some days of the week have neither a run nor a session, where the runner's own runs leave any."""

from __future__ import annotations

from ferrule.fit.days import REST_RULE
from ferrule.fit.variables import Variables

NAME = REST_RULE


def add(v: Variables) -> None:
    """Sessions on days without a run <= number of such days - days to keep (0 when there are too few such days)."""
    free, keep = v.problem.free_days, v.problem.rest_days
    if not free or keep <= 0:
        return
    on_free = [
        v.y[s][t]
        for s, session in enumerate(v.problem.sessions)
        for t, slot in enumerate(session.slots)
        if slot.day in free
    ]
    v.model.add(sum(on_free) <= max(0, len(free) - keep)).only_enforce_if(v.rule(NAME))
