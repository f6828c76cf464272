"""Re-check a fitted week from the plain data. Shares no code with the model that made it; runs in production."""

from __future__ import annotations

from dataclasses import replace

from ferrule.fit.given import Given
from ferrule.fit.verify.amounts import check_amounts
from ferrule.fit.verify.bounds import check_bounds
from ferrule.fit.verify.effort import check_effort
from ferrule.fit.verify.given import check_given, past_keys
from ferrule.fit.verify.growth import check_growth, check_new
from ferrule.fit.verify.lines import check_lines
from ferrule.fit.verify.objective import check_objective
from ferrule.fit.verify.pairs import check_pairs
from ferrule.fit.verify.place import WrongWeek, here_in, written_week
from ferrule.fit.verify.printed import check_printed
from ferrule.fit.verify.times import check_times
from ferrule.model.bound import NO_BOUNDS, Bounds
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
    given: Given | None = None,
    bounds: Bounds = NO_BOUNDS,
) -> tuple[Finding, ...]:
    """Everything that is wrong with `week`; empty when it may be shown to the coach.

    Checked again: the place in the programme; days, gaps, hours to key runs and races, the rest day; every written
    line present or accounted for; kit, limits, sore places, wishes, loads that can be made, written doses kept, a
    reason for each departure; minutes, foot contacts, one setting of a piece inside a pair; shares, chances and the
    effort of the objective, by another integration; against `last`, the week sent before, no more than a step up, and no more
    than `bounds` allow. Of a
    week that was `given` already, what is past is as it was given, and nothing new lies there or on a lost day.
    """
    try:
        found = written_week(week, programme, runner)
        runner = here_in(week, runner)
    except WrongWeek as wrong:
        return (wrong.finding,)
    past = past_keys(week, found.week, given)
    left = replace(week, sessions=tuple(s for s in week.sessions if s.key not in past))
    written = replace(found.week, sessions=tuple(s for s in found.week.sessions if s.key not in past))
    found_wrong = (
        *check_given(week, past, given),
        *check_times(week, found.times, runner, house, library, past),
        *check_lines(left, written, runner, library, house, capacity),
        *check_amounts(left, written, runner, library, house),
        *check_effort(left, runner, library, capacity),
        *check_printed(left, written, runner, library, house, capacity),
        *check_pairs(left, written, library),
        *(check_new(left, last, written, house) if given is None else ()),
        *check_growth(left, last, written, runner, library, house),
        *check_bounds(left, last, written, runner, library, house, bounds),
    )
    # the price of a week that is wrong already says nothing
    return found_wrong or check_objective(left, found, runner, library, house, capacity)
