"""The outlook fills both parts for every runner with a week, and changes nothing else."""

from __future__ import annotations

from dataclasses import replace

from ferrule.fit.conftest import MONDAY
from ferrule.fit.outlook import with_outlook
from ferrule.fit.runner import capacity_of
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad


def test_every_week_has_its_regions_and_its_lines(demo: Programme, squad: Squad, library: Library) -> None:
    some = replace(squad, runners=squad.runners[:6])
    week = fit_squad(demo, some, library, House(), MONDAY)
    full = with_outlook(week, demo, some, library, House())
    fitted = {o.runner_id for o in week.outcomes if isinstance(o, FittedWeek)}
    assert set(full.region_loads) == fitted
    assert all(full.region_loads.values())
    assert {r.runner_id for r in full.runs_out} <= fitted
    assert full.runs_out
    assert replace(full, runs_out=(), region_loads={}) == week


def test_what_is_believed_is_what_runs_out(demo: Programme, squad: Squad, library: Library) -> None:
    some = replace(squad, runners=squad.runners[:1])
    runner = some.runners[0]
    prior = capacity_of(runner, MONDAY)
    strong = replace(prior, mean_log={g: m + 1.5 for g, m in prior.mean_log.items()})
    beliefs = {runner.id: strong}
    week = fit_squad(demo, some, library, House(), MONDAY, beliefs=beliefs)
    told = with_outlook(week, demo, some, library, House(), beliefs=beliefs)
    assert told.runs_out != with_outlook(week, demo, some, library, House()).runs_out
    assert told.region_loads != with_outlook(week, demo, some, library, House()).region_loads
