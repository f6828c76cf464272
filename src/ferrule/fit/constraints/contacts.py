"""Foot contacts of a session stay below the house's number."""

from __future__ import annotations

from ferrule.fit.linear import linear
from ferrule.fit.variables import Variables

NAME = "foot contacts of a session"


def add(v: Variables) -> None:
    """Sum of contacts of the chosen options <= cap. Rounds taken away are not counted: the bound errs to fewer contacts."""
    for s in range(len(v.problem.sessions)):
        terms = [
            (v.x[i][a], option.contacts[0])
            for i in v.lines_of(s)
            for a, option in enumerate(v.problem.lines[i].options)
            if option.contacts[0]
        ]
        if terms:
            v.model.add(linear(terms) <= v.problem.contacts).only_enforce_if(v.rule(NAME), v.drop[s].negated())
