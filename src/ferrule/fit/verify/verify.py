"""Re-check a fitted week from the plain data. Shares no code with the model that made it; runs in production."""

from __future__ import annotations

from ferrule.fit.verify.amounts import check_amounts
from ferrule.fit.verify.effort import check_effort
from ferrule.fit.verify.growth import check_growth
from ferrule.fit.verify.lines import check_lines
from ferrule.fit.verify.objective import check_objective
from ferrule.fit.verify.place import WrongWeek, written_week
from ferrule.fit.verify.times import check_times
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Runner


def verify(
    week: FittedWeek,
    programme: Programme,
    runner: Runner,
    library: Library,
    house: House,
    capacity: Capacity,
    last: FittedWeek | None = None,
) -> tuple[Finding, ...]:
    """Everything that is wrong with `week`; empty when it may be shown to the coach.

    Checked again: the place in the programme; days, gaps, hours to key runs and races, the rest day; every written
    line present or accounted for; kit, limits, sore places, wishes, loads that can be made, written doses kept, a
    reason for each departure; minutes, foot contacts, one setting of a piece inside a pair; shares, chances and the
    effort of the objective, by another integration; against `last`, the week sent before, no more than a step up.
    """
    try:
        found = written_week(week, programme, runner)
    except WrongWeek as wrong:
        return (wrong.finding,)
    written = found.week
    return (
        *check_times(week, found.times, runner, house, library),
        *check_lines(week, written, runner, library, house, capacity),
        *check_amounts(week, written, runner, library, house),
        *check_effort(week, runner, library, capacity),
        *check_growth(week, last, written, runner, library, house),
        *check_objective(week, found, runner, library, house, capacity),
    )
