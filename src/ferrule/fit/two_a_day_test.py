"""Two sessions a day, sessions joined to runs, and races at the week's edge, as whole weeks."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.squad import Run, Runner
from ferrule.programme.reader import read_programme

TEXT = """---
programme: Two a day
weeks: 6
---

## Cycle 1, weeks 1-6: One

### Session 1: legs, 30 min{one}

Straight, 3 sets, rest 60 s

- Split squat: 8/side

### Session 2: trunk, 20 min{two}

Straight, 2 sets, rest 60 s

- Front plank: 20 s
"""


def fitted(one: str, two: str, runner: Runner, library: Library, house: House) -> FittedWeek:
    programme, findings = read_programme(TEXT.format(one=one, two=two), "p.md", library)
    assert not [f for f in findings if f.level == "error"], findings
    week = fit_runner(programme, runner, library, house, MONDAY)
    assert isinstance(week, FittedWeek), week
    assert verify(week, programme, runner, library, house, capacity_of(runner, MONDAY)) == ()
    return week


def test_two_sessions_written_for_one_day_stand_morning_and_evening(
    library: Library, house: House, make_runner: MakeRunner
) -> None:
    week = fitted(", Wed morning", ", Wed evening", make_runner(runs=()), library, house)
    assert [(s.day, s.start) for s in week.sessions] == [
        (MONDAY + timedelta(days=2), time(7)), (MONDAY + timedelta(days=2), time(18)),
    ]  # fmt: skip


def test_neighbouring_days_are_the_coach_s_to_write(library: Library, house: House, make_runner: MakeRunner) -> None:
    week = fitted(", Wed", ", Thu", make_runner(runs=()), library, house)
    assert [s.day.weekday() for s in week.sessions] == [2, 3]
    week = fitted("", "", make_runner(runs=()), library, house)
    assert (week.sessions[1].day - week.sessions[0].day).days >= 2


@pytest.mark.parametrize("heavy_first", [True, False])
def test_a_session_after_the_run_starts_when_the_run_is_over(
    library: Library, house: House, make_runner: MakeRunner, heavy_first: bool
) -> None:
    runner = make_runner(runs=(Run(2, "easy", time(17)),), days=(0, 2, 4, 5))
    words = (", after the run", "") if heavy_first else ("", ", after the run")
    week = fitted(*words, runner, library, house)
    joined = week.sessions[0 if heavy_first else 1]
    assert (joined.day.weekday(), joined.start) == (2, time(18))
    runner = make_runner(runs=(Run(2, "easy", time(12, 20)),), days=(0, 2, 4, 5))
    joined = fitted(*words, runner, library, house).sessions[0 if heavy_first else 1]
    assert (joined.day.weekday(), joined.start) == (2, time(13, 30))


def test_a_session_joined_to_a_run_says_where_there_is_none(
    library: Library, house: House, make_runner: MakeRunner
) -> None:
    alone = make_runner(runs=(Run(6, "long", time(9)),), days=(0, 2, 4))
    joined, other = fitted(", after the run", "", alone, library, house).sessions
    assert "written for after the run; none is told for Mon" in [r.text for r in joined.reasons]
    assert not any("the run" in r.text for r in other.reasons)
    beside = make_runner(runs=(Run(2, "easy", time(17)),), days=(0, 2, 4, 5))
    assert not any(
        "the run" in r.text for r in fitted(", after the run", "", beside, library, house).sessions[0].reasons
    )


def test_leg_work_waits_after_last_sunday_s_race(library: Library, house: House, make_runner: MakeRunner) -> None:
    runner = make_runner(runs=(), races=(MONDAY - timedelta(days=1),))
    week = fitted("", "", runner, library, house)
    assert week.sessions[0].day >= MONDAY + timedelta(days=2)
    again = make_runner(runs=(), races=(date(2026, 1, 10),))
    assert fitted("", "", again, library, house).sessions[0].day == MONDAY
