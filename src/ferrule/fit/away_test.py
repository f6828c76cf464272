"""Time away in the fit: the days and the kit of that week, and the verifier's own reading of both."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import Away, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Absence, Anchor, KitItem, Runner


def laid(runner: Runner, programme: Programme, library: Library, house: House, monday: date) -> FittedWeek:
    week = fit_runner(programme, runner, library, house, monday)
    assert isinstance(week, FittedWeek), week
    assert verify(week, programme, runner, library, house, capacity_of(runner, monday)) == ()
    return week


def test_a_week_away_is_no_week_and_the_next_goes_on_where_it_stopped(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    second = MONDAY + timedelta(weeks=1)
    away = (Absence(MONDAY, MONDAY + timedelta(days=6)),)
    runner = replace(make_runner(), anchor=Anchor("from", MONDAY, PLACE), away=away)
    out = fit_runner(programme, runner, library, house, MONDAY)
    assert out == Away(runner.id, runner.name, f"away until {MONDAY + timedelta(days=6)}")
    week = laid(runner, programme, library, house, second)
    assert week.programme_week == 1
    found = verify(replace(week, programme_week=2), programme, runner, library, house, capacity_of(runner, second))
    assert [f.code for f in found] == ["verify-place"]
    there = replace(runner, away=())
    found = verify(week, programme, there, library, house, capacity_of(runner, second))
    assert [f.code for f in found] == ["verify-place"], "without the time away it is another week"


def test_nothing_lies_on_a_day_that_is_lost(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    lost = (Absence(MONDAY + timedelta(days=4), MONDAY + timedelta(days=6)),)
    runner = make_runner()
    runner = replace(runner, away=lost)
    week = laid(runner, programme, library, house, MONDAY)
    assert all(s.day < MONDAY + timedelta(days=4) for s in week.sessions)
    late = replace(runner, away=(Absence(MONDAY, MONDAY + timedelta(days=3)),))
    found = verify(week, programme, late, library, house, capacity_of(runner, MONDAY))
    assert any(f.code.startswith("verify-") for f in found), "on days that are lost"


def test_the_kit_that_is_at_hand_and_no_other(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = replace(make_runner(), away=(Absence(MONDAY, MONDAY + timedelta(days=6), (KitItem("mat"),)),))
    week = laid(runner, programme, library, house, MONDAY)
    assert not [p for s in week.sessions for b in s.blocks for i in b.items if i.load for p in i.load.pieces]
    at_home = fit_runner(programme, replace(runner, away=()), library, house, MONDAY)
    assert isinstance(at_home, FittedWeek)
    found = verify(at_home, programme, runner, library, house, capacity_of(runner, MONDAY))
    assert any("needs step" in f.what for f in found), found
