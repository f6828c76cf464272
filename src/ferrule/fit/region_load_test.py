"""Hidden load by region; and limits that hold for what an exercise only asks on the way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from ferrule.capacity.prior import prior_capacity
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.region_load import LEVELS, region_loads
from ferrule.fit.runner import fit_runner
from ferrule.fit.screen import SECONDARY_FLOOR, TOLERANCE
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedItem, FittedWeek, RegionLoad
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Limit, Runner
from ferrule.model.words import IMPACT_REGIONS, REGION_GROUPS, Region


def fitted(programme: Programme, runner: Runner, library: Library) -> FittedWeek:
    week = fit_runner(programme, runner, library, House(), MONDAY)
    assert isinstance(week, FittedWeek)
    return week


def loads(week: FittedWeek, runner: Runner, library: Library) -> dict[tuple[str, str], RegionLoad]:
    found = region_loads(week, library, House(), prior_capacity(runner, 2026), 60.0)
    return {(x.region, x.side): x for x in found}


def items(week: FittedWeek) -> Iterator[FittedItem]:
    return (i for s in week.sessions for b in s.blocks for i in b.items)


def test_what_is_worked_is_told_with_its_days(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = fitted(programme, runner, library)
    found = loads(week, runner, library)
    calf = found["calf", "left"]
    assert LEVELS[calf.level] in ("some", "much")
    assert set(calf.days) <= {s.day.weekday() for s in week.sessions}
    assert found["calf", "left"].sets == found["calf", "right"].sets


def test_a_region_that_is_only_touched_on_the_way_is_all_hidden(
    programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    """No line of the programme is dosed on the adductors; what asks of them on the way still counts."""
    runner = make_runner()
    week = fitted(programme, runner, library)
    mains = {m.group for i in items(week) if (m := library.variants[i.variant_id].main) is not None}
    hidden = [x for x in loads(week, runner, library).values() if not set(REGION_GROUPS[x.region]) & mains]
    assert hidden
    assert all(x.hidden == x.sets > 0 for x in hidden)


def test_one_side_alone(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = fitted(programme, runner, library)
    session = week.sessions[0]
    block = next(b for b in session.blocks for i in b.items if i.prediction is not None)
    item = next(i for i in block.items if i.prediction is not None)
    left = replace(item, left_right=(10, 0))
    one = replace(week, sessions=(replace(session, blocks=(replace(block, items=(left,)),)),))
    found = loads(one, runner, library)
    assert found
    assert {side for _, side in found} == {"left"}


def test_days_running_are_counted(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = fitted(programme, runner, library)
    days = (date(2026, 1, 20), date(2026, 1, 21), date(2026, 1, 22), date(2026, 1, 24))
    spread = replace(week, sessions=tuple(replace(week.sessions[0], day=d) for d in days))
    found = loads(spread, runner, library)
    assert {x.in_a_row for x in found.values()} == {3}
    assert next(iter(found.values())).days == (1, 2, 3, 5)


def test_more_load_is_never_a_lower_level(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    week = fitted(programme, runner, library)
    twice = replace(
        week,
        sessions=tuple(
            replace(s, blocks=tuple(replace(b, items=tuple(replace(i, sets=2 * i.sets) for i in b.items)) for b in s.blocks))
            for s in week.sessions
        ),
    )  # fmt: skip
    one, two = loads(week, runner, library), loads(twice, runner, library)
    assert set(one) == set(two)
    assert all(two[k].level >= one[k].level and two[k].sets > one[k].sets for k in one)


@pytest.mark.parametrize("region", ["groin", "back", "shoulder", "hip", "calf", "hamstring"])
def test_a_limit_holds_for_what_is_only_asked_on_the_way(
    region: Region, programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    """Nothing that loads the region at all: no line keeps a variant with any demand there, main or secondary, or a
    landing where that counts; and some such variant was chosen before, dosed on another region."""
    limit = Limit(region, "both", None, None, "physiotherapist", f"{region}: nothing", Span("s.csv", 2))
    free, held = make_runner(), make_runner(limits=(limit,))
    groups = set(REGION_GROUPS[region])

    def asked(item: FittedItem) -> bool:
        variant = library.variants[item.variant_id]
        mine = [a for a in variant.asks if a.group in groups and a.base > SECONDARY_FLOOR * (1 + TOLERANCE)]
        return bool(mine) or (variant.impact > 0 and region in IMPACT_REGIONS) or region in variant.regions

    def on_the_way(item: FittedItem) -> bool:
        main = library.variants[item.variant_id].main
        return asked(item) and main is not None and main.group not in groups

    before = fit_runner(programme, free, library, House(), MONDAY)
    assert isinstance(before, FittedWeek)
    after = fit_runner(programme, held, library, House(), MONDAY)
    if region in ("back", "hip", "groin"):
        assert any(on_the_way(i) for i in items(before)), "no secondary demand to screen: choose another region"
    if isinstance(after, FittedWeek):
        assert not any(asked(i) for i in items(after))
        for item in items(after):
            for way in (item.too_hard, item.too_easy):
                if way is not None:
                    assert not any(
                        a.group in groups and a.base > SECONDARY_FLOOR * (1 + TOLERANCE)
                        for a in library.variants[way.variant_id].asks
                    )
