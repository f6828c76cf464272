"""Some days of the week have neither a run nor a session, where the runner's own runs leave any; less has its price."""

from __future__ import annotations

from ferrule.fit.days import REST_RULE
from ferrule.fit.variables import Variables

NAME = REST_RULE


def add(v: Variables) -> None:
    """lost >= sessions on days without a run - (such days - days to keep): the price of a day lost is the objective's."""
    free, keep = v.problem.free_days, v.problem.rest_days
    if not free or keep <= 0:
        return
    on_free = [
        v.y[s][t]
        for s, session in enumerate(v.problem.sessions)
        for t, slot in enumerate(session.slots)
        if slot.day in free and not session.track
    ]
    v.lost = v.model.new_int_var(0, len(v.problem.sessions), "days lost")
    v.model.add(sum(on_free) - max(0, len(free) - keep) <= v.lost).only_enforce_if(v.rule(NAME))
