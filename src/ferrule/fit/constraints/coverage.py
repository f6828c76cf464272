"""A group that the text works in two sessions is worked in two, or the shortfall has its price."""

from __future__ import annotations

from ferrule.fit.variables import Variables

NAME = "groups worked twice stay at twice"
TIMES = 2


def add(v: Variables) -> None:
    """short[g] >= 2 - sessions that are kept and work g."""
    rule = v.rule(NAME)
    for group in v.problem.cover:
        worked = []
        for s in range(len(v.problem.sessions)):
            on = [
                v.x[i][a]
                for i in v.lines_of(s)
                for a, option in enumerate(v.problem.lines[i].options)
                if option.group == group
            ]
            if not on:
                continue
            works = v.model.new_bool_var(f"works {group} {s}")
            v.model.add(works <= sum(on))
            v.model.add(works + v.drop[s] <= 1)
            worked.append(works)
        short = v.model.new_int_var(0, TIMES, f"short {group}")
        v.model.add(short >= TIMES - sum(worked)).only_enforce_if(rule)
        v.short.append(short)
