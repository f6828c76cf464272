from __future__ import annotations

from datetime import date, time

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import fit_runner
from ferrule.fit.week import session_uid, written_words
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Dose, Item, Named, Programme, Slot
from ferrule.model.squad import Anchor, Run, Runner

Fit = tuple[Programme, Library, House]


@pytest.fixture(scope="module")
def fit(programme: Programme, library: Library, house: House) -> Fit:
    return programme, library, house


def week_of(fit: Fit, runner: Runner, monday: date = MONDAY) -> FittedWeek:
    found = fit_runner(fit[0], runner, fit[1], fit[2], monday)
    assert isinstance(found, FittedWeek)
    return found


def test_uids_stay_the_same_across_refits_and_differ_between_weeks(fit: Fit, make_runner: MakeRunner) -> None:
    first, again = week_of(fit, make_runner()), week_of(fit, make_runner(days=(0, 3, 5)))
    assert [s.uid for s in first.sessions] == [s.uid for s in again.sessions]
    assert session_uid("R01", "Ridge legs", 3, "1") != session_uid("R01", "Ridge legs", 4, "1")
    assert " " not in session_uid("R 01", "Ridge legs, six weeks", 3, "1")


def test_what_to_fetch_is_what_is_used(fit: Fit, make_runner: MakeRunner) -> None:
    for session in week_of(fit, make_runner(level="strong")).sessions:
        pieces = {p for b in session.blocks for i in b.items if i.load for p in i.load.pieces}
        assert pieces <= set(session.fetch)
        assert len(set(session.fetch)) == len(session.fetch)


def test_the_finding_week_asks_for_more_in_reserve_and_says_so(fit: Fit, make_runner: MakeRunner) -> None:
    new = make_runner(anchor=Anchor("from", MONDAY, Span("squad.csv", 2)))
    finding, later = week_of(fit, new), week_of(fit, make_runner())
    assert finding.finding_week
    assert not later.finding_week
    dosed = [i for s in finding.sessions for b in s.blocks if b.kind != "warm-up" for i in b.items if i.rir]
    assert dosed
    assert all(i.ask_effort and any(r.code == "finding week" for r in i.reasons) for i in dosed)


def test_a_start_is_printed_only_where_one_time_of_the_day_is_shut(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner(days=(0, 3), runs=(Run(1, "key", time(12)),))
    monday, thursday = week_of(fit, runner).sessions
    assert monday.start == time(7)
    assert thursday.start is None
    assert monday.hours_to_key is not None
    assert 28 < monday.hours_to_key < 29


def test_the_shorter_of_two_promises_is_kept(fit: Fit, make_runner: MakeRunner) -> None:
    week = week_of(fit, make_runner(minutes=15))
    assert all(s.minutes <= 15 + fit[2].value("minutes-over") for s in week.sessions)
    said = [r.text for s in week.sessions for r in s.reasons if r.code == "minutes"]
    assert any("instead of" in text or "left out" in text for text in said)


def test_words_of_a_line() -> None:
    place = Span("programme.md", 1)
    assert written_words(Item("A", Slot("hinge", 1), Dose(), place)) == "any hinge, one leg"
    assert written_words(Item("A", Named("Step-up", "step-up"), Dose(), place)) == "Step-up"
