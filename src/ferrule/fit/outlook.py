"""What the coach reads beside the squad's week: what runs out, and what each week asks of the body by region."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ferrule.capacity.observation import mass_of
from ferrule.fit.region_load import region_loads
from ferrule.fit.runner import capacity_of
from ferrule.fit.runs_out import runs_out
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Squad


def with_outlook(
    week: SquadWeek, programme: Programme, squad: Squad, library: Library, house: House, *,
    beliefs: Mapping[str, Capacity] | None = None,
) -> SquadWeek:  # fmt: skip
    """The same squad week with `runs_out` and `region_loads` filled in; beliefs as given to `fit_squad`."""
    runners = {r.id: r for r in squad.runners}
    loads = {}
    for one in week.outcomes:
        if isinstance(one, FittedWeek) and one.runner_id in runners:
            runner = runners[one.runner_id]
            capacity = (beliefs or {}).get(runner.id) or capacity_of(runner, one.monday)
            loads[runner.id] = region_loads(one, library, house, capacity, mass_of(runner))
    out = runs_out(programme, squad, week, library, house, beliefs=beliefs)
    return replace(week, runs_out=out, region_loads=loads)
