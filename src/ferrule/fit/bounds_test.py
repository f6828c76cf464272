"""A line held to what was sent: what is barred, what stays, what is said, and that the verifier agrees."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.bound import Bound, Bounds
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Runner

KEY = ("1", "A1")
NEXT = MONDAY.replace(day=26)


def fitted(
    programme: Programme,
    runner: Runner,
    library: Library,
    house: House,
    last: FittedWeek,
    bounds: Bounds,
    capacity: Capacity,
) -> tuple[FittedWeek, FittedItem]:
    week = fit_runner(programme, runner, library, house, NEXT, last, capacity=capacity, bounds=bounds)
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, house, capacity, last, None, bounds) == ()
    return week, next(
        i for s in week.sessions if s.key == KEY[0] for b in s.blocks for i in b.items if i.item_key == KEY[1]
    )


def demand(item: FittedItem, library: Library, mass_kg: float) -> float:
    main = library.variants[item.variant_id].main
    assert main is not None
    if item.load is None:
        return main.base
    return main.demand(item.load.kg, item.load.place, mass_kg)


@pytest.fixture
def case(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> tuple[Runner, FittedWeek, Capacity]:
    """A runner much stronger than last week's copy was made for: without a bound the line would rise."""
    runner = make_runner()
    last = fit_runner(programme, runner, library, house, MONDAY)
    assert isinstance(last, FittedWeek)
    prior = capacity_of(runner, NEXT)
    strong = replace(
        prior, mean_log={g: m + 0.4 for g, m in prior.mean_log.items()}, sd_log=dict.fromkeys(prior.sd_log, 0.1)
    )
    return runner, last, strong


@pytest.mark.parametrize("most", [1.0, 0.8])
@pytest.mark.parametrize("firm", [False, True])
def test_no_more_than_the_bound_and_it_says_why(
    most: float,
    firm: bool,
    case: tuple[Runner, FittedWeek, Capacity],
    programme: Programme,
    library: Library,
    house: House,
) -> None:
    runner, last, strong = case
    assert runner.mass_kg is not None
    was = next(i for s in last.sessions if s.key == "1" for b in s.blocks for i in b.items if i.item_key == "A1")
    free = fitted(programme, runner, library, house, last, {}, strong)[1]
    assert demand(free, library, runner.mass_kg) > demand(was, library, runner.mass_kg)
    held = fitted(programme, runner, library, house, last, {KEY: Bound("sore", most, firm=firm)}, strong)[1]
    assert demand(held, library, runner.mass_kg) <= most * demand(was, library, runner.mass_kg) + 1e-9
    assert any("sore" in r.text and r.code == "held" for r in held.reasons)
    if firm:
        ways = [w for w in (held.too_easy,) if w is not None]
        main = library.variants[held.variant_id].main
        for way in ways:
            other = library.variants[way.variant_id].main
            assert other is not None
            if main is not None and other.group == main.group:
                kg, place = (0.0, None) if way.load is None else (way.load.kg, way.load.place)
                assert other.demand(kg, place, runner.mass_kg) <= most * demand(was, library, runner.mass_kg) + 1e-9


def test_a_firm_hold_keeps_the_exercise(
    case: tuple[Runner, FittedWeek, Capacity], programme: Programme, library: Library, house: House
) -> None:
    runner, last, _ = case
    was = next(i for s in last.sessions if s.key == "1" for b in s.blocks for i in b.items if i.item_key == "A1")
    weak = capacity_of(runner, NEXT)
    weak = replace(weak, mean_log={g: m - 0.3 for g, m in weak.mean_log.items()})
    held = fitted(programme, runner, library, house, last, {KEY: Bound("sore", 1.0, firm=True)}, weak)[1]
    assert held.variant_id == was.variant_id


def test_where_nothing_less_may_be_done_it_says_so_unless_it_is_strict(
    case: tuple[Runner, FittedWeek, Capacity], programme: Programme, library: Library, house: House
) -> None:
    runner, last, strong = case
    held = fitted(programme, runner, library, house, last, {KEY: Bound("sore", 0.01)}, strong)[1]
    assert any("nothing that may be done asks less" in r.text for r in held.reasons)
    week = fit_runner(
        programme, runner, library, house, NEXT, last, capacity=strong, bounds={KEY: Bound("sore", 0.01, strict=True)}
    )
    assert isinstance(week, FittedWeek)
    assert all(i.item_key != "A1" for s in week.sessions if s.key == "1" for b in s.blocks for i in b.items)
    assert any("left out: sore" in r.text for s in week.sessions for r in s.reasons)


def test_a_step_towards_the_effort_is_made_although_it_is_no_nearer_by_the_margin(
    case: tuple[Runner, FittedWeek, Capacity], programme: Programme, library: Library, house: House
) -> None:
    runner, last, strong = case
    assert runner.mass_kg is not None
    bare = replace(
        last,
        sessions=tuple(
            replace(s, blocks=tuple(replace(b, items=tuple(replace(i, load=None) for i in b.items)) for b in s.blocks))
            for s in last.sessions
        ),
    )
    climbed = fitted(programme, runner, library, house, bare, {KEY: Bound("told", quiet=True, climb=True)}, strong)[1]
    assert climbed.load is not None
    stayed = fitted(programme, runner, library, house, bare, {}, strong)[1]
    assert demand(climbed, library, runner.mass_kg) >= demand(stayed, library, runner.mass_kg)
