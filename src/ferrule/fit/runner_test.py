"""One runner's week on the demo programme: limits kept, the text kept, and the known bad optima."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.fit.conftest import KIT, MONDAY, PLACE, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import Away, FittedItem, FittedWeek, Held, Impossible
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.quantity import Range
from ferrule.model.squad import Anchor, FieldTest, Hold, KitItem, Limit, Run, Runner, Sore, Wish
from ferrule.model.words import REGION_GROUPS, Level4
from ferrule.programme.weeks import week_of


class Fit(tuple[Programme, Library, House]):
    """(programme, library, house), with a short name for the property tests."""

    def __repr__(self) -> str:
        return "fit"


def fitted(runner: Runner, fit: Fit, monday: date = MONDAY, last: FittedWeek | None = None) -> FittedWeek:
    programme, library, house = fit
    week = fit_runner(programme, runner, library, house, monday, last)
    assert isinstance(week, FittedWeek), week
    assert verify(week, programme, runner, library, house, capacity_of(runner, monday)) == ()
    return week


def items(week: FittedWeek) -> list[FittedItem]:
    return [i for s in week.sessions for b in s.blocks for i in b.items]


@pytest.fixture(scope="module")
def fit(programme: Programme, library: Library, house: House) -> Fit:
    return Fit((programme, library, house))


def test_a_week_is_proven_optimal_and_passes_the_verifier(fit: Fit, make_runner: MakeRunner) -> None:
    week = fitted(make_runner(), fit)
    assert len(week.sessions) == 3
    assert all(p.proven for p in week.prices)


def test_every_departure_says_why(fit: Fit, make_runner: MakeRunner) -> None:
    for level in ("never", "strong"):
        for item in items(fitted(make_runner(level=level), fit)):
            named = item.name != item.written and not item.written.startswith("any ")
            assert not named or item.reasons


def test_without_kit_nothing_is_carried_or_stepped_on(fit: Fit, make_runner: MakeRunner) -> None:
    week = fitted(make_runner(kit=()), fit)
    assert all(i.load is None for i in items(week))
    assert all(not set(fit[1].variants[i.variant_id].kit) - {"wall", "towel", "mat"} for i in items(week))


def test_a_limit_is_kept_in_every_line_the_warm_up_included(fit: Fit, make_runner: MakeRunner) -> None:
    example = fit[1].variants["heel-raise-two-legs"]
    limit = Limit("calf", "left", example.id, date(2026, 3, 12), "physiotherapist", "left calf: ...", PLACE)
    week = fitted(make_runner(limits=(limit,)), fit)
    for item in items(week):
        variant = fit[1].variants[item.variant_id]
        assert variant.impact == 0
        for group in REGION_GROUPS["calf"]:
            mine, most = variant.ask(group), example.ask(group)
            if mine is not None:
                kg, place = (0.0, None) if item.load is None else (item.load.kg, item.load.place)
                two_legs = example.main.base if most is None and example.main else most.base if most else 0.05
                assert mine.demand(kg, place, 60) <= 1.02 * two_legs + 1e-6


def test_a_limit_that_has_ended_no_longer_holds(fit: Fit, make_runner: MakeRunner) -> None:
    ended = Limit("calf", "left", None, date(2026, 1, 18), "physiotherapist", "left calf: nothing", PLACE)
    with_limit = fitted(make_runner(limits=(ended,)), fit)
    assert [i.variant_id for i in items(with_limit)] == [i.variant_id for i in items(fitted(make_runner(), fit))]


def test_a_sore_place_gets_no_landings_and_no_load(fit: Fit, make_runner: MakeRunner) -> None:
    week = fitted(make_runner(sore=(Sore("calf", "left", 3, PLACE),)), fit)
    for item in items(week):
        variant = fit[1].variants[item.variant_id]
        assert variant.impact == 0
        if variant.main is not None and variant.main.group in REGION_GROUPS["calf"]:
            assert item.load is None


def test_wishes_are_kept(fit: Fit, make_runner: MakeRunner) -> None:
    wishes = (Wish("no impact", "no hops"), Wish("no variant", "no Press-up", variant_id="press-up"))
    for item in items(fitted(make_runner(wishes=wishes), fit)):
        assert fit[1].variants[item.variant_id].impact == 0
        assert item.variant_id != "press-up"


def test_a_hold_and_a_place_outside_the_programme_are_said(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    held = make_runner(holds=(Hold("pregnant", None, None, PLACE),))
    assert fit_runner(programme, held, library, house, MONDAY) == Held("T01", "Tess U", "pregnant")
    cleared = make_runner(holds=(Hold("after birth", "midwife", date(2026, 1, 2), PLACE),))
    assert isinstance(fit_runner(programme, cleared, library, house, MONDAY), FittedWeek)
    early = make_runner(anchor=Anchor("from", date(2026, 2, 2), PLACE))
    assert isinstance(fit_runner(programme, early, library, house, MONDAY), Away)


# ---- known bad optima


def test_not_always_the_bottom_of_the_range(fit: Fit, make_runner: MakeRunner) -> None:
    """The printed range is the coach's whole range, and rounds stay at the top while there is time."""
    week = fitted(make_runner(), fit)
    written = week_of(fit[0], week.programme_week)
    assert written is not None
    lines = {(s.key, i.key): (i, b) for s in written.sessions for b in s.blocks for i in b.items}
    for session in week.sessions:
        for block in session.blocks:
            for item in block.items:
                line, its_block = lines[session.key, item.item_key]
                doses = [line.dose, *(a.dose for a in line.alternatives)]
                assert item.reps in [d.reps for d in doses]
                assert its_block.sets is None or block.rounds == its_block.sets.high


