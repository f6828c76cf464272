from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from typing import Literal

import pytest

from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.days import (
    DAYS_RULE,
    HOUR,
    KEY_RULE,
    RACE_RULE,
    RECOVERY_RULE,
    RUN_RULE,
    hours_to_key,
    run_times,
    slots_of,
)
from ferrule.fit.problem import Slot
from ferrule.model.house import House
from ferrule.model.programme import Session
from ferrule.model.squad import Anchor, Run, Runner

EVERY_DAY = tuple(range(7))
SESSION = Session("1", "legs", 30, (), PLACE)


def slots(
    runner: Runner, *, heavy: bool = True, minutes: float = 30, session: Session | None = None
) -> dict[tuple[int, int], Slot]:
    made = slots_of(runner, MONDAY, minutes, heavy, 0, session or SESSION, House(), None)
    return {(s.day, s.at_min % 1440 // HOUR): s for s in made}


def test_the_evening_before_a_key_run_is_kept_free(make_runner: MakeRunner) -> None:
    # Doma and Deakin 2015 (effect seen; 24 h from memory): Tuesday 18:30 shuts Monday after about 18:00.
    found = slots(make_runner(days=EVERY_DAY, runs=(Run(1, "key", time(17)),)))
    assert found[0, 7].blocked == ()
    assert KEY_RULE in found[0, 18].blocked
    assert KEY_RULE in found[1, 7].blocked
    assert found[2, 18].blocked == ()


def test_after_a_morning_key_run_the_evening_is_free(make_runner: MakeRunner) -> None:
    found = slots(make_runner(days=EVERY_DAY, runs=(Run(1, "key", time(6)),)))
    assert found[1, 18].blocked == ()


def test_light_sessions_may_stand_before_a_key_run(make_runner: MakeRunner) -> None:
    runner = make_runner(days=EVERY_DAY, runs=(Run(1, "key", time(18)),))
    assert slots(runner, heavy=False)[0, 18].blocked == ()


def test_six_hours_between_leg_work_and_a_run_on_the_same_day(make_runner: MakeRunner) -> None:
    # Robineau 2016 (seen): 6 h.
    found = slots(make_runner(days=EVERY_DAY, runs=(Run(3, "easy", time(13)),)))
    assert RUN_RULE in found[3, 7].blocked or found[3, 7].at_min + 30 + 6 * HOUR <= 3 * 1440 + 13 * HOUR
    assert RUN_RULE in found[3, 18].blocked


def test_a_race_shuts_two_days_before_it(make_runner: MakeRunner) -> None:
    found = slots(make_runner(days=EVERY_DAY, runs=(), races=(date(2026, 1, 24),)))
    assert RACE_RULE in found[3, 18].blocked
    assert found[2, 18].blocked == ()
    assert RACE_RULE in found[5, 7].blocked


def test_the_race_of_the_anchor_counts(make_runner: MakeRunner) -> None:
    runner = make_runner(days=EVERY_DAY, runs=(), anchor=Anchor("to race", date(2026, 1, 25), PLACE))
    assert RACE_RULE in slots(runner)[5, 18].blocked


def test_days_that_are_not_possible_are_shut(make_runner: MakeRunner) -> None:
    found = slots(make_runner(days=(2,), runs=()))
    assert {day for (day, _), s in found.items() if DAYS_RULE not in s.blocked} == {2}


def test_hours_reach_into_the_next_week(make_runner: MakeRunner) -> None:
    runs = run_times(make_runner(runs=(Run(0, "key", time(18)),)), MONDAY)
    sunday_noon = 6 * 1440 + 12 * HOUR
    assert hours_to_key(sunday_noon, runs) == 30


def test_a_key_run_of_unknown_time_is_at_once(make_runner: MakeRunner) -> None:
    runs = run_times(make_runner(runs=(Run(2, "key"),)), MONDAY)
    assert hours_to_key(2 * 1440 + 10 * HOUR, runs) == 0
    assert hours_to_key(1 * 1440 + 19 * HOUR, runs) == 12


def test_the_coach_s_own_day_and_part_of_the_day_are_dear_to_leave(make_runner: MakeRunner) -> None:
    runner = make_runner(days=EVERY_DAY, runs=())
    own = slots(runner, session=replace(SESSION, day=3, part_of_day="morning"))
    assert min(own.values(), key=lambda s: s.cost).day == 2
    assert own[2, 7].cost < own[2, 18].cost


def test_a_session_joined_to_a_run_may_stand_beside_it(make_runner: MakeRunner) -> None:
    # Skovgaard 2014 and Festa 2019 (programmes reference): strength on the day of a run, on purpose.
    runner = make_runner(days=EVERY_DAY, runs=(Run(3, "easy", time(6, 30)),))
    made = slots_of(runner, MONDAY, 30, True, 0, replace(SESSION, beside_run="after"), House(), None)
    still_on = next(s for s in made if s.at_min == 3 * 1440 + 7 * HOUR)
    assert RUN_RULE in still_on.blocked
    best = min((s for s in made if not s.blocked), key=lambda s: s.cost)
    assert (best.day, best.at_min - 3 * 1440) == (3, 7 * HOUR + 30)


@pytest.mark.parametrize(("beside", "start"), [("after", 7 * HOUR + 30), ("before", 6 * HOUR), ("same day", 6 * HOUR)])
def test_right_after_or_before_the_run_as_written(
    make_runner: MakeRunner, beside: Literal["after", "before", "same day"], start: int
) -> None:
    runner = make_runner(days=EVERY_DAY, runs=(Run(3, "easy", time(6, 30)),))
    made = slots_of(runner, MONDAY, 30, False, 0, replace(SESSION, beside_run=beside), House(), None)
    best = min((s for s in made if not s.blocked), key=lambda s: s.cost)
    assert best.day == 3
    assert best.at_min - 3 * 1440 == start


def test_last_sunday_s_race_shuts_the_days_after_it_to_leg_work(make_runner: MakeRunner) -> None:
    # 48 h from its end (common practice, no source): a race on Sunday at 09:00 of 3 h leaves Tuesday evening.
    runner = make_runner(days=EVERY_DAY, runs=(), races=(date(2026, 1, 18),))
    heavy, light = slots(runner), slots(runner, heavy=False)
    shut = [key for key, s in heavy.items() if RECOVERY_RULE in s.blocked]
    assert shut == [(0, 7), (0, 18), (1, 7)]
    assert all(RECOVERY_RULE not in s.blocked for s in light.values())


def test_a_race_in_the_week_shuts_both_sides_of_it(make_runner: MakeRunner) -> None:
    found = slots(make_runner(days=EVERY_DAY, runs=(), races=(date(2026, 1, 22),)))
    free = [key for key, s in found.items() if not s.blocked]
    assert free == [(0, 7), (0, 18), (1, 7), (5, 18), (6, 7), (6, 18)]


# ---- hard days together or spread: the house's choice


@pytest.mark.parametrize(("together", "day"), [(1, 1), (0, 3)])
def test_hard_days_go_together_or_apart_as_the_house_says(make_runner: MakeRunner, together: int, day: int) -> None:
    # A key run on Tuesday at 06:00; Tuesday evening and Thursday are possible, both far enough from every other run.
    runner = make_runner(days=(1, 3), runs=(Run(1, "key", time(6)),))
    house = House(changed={"hard-days-together": together})
    slots = slots_of(runner, MONDAY, 40, True, 2.0, SESSION, house, None)
    free = [s for s in slots if not s.blocked]
    assert {s.day for s in free} == {1, 3}
    assert min(free, key=lambda s: s.cost).day == day


def test_together_never_lifts_the_hours_between_a_run_and_leg_work(make_runner: MakeRunner) -> None:
    runner = make_runner(days=(1, 3), runs=(Run(1, "key", time(16)),))
    for together in (0, 1):
        house = House(changed={"hard-days-together": together})
        free = [s for s in slots_of(runner, MONDAY, 40, True, 2.0, SESSION, house, None) if not s.blocked]
        assert {s.day for s in free} == {3}


def test_light_sessions_do_not_care(make_runner: MakeRunner) -> None:
    runner = make_runner(days=(1, 3), runs=(Run(1, "key", time(6)),))
    prices = [
        [
            s.cost
            for s in slots_of(runner, MONDAY, 40, False, 2.0, SESSION, House(changed={"hard-days-together": n}), None)
        ]
        for n in (0, 1)
    ]
    assert prices[0] == prices[1]
