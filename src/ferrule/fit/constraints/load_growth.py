"""From one week to the next what we choose grows by one step at most; what the coach wrote is the coach's."""

from __future__ import annotations

from ferrule.fit.variables import Variables

NAME = "load growth a week"


def add(v: Variables) -> None:
    """A choice more than a step above last week's is not made. Which ones are: `fit/growth.py`."""
    for i, line in enumerate(v.problem.lines):
        for a, option in enumerate(line.options):
            if option.grown:
                v.model.add_implication(v.rule(NAME), v.x[i][a].negated())
