"""A line is done with the kit of the site of its day; of a session done at several sites with what all of them have."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from ferrule.fit.problem import times_of
from ferrule.fit.variables import Variables

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

NAME = "kit of the site of that day"


def add(v: Variables) -> None:
    """For the choices of a line that need sites S: no time of its session is elsewhere, and of several sites each has one.

    Adds nothing where the kit is the same on every day.
    """
    p = v.problem
    for i, line in enumerate(p.lines):
        needs: dict[tuple[int, ...], list[cp_model.IntVar]] = defaultdict(list)
        for x, option in zip(v.x[i], line.options, strict=True):
            if option.sites:
                needs[option.sites].append(x)
        for sites, some in needs.items():
            rule = v.rule(NAME)
            at: dict[int, list[cp_model.IntVar]] = defaultdict(list)
            for s in times_of(p, line.session):
                elsewhere = []
                for y, slot in zip(v.y[s], p.sessions[s].slots, strict=True):
                    at[slot.site].append(y)
                    if slot.site >= 0 and slot.site not in sites:
                        elsewhere.append(y)
                if elsewhere:
                    v.model.add(sum(some) + sum(elsewhere) <= 1).only_enforce_if(rule)
            for site in sites if len(sites) > 1 else ():
                v.model.add(sum(some) <= sum(at[site])).only_enforce_if(rule)
