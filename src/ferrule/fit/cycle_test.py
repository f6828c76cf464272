"""Whole cycles: weeks chained, a line keeps its exercise, and what changes says why."""

from __future__ import annotations

from datetime import timedelta

import pytest

from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.cycle import MOST_WEEKS, RunnerCycle, cycles_of, fit_cycle
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, Squad

START = MONDAY - timedelta(weeks=2)


@pytest.fixture(scope="module")
def weeks(demo: Programme, squad: Squad, library: Library, house: House) -> tuple[SquadWeek, ...]:
    few = Squad(squad.file, squad.runners[:8])
    return fit_cycle(demo, few, library, house, START, 6)


def every(weeks: tuple[SquadWeek, ...]) -> list[RunnerCycle]:
    ids = dict.fromkeys(o.runner_id for w in weeks for o in w.outcomes)
    return [c for i in ids for c in cycles_of(weeks, i)]


def test_each_week_is_the_fit_after_the_one_before(
    weeks: tuple[SquadWeek, ...], demo: Programme, squad: Squad, library: Library, house: House
) -> None:
    few = Squad(squad.file, squad.runners[:8])
    before = {o.runner_id: o for o in weeks[1].outcomes if isinstance(o, FittedWeek)}
    assert weeks[2] == fit_squad(demo, few, library, house, MONDAY, last=before)
    assert [w.monday for w in weeks] == [START + timedelta(weeks=n) for n in range(6)]


def test_a_line_keeps_its_exercise_inside_a_cycle_unless_a_reason_is_given(weeks: tuple[SquadWeek, ...]) -> None:
    for cycle in every(weeks):
        for line in cycle.lines:
            for before, after in zip(line.cells, line.cells[1:], strict=False):
                if before is not None and after is not None and not after.kept:
                    assert after.reasons or after.name == line.written, (cycle.runner_id, line)


def test_slots_are_kept_through_the_cycle(weeks: tuple[SquadWeek, ...]) -> None:
    slots = [line for c in every(weeks) for line in c.lines if line.written.startswith("any ")]
    assert slots
    assert all(line.changes == 0 for line in slots)


def test_few_lines_change_inside_a_cycle(weeks: tuple[SquadWeek, ...]) -> None:
    lines = [line for c in every(weeks) for line in c.lines]
    steps = sum(max(0, sum(c is not None for c in line.cells) - 1) for line in lines)
    assert sum(line.changes for line in lines) <= 0.03 * steps  # the dose changes by week, and one exercise with it


def test_cycles_are_parted_and_the_change_over_is_told(weeks: tuple[SquadWeek, ...]) -> None:
    for runner in {o.runner_id for o in weeks[0].outcomes if isinstance(o, FittedWeek)}:
        first, second = cycles_of(weeks, runner)
        assert (first.weeks, second.weeks) == ((1, 2, 3), (4, 5, 6))
        assert (first.gone, first.new) == ((), ())
        assert second.new or second.gone
        inside = {c.name for line in second.lines for c in line.cells[:1] if c is not None}
        assert set(second.new) <= inside
        assert not set(second.gone) & inside


def test_a_runner_who_joins_later_has_the_weeks_that_are_theirs(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    late = make_runner(anchor=Anchor("from", START + timedelta(weeks=1), PLACE))
    out = fit_cycle(programme, Squad("s.csv", (late,)), library, house, START, 3)
    assert [c.weeks for c in cycles_of(out, late.id)] == [(1, 2)]


@pytest.mark.parametrize("n", [0, MOST_WEEKS + 1])
def test_as_many_weeks_as_there_are(n: int, programme: Programme, library: Library, house: House) -> None:
    with pytest.raises(ValueError, match="from 1 to 52 weeks"):
        fit_cycle(programme, Squad("s.csv", ()), library, house, START, n)


def test_progress_counts_runner_weeks(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    seen = []
    squad = Squad("s.csv", (make_runner(), make_runner(id="T02")))
    fit_cycle(programme, squad, library, house, START, 2, progress=lambda done, of, _: seen.append((done, of)))
    assert seen == [(1, 4), (2, 4), (3, 4), (4, 4)]
