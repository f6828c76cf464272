"""A runner meets only so many new exercises in one week."""

from __future__ import annotations

from ferrule.fit.variables import Variables

NAME = "new exercises a week"


def add(v: Variables) -> None:
    """Lines whose choice is new to the runner <= cap; nothing when last week is not known."""
    if v.problem.new_cap is None:
        return
    new = [v.x[i][a] for i, line in enumerate(v.problem.lines) for a, o in enumerate(line.options) if o.new]
    if len(new) > v.problem.new_cap:
        v.model.add(sum(new) <= v.problem.new_cap).only_enforce_if(v.rule(NAME))
