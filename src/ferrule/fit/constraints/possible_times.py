"""A session starts only at a time that no rule of the runner's week forbids."""

from __future__ import annotations

from ferrule.fit.variables import Variables


def add(v: Variables) -> None:
    """A slot forbidden by several rules is free only when all of them are lifted; each rule has its own literal."""
    for s, session in enumerate(v.problem.sessions):
        for t, slot in enumerate(session.slots):
            for name in slot.blocked:
                v.model.add_implication(v.rule(name), v.y[s][t].negated())
