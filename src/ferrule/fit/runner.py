"""Fit one runner's week: held, away, fitted or impossible - never silent."""

from __future__ import annotations

from datetime import date
from typing import Final

from ferrule.capacity.observation import mass_of
from ferrule.capacity.prior import prior_capacity
from ferrule.check.course import MOST_WEEKS
from ferrule.fit.build import Laid, build
from ferrule.fit.choices import Setting
from ferrule.fit.effort import Nodes
from ferrule.fit.given import Given
from ferrule.fit.infeasible import impossible, rule_words
from ferrule.fit.lanes import Allowed
from ferrule.fit.problem import Answer
from ferrule.fit.solve import blame, solve
from ferrule.fit.stability import hold_to
from ferrule.fit.week import week_from
from ferrule.model.bound import NO_BOUNDS, Bounds
from ferrule.model.exercise import Library
from ferrule.model.fitted import Away, FittedWeek, Held, Impossible, Outcome, Reason
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Programme
from ferrule.model.squad import Capacity, Runner
from ferrule.programme.weeks import week_of
from ferrule.squad.away import in_week
from ferrule.squad.place import away_words, programme_week

Pinned = frozenset[tuple[str, str]]
NOTHING: Final[Pinned] = frozenset()


def fit_runner(
    programme: Programme, runner: Runner, library: Library, house: House, monday: date,
    last: FittedWeek | None = None, pinned: Pinned = NOTHING, capacity: Capacity | None = None,
    allowed: Allowed | None = None, given: Given | None = None, bounds: Bounds = NO_BOUNDS,
) -> Outcome:  # fmt: skip
    """The week of `monday` for `runner`, or why there is none.

    last    their week before, when one was sent: days and variants are kept where nothing speaks against it
    pinned  lines that keep the text whatever the effort (session key, line key)
    capacity  what is believed of them on that Monday; None when nothing was logged: then the prior
    allowed lanes: (cycle key, session key, line key) -> the variants that line is held to
    given   the copy they already have of this week: what is past stays, the rest changes as little as can be
    bounds  how far lines may go by what the record says
    """
    laid = lay(programme, runner, library, house, monday, last, pinned, capacity, allowed, given, bounds)
    return outcome_of(laid, solve(laid.problem)) if isinstance(laid, Laid) else laid


def lay(
    programme: Programme, runner: Runner, library: Library, house: House, monday: date,
    last: FittedWeek | None = None, pinned: Pinned = NOTHING, capacity: Capacity | None = None,
    allowed: Allowed | None = None, given: Given | None = None, bounds: Bounds = NO_BOUNDS,
) -> Laid | Held | Away:  # fmt: skip
    """The Problem of this runner's week; Held or Away when nothing is to be fitted."""
    held = next((h for h in runner.holds if h.cleared_by is None), None)
    if held is not None:
        return Held(runner.id, runner.name, held.reason)
    weeks = weeks_for(programme, runner)
    number = programme_week(runner, weeks, monday)
    week = None if number is None else week_of(programme, number)
    if week is None or not any(b.items for s in week.sessions for b in s.blocks):
        why = away_words(runner, weeks, monday) or "no session is written for that week"
        return Away(runner.id, runner.name, why)
    runner = in_week(runner, monday)
    setting = setting_of(runner, library, house, monday, is_finding_week(week.week, last), capacity, bounds)
    laid = build(programme, week, setting, last, pinned, allowed)
    return laid if given is None else hold_to(laid, given)


def weeks_for(programme: Programme, runner: Runner) -> int:
    """Weeks there are for this runner: a cycle that goes on until the coach ends it has no last one, but a race has."""
    goes_on = any(c.open_end for c in programme.cycles) and runner.anchor is not None and runner.anchor.kind == "from"
    return max(programme.weeks, MOST_WEEKS) if goes_on else programme.weeks


def setting_of(
    runner: Runner, library: Library, house: House, monday: date, finding: bool, capacity: Capacity | None = None,
    bounds: Bounds = NO_BOUNDS,
) -> Setting:  # fmt: skip
    """What is known of the runner, as the choices need it. capacity: None takes the prior."""
    capacity = capacity_of(runner, monday) if capacity is None else capacity
    margin = house.value("finding-margin-rir") if finding else 0.0
    return Setting(runner, capacity, Nodes.of(capacity), library, house, monday, mass_of(runner), margin, bounds)


def capacity_of(runner: Runner, monday: date) -> Capacity:
    """The belief a fit of this week rests on when nothing was logged."""
    return prior_capacity(runner, monday.year)


def is_finding_week(week: int, last: FittedWeek | None) -> bool:
    """The first week of the programme is a finding week, unless a week before was sent."""
    return week == 1 and last is None


def outcome_of(laid: Laid, answer: Answer) -> FittedWeek | Impossible:
    """A week, unless no session found a time or nothing at all may be done in those that did."""
    runner = laid.setting.runner
    dropped = [s for s, t in enumerate(answer.slot) if t is None]
    kept = [
        i for i, line in enumerate(laid.problem.lines) if line.session not in dropped and answer.option[i] is not None
    ]
    work = [i for i in kept if laid.problem.blocks[laid.problem.lines[i].block].kind not in LIGHT]
    if not work:
        return impossible(laid, answer)
    reasons = {}
    placed = [s for s in range(len(answer.slot)) if s not in dropped]
    for s in dropped:
        rules = blame(laid.problem, [*placed, s])
        reasons[s] = Reason("days", rule_words(rules, runner))
    return week_from(laid, answer, reasons)
