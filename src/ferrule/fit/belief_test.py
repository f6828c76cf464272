"""The fit with a belief of its own: the empty one is the prior, and one variant's own sets move that variant only."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.squad import fit_squad
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Belief, Capacity, Runner, Squad


def week_with(
    runner: Runner, capacity: Capacity | None, programme: Programme, library: Library, house: House
) -> FittedWeek:
    week = fit_runner(programme, runner, library, house, MONDAY, capacity=capacity)
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, house, capacity or capacity_of(runner, MONDAY)) == ()
    return week


def line(week: FittedWeek, session: str, item: str) -> FittedItem:
    return next(i for s in week.sessions if s.key == session for b in s.blocks for i in b.items if i.item_key == item)


def test_no_belief_is_the_prior(programme: Programme, library: Library, house: House, make_runner: MakeRunner) -> None:
    runner = make_runner()
    assert week_with(runner, None, programme, library, house) == week_with(
        runner, capacity_of(runner, MONDAY), programme, library, house
    )


def test_a_strong_belief_in_one_variant_leaves_the_lines_of_other_groups(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    """Step-ups known to be much stronger than the group: more weight there; other groups' lines are as before."""
    runner = make_runner()
    prior = capacity_of(runner, MONDAY)
    before = week_with(runner, prior, programme, library, house)
    step_up = line(before, "1", "A1")
    assert step_up.variant_id == "step-up"
    own = Belief(prior.mean_log["knee and hip"] + 0.35, 0.06, 8)
    after = week_with(runner, replace(prior, variants={"step-up": own}), programme, library, house)
    heavier = line(after, "1", "A1")
    assert heavier.load is not None
    assert heavier.load.kg > (0 if step_up.load is None else step_up.load.kg)
    for session, item in (("1", "A2"), ("1", "B1"), ("2", "A1"), ("3", "A2"), ("3", "A3")):
        assert line(after, session, item) == line(before, session, item)
    said = heavier.prediction
    assert said is not None
    assert math.log(said.share_high / said.share_low) == pytest.approx(2 * 1.2816 * math.hypot(0.06, 0.042), rel=1e-6)


def test_unseen_variants_are_known_less_well(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner()
    wide = replace(capacity_of(runner, MONDAY), offset_sd={"number": 0.1, "ratio": 0.2, "order": 0.4})
    week = week_with(runner, wide, programme, library, house)
    for item in (i for s in week.sessions for b in s.blocks for i in b.items if i.prediction is not None):
        main = library.variants[item.variant_id].main
        assert main is not None
        assert item.prediction is not None
        sd = math.hypot(wide.sd_log[main.group], wide.offset_sd[main.trust], 0.042)
        assert math.log(item.prediction.share_high / item.prediction.share) == pytest.approx(1.2816 * sd)


def test_a_sided_line_is_held_against_the_weaker_side(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner()
    prior = capacity_of(runner, MONDAY)
    lame = replace(prior, half_log={"knee and hip": -0.2})
    week = week_with(runner, lame, programme, library, house)
    said = line(week, "1", "A1")
    variant = library.variants[said.variant_id]
    assert variant.sided
    assert said.prediction is not None
    assert variant.main is not None
    kg, place = (0.0, None) if said.load is None else (said.load.kg, said.load.place)
    demand = variant.main.demand(kg, place, 60.0) * math.exp(0.018 * (said.sets - 1))
    assert said.prediction.share == pytest.approx(demand / math.exp(prior.mean_log["knee and hip"] - 0.2))


def test_the_squad_takes_each_runner_s_own_belief(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    one, two = make_runner(), make_runner(id="T02")
    prior = capacity_of(one, MONDAY)
    strong = replace(prior, mean_log={g: m + 0.3 for g, m in prior.mean_log.items()})
    week = fit_squad(programme, Squad("s", (one, two)), library, house, MONDAY, beliefs={"T02": strong})
    assert week.outcomes[0] == fit_runner(programme, one, library, house, MONDAY)
    assert week.outcomes[1] == fit_runner(programme, two, library, house, MONDAY, capacity=strong)
    assert not week.findings