def test_not_always_the_lightest_weight(fit: Fit, make_runner: MakeRunner) -> None:
    loads = {}
    for level in ("never", "strong"):
        week = fitted(make_runner(level=level, sex="male", mass_kg=70.0), fit)
        loads[level] = sum(i.load.kg for i in items(week) if i.load is not None)
    assert loads["strong"] > loads["never"]
    lightest = min(k.kg or 99 for k in KIT if k.kg)
    man = make_runner(level="strong", sex="male", mass_kg=70.0)
    strong = [i.load.kg for i in items(fitted(man, fit)) if i.load is not None]
    assert any(kg > lightest for kg in strong)


def test_not_the_easiest_alternative_of_each_or(fit: Fit, make_runner: MakeRunner) -> None:
    strong = make_runner(level="strong", sex="male", tests=(FieldTest("press-ups", 35), FieldTest("heel raises", 30)))
    names = {i.written: i.variant_id for i in items(fitted(strong, fit))}
    assert names["Press-up"] not in ("press-up-hands-raised", "press-up-knees")


def test_no_churn_between_equals(fit: Fit, make_runner: MakeRunner) -> None:
    runner = make_runner()
    first = fitted(runner, fit)
    later = replace(first, programme_week=2, monday=date(2026, 1, 12))
    again = fitted(runner, fit, last=later)
    assert [i.variant_id for i in items(again)] == [i.variant_id for i in items(first)]
    assert [s.day for s in again.sessions] == [s.day for s in first.sessions]


def test_not_one_day_pattern_for_all(fit: Fit, make_runner: MakeRunner) -> None:
    tuesday = make_runner(days=tuple(range(7)))
    thursday = make_runner(
        days=tuple(range(7)), runs=(Run(2, "key", time(18)), Run(4, "key", time(18)), Run(5, "long", time(9)))
    )
    assert [s.day for s in fitted(tuesday, fit).sessions] != [s.day for s in fitted(thursday, fit).sessions]


# ---- out of reach


def test_two_days_place_two_sessions_and_say_why_the_third_is_missing(fit: Fit, make_runner: MakeRunner) -> None:
    week = fitted(make_runner(days=(0, 3)), fit)
    assert [s.key for s in week.sessions] == ["1", "2"]
    ((_, reason),) = week.rest_sessions
    assert "only Mon, Thu are possible" in reason.text


