"""Kit by site in whole weeks: each session with the kit of its day, and with one site all as it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ferrule.fit.buy import things, what_to_buy
from ferrule.fit.conftest import KIT, MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner, lay, setting_of
from ferrule.fit.runs_out import runs_out
from ferrule.fit.scope import kits_of, scopes_of, site_number
from ferrule.fit.setting import Setting
from ferrule.fit.squad import fit_squad
from ferrule.fit.verify import verify
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import KitItem, Runner, Site, Squad
from ferrule.programme.reader import read_programme
from ferrule.squad.loads import load_choices, missing_kit
from ferrule.squad.sites import site_on

MAT, STEP, CHAIR = KIT[0], KIT[1], KIT[2]
HEAVY = (MAT, STEP, *(KitItem("dumbbell", 2, kg=kg) for kg in (10, 16, 24)))
TWICE = """---
programme: One session, two days
weeks: 6
sessions: 2 a week
---

## Cycle 1, weeks 1-6: One

### Session 1: legs, 40 min

Straight, 3 sets, rest 60 s

- Split squat: 8/side, 3 RIR
- Step-up: 6-8/side, 2 RIR
- Press-up: 8-10, 3 RIR
"""


def trains(
    make: MakeRunner, home: Sequence[KitItem], club: Sequence[KitItem], at_club: tuple[int, ...], **more: object
) -> Runner:
    """A runner with days Mon, Wed, Fri, some of them at the club."""
    days = (0, 2, 4)
    at_home = tuple(d for d in days if d not in at_club)
    sites = (Site("home", tuple(home), at_home), Site("club", tuple(club), at_club))
    return make(days=days, kit=tuple(home), sites=sites, **more)


def sound(runner: Runner, programme: Programme, library: Library, **more: object) -> FittedWeek:
    week = fit_runner(programme, runner, library, House(), MONDAY, **more)  # type: ignore[arg-type]
    assert isinstance(week, FittedWeek), week
    found = verify(week, programme, runner, library, House(), capacity_of(runner, MONDAY), more.get("last"))  # type: ignore[arg-type]
    assert found == ()
    return week


def kit_wanting(session: FittedSession, kit: tuple[KitItem, ...], library: Library) -> list[str]:
    """What of a session cannot be done with a kit, in words."""
    out: list[str] = []
    for item in (i for b in session.blocks for i in b.items if i.variant_id in library.variants):
        out += missing_kit(kit, library.variants[item.variant_id])
        if item.load is not None and item.load not in load_choices(kit, item.load.place, 60.0):
            out.append(f"{item.load.kg:g} kg")
    return out


def test_each_session_is_done_with_the_kit_of_its_day_and_says_where(
    programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    runner = trains(make_runner, (MAT, CHAIR), HEAVY, (0,), level="strong")
    week = sound(runner, programme, library)
    assert {s.day.weekday(): s.where for s in week.sessions} == {0: "club", 2: "home", 4: "home"}
    for session in week.sessions:
        assert kit_wanting(session, site_on(runner, session.day.weekday()).kit, library) == []
    club = next(s for s in week.sessions if s.where == "club")
    assert kit_wanting(club, (MAT, CHAIR), library), "at the club there is more, and it is used"
    assert not any("kg" in piece for s in week.sessions if s.where == "home" for piece in s.fetch)


def test_what_is_missing_is_said_with_the_site(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    week = sound(trains(make_runner, (), HEAVY, (2,)), programme, library)
    said = {
        (s.where, r.text)
        for s in week.sessions
        for b in s.blocks
        for i in b.items
        for r in i.reasons
        if r.code == "kit"
    }
    assert said
    assert all(where == "home" and text.endswith("at home") for where, text in said)


def test_a_session_goes_where_it_can_be_done(library: Library, make_runner: MakeRunner) -> None:
    text = (
        TWICE.replace("2 a week", "1 a week")
        .replace("- Press-up: 8-10, 3 RIR\n", "")
        .replace("- Split squat: 8/side, 3 RIR\n", "")
    )
    one = read_programme(text, "p.md", library)[0]
    for day in (0, 2, 4):
        week = sound(trains(make_runner, (MAT,), (STEP,), (day,), level="strong"), one, library)
        assert [(s.day.weekday(), s.where) for s in week.sessions] == [(day, "club")]


def test_a_session_done_at_two_sites_takes_what_both_have(library: Library, make_runner: MakeRunner) -> None:
    twice = read_programme(TWICE, "p.md", library)[0]
    runner = trains(make_runner, KIT, HEAVY, (4,), level="regular")
    runner = replace(runner, days=(0, 4))
    week = sound(runner, twice, library)
    assert [s.where for s in week.sessions] == ["home", "club"]
    first, second = ([(i.variant_id, i.load) for b in s.blocks for i in b.items] for s in week.sessions)
    assert first == second
    for session in week.sessions:
        assert all(kit_wanting(session, kit, library) == [] for kit in (KIT, HEAVY))


def test_the_next_week_keeps_the_days_and_the_exercises(
    programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    runner = trains(make_runner, KIT, HEAVY, (2,), level="regular")
    now = sound(runner, programme, library)
    before = replace(now, programme_week=2, monday=MONDAY.replace(day=12))
    again = sound(runner, programme, library, last=before)
    assert [(s.where, s.day) for s in again.sessions] == [(s.where, s.day) for s in now.sessions]
    names = [[i.variant_id for b in s.blocks for i in b.items] for s in now.sessions]
    assert [[i.variant_id for b in s.blocks for i in b.items] for s in again.sessions] == names


@settings(max_examples=12, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    pieces=st.sets(st.sampled_from([*KIT, KitItem("kettlebell", kg=12)])).map(lambda k: tuple(sorted(k, key=repr))),
    split=st.sampled_from(((), (0,), (2, 4), (0, 2, 4))),
    named=st.booleans(),
)
def test_with_one_kit_the_week_is_what_it_was_without_sites(
    make_runner: MakeRunner, programme: Programme, pieces: tuple[KitItem, ...], split: tuple[int, ...], named: bool
) -> None:
    """However the days are shared out: the same problem to the last number, so the same week but for the word where."""
    library = load_library()[0]
    plain = make_runner(days=(0, 2, 4), kit=pieces)
    sited = trains(make_runner, pieces, pieces, split)
    if named:
        sited = replace(sited, sites=(Site("home", pieces, (0, 2, 4)),))
    one, other = (lay(programme, r, library, House(), MONDAY) for r in (plain, sited))
    assert one.problem == other.problem  # type: ignore[union-attr]
    week, its = (fit_runner(programme, r, library, House(), MONDAY) for r in (plain, sited))
    if isinstance(week, FittedWeek):
        assert isinstance(its, FittedWeek)
        assert tuple(replace(s, where="") for s in its.sessions) == week.sessions
        assert its.prices == week.prices


@settings(max_examples=10, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    home=st.sets(st.sampled_from([*KIT, KitItem("kettlebell", kg=12)])).map(lambda k: tuple(sorted(k, key=repr))),
    club=st.sets(st.sampled_from([*HEAVY, KitItem("bench"), KitItem("band", band="thin")])).map(
        lambda k: tuple(sorted(k, key=repr))
    ),
    split=st.sampled_from(((0,), (2, 4), (4,))),
)
def test_any_two_kits_give_a_week_that_is_verified(
    make_runner: MakeRunner,
    programme: Programme,
    home: tuple[KitItem, ...],
    club: tuple[KitItem, ...],
    split: tuple[int, ...],
) -> None:
    library = load_library()[0]
    week = sound(trains(make_runner, home, club, split), programme, library)
    assert all(p.proven for p in week.prices)


def test_scopes_are_the_kits_that_differ(make_runner: MakeRunner) -> None:
    runner = trains(make_runner, KIT, HEAVY, (4,))
    assert kits_of(runner) == (KIT, HEAVY)
    assert [site_number(runner, d) for d in (0, 2, 4, 6)] == [0, 0, 1, 0]
    assert kits_of(trains(make_runner, KIT, KIT[::-1], (4,))) == (KIT,)
    assert site_number(make_runner(), 3) == -1
    setting = lay_setting(runner)
    assert [s.sites for s in scopes_of(setting, 1)] == [(0,), (1,)]
    twice = scopes_of(setting, 2)
    assert [(s.sites, s.setting.where) for s in twice] == [((0,), "home"), ((1,), "club"), ((0, 1), "home and club")]
    assert twice[2].setting.runner.kit == (MAT, STEP)


def lay_setting(runner: Runner) -> Setting:
    return setting_of(runner, load_library()[0], House(), MONDAY, False)


def test_what_runs_out_is_told_by_the_kit_of_the_day(
    programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    at_club = trains(make_runner, (MAT, CHAIR), HEAVY, (0, 2, 4))
    squad = Squad("s", (at_club,))
    week = fit_squad(programme, squad, library, House(), MONDAY)
    club = runs_out(programme, squad, week, library, House())
    plain = Squad("s", (replace(at_club, kit=HEAVY, sites=()),))
    assert club == runs_out(programme, plain, week, library, House())


def test_what_to_buy_is_asked_for_one_site(library: Library, make_runner: MakeRunner) -> None:
    twice = read_programme(TWICE.replace("2 a week", "3 a week"), "p.md", library)[0]
    runner = trains(make_runner, (MAT,), (MAT, STEP), (2, 4), level="strong")
    shop, _ = things(("step 30 cm",))
    house = House()
    ((_, home),) = what_to_buy(twice, [runner], library, house, MONDAY, shop)
    ((_, club),) = what_to_buy(twice, [runner], library, house, MONDAY, shop, site="club")
    assert [g.lines > 0 for g in home] == [True]
    assert club == ()
    with pytest.raises(ValueError, match="gym"):
        list(what_to_buy(twice, [runner], library, house, MONDAY, shop, site="gym"))
