"""One step a week at most: of what the fit chooses, never of what the coach wrote."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from ferrule.capacity.prior import prior_capacity
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.growth import Before, base_key, ceiling
from ferrule.fit.runner import fit_runner, setting_of
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, KitItem, Runner
from ferrule.model.words import GROUPS
from ferrule.programme.reader import read_programme
from ferrule.squad.loads import load_choices

KIT = (KitItem("step", height_cm=30), *(KitItem("dumbbell", 2, kg=kg) for kg in (4, 6, 8, 10, 12, 16, 20)))
TEXT = """---
programme: One line
weeks: 6
sessions: 1 a week
---

## Cycle 1, weeks 1-6: Steps

### Session 1, 30 min

Straight, 3 sets, rest 2 min

- Step-up: 8/side, 2 RIR{load}
"""


def programme_with(library: Library, load: str = "") -> Programme:
    programme, findings = read_programme(TEXT.format(load=load), "p.md", library)
    assert not findings
    return programme


def strong(runner: Runner, by: float) -> Capacity:
    """A belief that is sure, and `by` on the log axis above the prior."""
    prior = prior_capacity(runner, MONDAY.year)
    return replace(prior, mean_log={g: prior.mean_log[g] + by for g in GROUPS}, sd_log=dict.fromkeys(GROUPS, 0.08))


def one_week(
    programme: Programme, runner: Runner, library: Library, weeks: int, last: FittedWeek | None, by: float
) -> FittedWeek:
    belief = strong(runner, by)
    monday = MONDAY + timedelta(weeks=weeks)
    week = fit_runner(programme, runner, library, House(), monday, last, capacity=belief)
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, House(), belief, last) == ()
    return week


def item_of(week: FittedWeek) -> FittedItem:
    return week.sessions[0].blocks[0].items[0]


def kg(week: FittedWeek) -> float:
    load = item_of(week).load
    return 0.0 if load is None else load.kg


def test_the_load_rises_by_one_step_of_the_kit_a_week_until_the_effort_is_right(
    library: Library, make_runner: MakeRunner
) -> None:
    programme, runner = programme_with(library), make_runner(kit=KIT, tests=())
    weak = one_week(programme, runner, library, 0, None, 0.05)
    free = one_week(programme, runner, library, 1, None, 0.7)
    assert kg(free) > kg(weak)
    chain = [weak]
    for n in range(1, 4):
        chain.append(one_week(programme, runner, library, n, chain[-1], 0.7))
    made = [0.0, *(x.kg for x in load_choices(KIT, "hands", 60.0))]
    for before, after in pairwise(chain):
        if item_of(before).variant_id == item_of(after).variant_id:
            step = next((x for x in made if x > kg(before)), kg(before))
            assert kg(after) <= max(step, 1.1 * kg(before)) + 1e-9
    assert kg(chain[1]) > kg(weak)
    assert kg(chain[1]) < kg(free)
    assert any("a step above last week at most" in r.text for r in item_of(chain[1]).reasons)


def test_what_the_coach_wrote_may_rise_by_more(library: Library, make_runner: MakeRunner) -> None:
    runner, belief = make_runner(kit=KIT), strong(make_runner(), 0.2)
    last: FittedWeek | None = None
    weights = []
    for n, load in enumerate((", 4 kg", ", 16 kg")):
        programme = programme_with(library, load)
        key = programme.cycles[0].sessions[0].blocks[0].items[0].key
        monday, pin = MONDAY + timedelta(weeks=n), frozenset({("1", key)})
        week = fit_runner(programme, runner, library, House(), monday, last, pin, capacity=belief)
        assert isinstance(week, FittedWeek)
        assert verify(week, programme, runner, library, House(), belief, last) == ()
        weights.append(kg(week))
        last = week
    assert weights == [4, 16]


def test_less_than_last_week_is_always_open(library: Library, make_runner: MakeRunner) -> None:
    programme, runner = programme_with(library), make_runner(kit=KIT)
    before = one_week(programme, runner, library, 0, None, 0.7)
    again = one_week(programme, runner, library, 1, before, 0.05)
    alone = one_week(programme, runner, library, 1, None, 0.05)
    assert (item_of(again).variant_id, kg(again)) == (item_of(alone).variant_id, kg(alone))


def test_a_step_is_the_next_load_of_the_kit_or_the_house_s_share(library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner(kit=KIT)
    setting = setting_of(runner, library, House(), MONDAY, False)
    main = library.variants["step-up"].main
    assert main is not None
    loads = {x.kg: x for x in load_choices(KIT, "hands", 60.0)}
    step = ceiling(Before("step-up", loads[8.0]), setting)
    assert step == pytest.approx(main.demand(10, "hands", 60.0))
    wide = replace(setting, house=House(changed={"load-step-percent": 50}))
    assert ceiling(Before("step-up", loads[8.0]), wide) == pytest.approx(main.demand(12, "hands", 60.0))
    bare = replace(setting, runner=replace(runner, kit=()), _loads={})
    assert ceiling(Before("step-up", None), bare) == pytest.approx(1.1 * main.base)
    assert ceiling(Before("not there", None), setting) is None


def test_a_verifier_that_knows_last_week_refuses_a_jump(library: Library, make_runner: MakeRunner) -> None:
    programme, runner = programme_with(library), make_runner(kit=KIT)
    weak = one_week(programme, runner, library, 0, None, 0.05)
    free = one_week(programme, runner, library, 1, None, 0.7)
    codes = {f.code for f in verify(free, programme, runner, library, House(), strong(runner, 0.7), weak)}
    assert codes == {"verify-growth"}


def test_a_session_done_several_times_is_one_line() -> None:
    assert base_key("1 (2 of 3)") == base_key("1") == "1"
