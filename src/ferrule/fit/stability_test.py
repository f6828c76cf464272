"""A week fitted again from what the runner already has: what is past stays, the rest changes as little as can be."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import given as some
from hypothesis import strategies as st

from ferrule.fit.build import Laid
from ferrule.fit.changed import changes
from ferrule.fit.conftest import KIT, MONDAY, TEXT, MakeRunner
from ferrule.fit.given import Given, untouched
from ferrule.fit.runner import capacity_of, fit_runner, lay
from ferrule.fit.squad import fit_squad
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Run, Runner, Squad
from ferrule.programme.reader import read_programme
from ferrule.programme.weeks import week_of

TUE, WED, FRI = (MONDAY + timedelta(days=d) for d in (1, 2, 4))


class Fit(tuple[Programme, Library, House]):
    """(programme, library, house), with a short name for the property tests."""

    def __repr__(self) -> str:
        return "fit"


@pytest.fixture(scope="module")
def fit(programme: Programme, library: Library, house: House) -> Fit:
    return Fit((programme, library, house))


def again(runner: Runner, fit: Fit, given: Given | None = None, capacity: Capacity | None = None) -> FittedWeek:
    programme, library, house = fit
    week = fit_runner(programme, runner, library, house, MONDAY, given=given, capacity=capacity)
    assert isinstance(week, FittedWeek), week
    belief = capacity or capacity_of(runner, MONDAY)
    assert verify(week, programme, runner, library, house, belief, None, given) == ()
    return week


def of(week: FittedWeek, key: str) -> FittedSession:
    return next(s for s in week.sessions if s.key == key)


def items(week: FittedWeek) -> dict[tuple[str, str], FittedItem]:
    return {(s.key, i.item_key): i for s in week.sessions for b in s.blocks for i in b.items}


def test_nothing_changed_changes_nothing(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = again(runner, fit)
    for open_from in (MONDAY, WED, MONDAY + timedelta(days=7)):
        new = again(runner, fit, Given(week, open_from))
        assert changes(week, new) == ()
        assert new.sessions == week.sessions


def test_a_lost_day_moves_its_session_and_leaves_every_line(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner(days=(0, 1, 2, 3, 4, 5))
    week = again(runner, fit)
    lost = of(week, "2").day
    new = again(runner, fit, Given(week, lost, frozenset((lost,))))
    told = changes(week, new)
    assert of(new, "2").day > lost
    assert of(new, "1") == of(week, "1")
    assert items(new) == items(week)
    assert told[0].startswith("session 2: ")
    assert all(text.startswith(("session 2: ", "session 3: ")) for text in told)


def test_a_last_session_lost_on_the_last_day_is_left_out_with_a_reason(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = again(runner, fit)
    last = week.sessions[-1].day
    new = again(runner, fit, Given(week, MONDAY + timedelta(days=6), frozenset((last,))))
    assert [s.key for s in new.sessions] == ["1", "2"]
    (text,) = changes(week, new)
    assert text.startswith("session 3 of ")
    assert "left out: no time is left" in text


def test_kit_that_is_gone_changes_its_own_lines_and_no_past_one(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    prior = capacity_of(runner, MONDAY)
    strong = replace(prior, mean_log={g: m + 0.5 for g, m in prior.mean_log.items()})
    week = again(runner, fit, None, strong)
    bare = replace(runner, kit=KIT[:4])
    held = [k for k, i in items(week).items() if i.load is not None]
    assert {k for k, _ in held} >= {"1", "3"}
    new = again(bare, fit, Given(week, of(week, "1").day + timedelta(days=1)), strong)
    assert of(new, "1") == of(week, "1")
    for key, item in items(new).items():
        if key not in held:
            assert replace(item, too_hard=None, too_easy=None) == replace(
                items(week)[key], too_hard=None, too_easy=None
            )
        elif key[0] != "1":
            assert item.load is None


def test_a_belief_that_moved_changes_nothing_that_may_stay(fit: Fit, make_runner: MakeRunner) -> None:
    """Other loads would be nearer to the effort now: that is for next week, not for the week the runner has."""
    runner = make_runner()
    week = again(runner, fit)
    prior = capacity_of(runner, MONDAY)
    more = replace(prior, mean_log={g: m + 0.25 for g, m in prior.mean_log.items()})
    assert changes(week, again(runner, fit, None, more)) != ()
    assert changes(week, again(runner, fit, Given(week, MONDAY), more)) == ()


def test_a_run_that_moved_moves_the_session_it_pushes_away(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = again(runner, fit)
    day = of(week, "3").day
    runs = tuple(r for r in runner.runs if r.kind != "long")
    moved = replace(runner, runs=(*runs, Run((day + timedelta(days=1)).weekday(), "long", time(7))))
    new = again(moved, fit, Given(week, MONDAY))
    told = changes(week, new)
    assert told
    assert all("session 3" in text for text in told)
    assert items(new).keys() <= items(week).keys()
    assert all(items(new)[k] == items(week)[k] for k in items(new))


def test_a_race_that_comes_into_the_week_keeps_what_is_far_from_it(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = again(runner, fit)
    race = MONDAY + timedelta(days=5)
    new = again(replace(runner, races=(race,)), fit, Given(week, MONDAY))
    assert of(new, "1") == replace(of(week, "1"), hours_to_key=of(new, "1").hours_to_key)
    assert all((race - s.day).days >= 2 or s.day > race for s in new.sessions)


def test_a_line_the_coach_edited_reaches_the_runner_and_the_others_stay(
    fit: Fit, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner()
    week = again(runner, fit)
    edited = read_programme(TEXT.replace("Side plank: 20-30 s/side", "Front plank: 20-30 s"), "p.md", library)[0]
    new = again(runner, Fit((edited, library, house)), Given(week, MONDAY))
    assert changes(week, new) == (
        "session 1, B2: Front plank instead of Side plank",
        "session 1, B2: Front plank: 20-30 s instead of 20-30 s/side",
    )


def test_an_edit_is_told_from_the_written_line(fit: Fit, library: Library, make_runner: MakeRunner) -> None:
    week = again(make_runner(), fit)
    edited = read_programme(TEXT.replace("Step-up: 6-8/side, 2 RIR", "Step-up: 6-8/side, 3 RIR"), "p.md", library)[0]
    for programme, same in ((fit[0], True), (edited, False)):
        found = week_of(programme, 3)
        assert found is not None
        step_up = next(i for b in found.sessions[0].blocks for i in b.items if i.key == "A1")
        assert untouched(step_up, items(week)["1", "A1"]) is same
        assert untouched(step_up, replace(items(week)["1", "A1"], line=""))


@settings(max_examples=8, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@some(lost=st.integers(0, 5), minutes=st.sampled_from([30, 38, 45]), pieces=st.integers(4, len(KIT)))
def test_never_more_changes_than_fitting_anew(
    fit: Fit, make_runner: MakeRunner, lost: int, minutes: int, pieces: int
) -> None:
    runner = make_runner()
    week = again(runner, fit)
    changed = replace(runner, minutes=minutes, kit=KIT[:pieces], days=tuple(d for d in runner.days if d != lost))
    anew, kept = again(changed, fit), again(changed, fit, Given(week, MONDAY))
    assert len(kept.sessions) == len(anew.sessions)
    assert len(changes(week, kept)) <= len(changes(week, anew))


def test_a_copy_of_another_programme_week_holds_nothing_but_closes_the_past(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    other = replace(again(runner, fit), programme_week=2)
    new = again(runner, fit, Given(other, WED))
    assert all(s.day >= WED for s in new.sessions)


def test_a_past_session_that_is_changed_is_refused(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    runner = make_runner()
    week = again(runner, fit)
    given = Given(week, TUE)
    belief = capacity_of(runner, MONDAY)
    first = week.sessions[0]
    assert first.day == MONDAY
    for broken in (
        replace(week, sessions=(replace(first, minutes=first.minutes + 5), *week.sessions[1:])),
        replace(week, sessions=week.sessions[1:]),
        replace(week, sessions=(first, replace(week.sessions[1], day=MONDAY), *week.sessions[2:])),
    ):
        found = verify(broken, programme, runner, library, house, belief, None, given)
        assert any("past" in f.what for f in found)


def test_the_squad_is_fitted_again_from_its_copies(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    one, two = make_runner(), make_runner(id="T02")
    squad = Squad("s", (one, two))
    first = fit_squad(programme, squad, library, house, MONDAY)
    given = {o.runner_id: Given(o, WED) for o in first.outcomes if isinstance(o, FittedWeek)}
    second = fit_squad(programme, squad, library, house, MONDAY, given=given)
    assert [f.what for f in second.findings] == []
    for before, after in zip(first.outcomes, second.outcomes, strict=True):
        assert isinstance(before, FittedWeek)
        assert isinstance(after, FittedWeek)
        assert changes(before, after) == ()


def test_days_are_told_as_people_say_them(fit: Fit, make_runner: MakeRunner) -> None:
    week = again(make_runner(), fit)
    first = week.sessions[0]
    moved = replace(week, sessions=(replace(first, day=date(2026, 1, 20), start=time(7)), *week.sessions[1:]))
    assert changes(week, moved)[0].startswith("session 1: Tue 20 January morning (07:00) instead of Mon 19 January")


def test_two_straight_blocks_of_a_session_keep_each_its_own_sets(
    fit: Fit, library: Library, house: House, make_runner: MakeRunner
) -> None:
    straight = (
        "Straight, 2 sets, rest 60 s\n\n- Towel row: 8, 3 RIR\n\nStraight, 4 sets, rest 60 s\n\n- Press-up: 8, 3 RIR\n"
    )
    text = TEXT.split("### Session 1")[0] + "### Session 1: arms, 30 min\n\n" + straight
    programme = read_programme(text, "programme.md", library)[0]
    runner = make_runner()
    week = again(runner, Fit((programme, library, house)))
    laid = lay(programme, runner, library, house, MONDAY, given=Given(week, MONDAY))
    assert isinstance(laid, Laid)
    assert [(rounds[0], block.given) for rounds, block in zip(laid.rounds, laid.problem.blocks, strict=True)] == [
        (2, 0),
        (4, 0),
    ]