def test_an_impossible_runner_gets_the_reason_and_ways_out_that_work(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    runner = make_runner(days=(0,), runs=(Run(1, "key", time(6)), Run(5, "long", time(8))))
    outcome = fit_runner(programme, runner, library, house, MONDAY)
    assert isinstance(outcome, Impossible)
    assert "key or long run" in outcome.reasons[0].what
    assert 1 <= len(outcome.ways_out) <= 3
    assert all(w.tried for w in outcome.ways_out)
    with_day = replace(runner, days=(0, 2))
    assert isinstance(fit_runner(programme, with_day, library, house, MONDAY), FittedWeek)


LEVEL: st.SearchStrategy[Level4] = st.sampled_from(["never", "some", "regular", "strong"])


@settings(max_examples=20, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    level=LEVEL,
    sex=st.sampled_from(["female", "male", None]),
    days=st.sets(st.integers(0, 6), min_size=1).map(lambda d: tuple(sorted(d))),
    runs=st.lists(
        st.builds(Run, st.integers(0, 6), st.sampled_from(["easy", "key", "long"]), st.sampled_from([None, time(7), time(18, 30)])),
        max_size=5, unique_by=lambda r: r.day,
    ).map(tuple),
    minutes=st.sampled_from([None, 12, 20, 30, 60]),
    kit=st.sets(st.sampled_from([*KIT, KitItem("kettlebell", kg=12), KitItem("rucksack", up_to_kg=10)])).map(lambda k: tuple(sorted(k, key=repr))),
    week=st.integers(0, 6),
)  # fmt: skip
def test_every_runner_gets_a_verified_week_or_a_reason(
    fit: Fit, make_runner: MakeRunner, level: Level4, sex: object, days: tuple[int, ...], runs: tuple[Run, ...],
    minutes: int | None, kit: tuple[KitItem, ...], week: int,
) -> None:  # fmt: skip
    programme, library, house = fit
    runner = make_runner(level=level, sex=sex, days=days, runs=runs, minutes=minutes, kit=kit)
    monday = date.fromordinal(date(2026, 1, 5).toordinal() + 7 * week)
    outcome = fit_runner(programme, runner, library, house, monday)
    if isinstance(outcome, FittedWeek):
        assert verify(outcome, programme, runner, library, house, capacity_of(runner, monday)) == ()
    elif isinstance(outcome, Impossible):
        assert outcome.reasons[0].what
    else:
        assert isinstance(outcome, Away)
        assert week == 6


@settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(pushes=st.integers(1, 30), more=st.integers(1, 30))
def test_a_stronger_test_never_gives_an_easier_press_up(
    fit: Fit, make_runner: MakeRunner, pushes: int, more: int
) -> None:
    """More press-ups in the home test never move the press-up line to a lower demand."""
    demands = []
    for count in (pushes, pushes + more):
        week = fitted(make_runner(tests=(FieldTest("press-ups", count),)), fit)
        item = next(i for i in items(week) if i.written == "Press-up")
        main = fit[1].variants[item.variant_id].main
        assert main is not None
        kg, place = (0.0, None) if item.load is None else (item.load.kg, item.load.place)
        demands.append(main.demand(kg, place, 60))
    assert demands[1] >= demands[0] - 1e-9


# ---- sessions done several times a week


def with_session(programme: Programme, **fields: object) -> Programme:
    """The tests' programme with only its first session, changed."""
    cycle = programme.cycles[0]
    session = replace(cycle.sessions[0], **fields)  # type: ignore[arg-type]
    return replace(programme, cycles=(replace(cycle, sessions=(session,)),))


def test_one_session_three_times_a_week_is_spread_out(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    three = Fit((with_session(programme, times_a_week=Range.of(3)), library, house))
    week = fitted(make_runner(days=tuple(range(7))), three)
    assert [s.key for s in week.sessions] == ["1 (1 of 3)", "1 (2 of 3)", "1 (3 of 3)"]
    days = [s.day for s in week.sessions]
    assert all((b - a).days >= 2 for a, b in itertools.pairwise(days))
    assert len({tuple(b.items for b in s.blocks) for s in week.sessions}) == 1
    assert len({s.uid for s in week.sessions}) == 3


def test_the_optional_time_goes_first_when_there_is_no_day_for_it(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    some = Fit((with_session(programme, times_a_week=Range(2, 3)), library, house))
    week = fitted(make_runner(days=(0, 3)), some)
    assert len(week.sessions) == 2
    assert [name for name, _ in week.rest_sessions] == ["Session 1 (3 of 3): step and calf"]


def test_what_is_written_twice_a_day_every_day_is_laid_so(fit: Fit, make_runner: MakeRunner) -> None:
    # Alfredson 1998 (programmes reference): twice a day, seven days a week, running goes on.
    programme, library, house = fit
    often = Fit((with_session(programme, every_days=1, twice_a_day=True), library, house))
    runner = make_runner(days=tuple(range(7)), runs=())
    week = fitted(runner, often)
    assert len(week.sessions) == 14
    assert [s.day.weekday() for s in week.sessions] == [d for d in range(7) for _ in range(2)]
    assert [s.start for s in week.sessions[:2]] == [time(7), time(18)]


def test_a_daily_session_stands_beside_the_others_and_on_any_day(fit: Fit, make_runner: MakeRunner) -> None:
    programme, library, house = fit
    cycle = programme.cycles[0]
    daily = replace(cycle.sessions[1], every_days=1, twice_a_day=True, minutes=None)
    both = replace(programme, cycles=(replace(cycle, sessions=(cycle.sessions[0], daily)),))
    week = fitted(make_runner(days=(0, 3)), Fit((both, library, house)))
    assert [s.key for s in week.sessions if s.key == "1"] == ["1"]
    assert len(week.sessions) == 15
    assert not week.rest_sessions
    said = [r.text for s in week.sessions for r in s.reasons if r.code == "days"]
    assert sum("nearly every day" in text for text in said) == 1
