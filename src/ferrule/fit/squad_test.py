"""The whole squad of the demo."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

import pytest

from ferrule.fit.conftest import MONDAY
from ferrule.fit.cycle import fit_cycle
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, Held, Impossible, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Run, Squad


@pytest.fixture(scope="module")
def week(demo: Programme, squad: Squad, library: Library, house: House) -> SquadWeek:
    return fit_squad(demo, squad, library, house, MONDAY)


def test_everybody_has_an_outcome_in_the_order_of_the_squad(week: SquadWeek, squad: Squad) -> None:
    assert [o.runner_id for o in week.outcomes] == [r.id for r in squad.runners]
    held = [o for o in week.outcomes if isinstance(o, Held)]
    assert {h.reason for h in held} == {"pregnant", "health question", "under 18 without consent"}
    fitted = [o for o in week.outcomes if isinstance(o, FittedWeek)]
    assert len(fitted) == len(squad.runners) - len(held) == 21
    assert all(p.proven for o in fitted for p in o.prices)
    assert week.findings == ()


def test_one_impossible_runner_leaves_the_others_fitted(
    demo: Programme, squad: Squad, library: Library, house: House
) -> None:
    """Mon and Fri only, the key run on Tuesday morning, a race on Saturday: no leg work is far enough from any of them."""
    runs = (Run(1, "key", time(6)), Run(3, "easy"), Run(5, "long", time(7, 30)))
    stuck = replace(squad.runners[0], id="S01", days=(0, 4), runs=runs, races=(MONDAY + timedelta(days=5),))
    one, two = squad.runners[:2]
    found = fit_squad(demo, replace(squad, runners=(one, stuck, two)), library, house, MONDAY)
    without = fit_squad(demo, replace(squad, runners=(one, two)), library, house, MONDAY)
    assert isinstance(found.outcomes[1], Impossible)
    assert (found.outcomes[0], found.outcomes[2]) == without.outcomes
    assert [f.code for f in found.findings] == ["no-week"]


def test_a_runner_with_two_days_has_a_proven_week_in_every_week_of_the_demo(
    demo: Programme, squad: Squad, library: Library, house: House
) -> None:
    two = replace(squad, runners=tuple(r for r in squad.runners if r.id == "R22"))
    assert two.runners[0].days == (0, 4)
    for week in fit_cycle(demo, two, library, house, date(2026, 1, 5), 6):
        (only,) = week.outcomes
        assert isinstance(only, FittedWeek)
        assert all(p.proven for p in only.prices)


def test_every_fitted_runner_is_counted_on_every_line_of_their_week(week: SquadWeek) -> None:
    third = [o for o in week.outcomes if isinstance(o, FittedWeek) and o.programme_week == 3]
    line = week.spread[0]
    assert len(line.too_easy) + len(line.right) + len(line.too_hard) + len(line.cannot) >= len(third)


def test_who_moved_is_in_the_read_back_with_the_reason(week: SquadWeek) -> None:
    moved = {(r, s.session_key, s.item_key) for s in week.spread for r, _, _ in s.moved}
    for outcome in week.outcomes:
        if isinstance(outcome, FittedWeek):
            for session in outcome.sessions:
                for item in (i for b in session.blocks for i in b.items if i.departs):
                    assert (outcome.runner_id, session.key, item.item_key) in moved


def test_the_change_budget_gives_the_smallest_gains_back(
    demo: Programme, squad: Squad, library: Library, week: SquadWeek
) -> None:
    few = max(0, week.departures - 5)
    tight = fit_squad(demo, squad, library, House(changed={"changes-a-week": few}), MONDAY)
    assert tight.departures < week.departures
    assert tight.change_budget == few


def test_two_processes_give_the_same_answer(demo: Programme, squad: Squad, library: Library, house: House) -> None:
    some = replace(squad, runners=squad.runners[:4])
    one = fit_squad(demo, some, library, house, MONDAY)
    assert fit_squad(demo, some, library, house, MONDAY, workers=2) == one


def test_progress_is_told_and_any_day_of_the_week_will_do(
    demo: Programme, squad: Squad, library: Library, house: House
) -> None:
    told: list[tuple[int, int, str]] = []
    some = replace(squad, runners=squad.runners[:2])
    fitted = fit_squad(demo, some, library, house, date(2026, 1, 22), progress=lambda *a: told.append(a))
    assert fitted.monday == MONDAY
    assert [t[:2] for t in told] == [(1, 2), (2, 2)]


def test_an_empty_squad_is_an_empty_week(demo: Programme, library: Library, house: House) -> None:
    empty = fit_squad(demo, Squad("squad.csv", ()), library, house, MONDAY)
    assert empty.outcomes == ()
    assert empty.spread == ()
