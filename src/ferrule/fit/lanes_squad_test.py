"""Lanes coupled with the runners' fits, on the demo's squad."""

from __future__ import annotations

import pytest

from ferrule.fit.conftest import MONDAY
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, SquadLanes, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad

Line = tuple[str, str]


@pytest.fixture(scope="module")
def two(demo: Programme, squad: Squad, library: Library) -> SquadWeek:
    return fit_squad(demo, squad, library, House(), MONDAY, lanes=2)


@pytest.fixture(scope="module")
def free(demo: Programme, squad: Squad, library: Library) -> SquadWeek:
    return fit_squad(demo, squad, library, House(), MONDAY, lanes=0)


def doing(week: SquadWeek) -> dict[Line, dict[str, str]]:
    """Line -> runner -> variant."""
    out: dict[Line, dict[str, str]] = {}
    for one in week.outcomes:
        if isinstance(one, FittedWeek):
            for s in one.sessions:
                for i in (i for b in s.blocks for i in b.items):
                    out.setdefault((s.key.split(" (")[0], i.item_key), {})[one.runner_id] = i.variant_id
    return out


def told(week: SquadWeek) -> SquadLanes:
    assert week.lanes is not None
    return week.lanes


def test_no_line_has_more_variants_than_lanes_but_for_named_exceptions(two: SquadWeek) -> None:
    apart = {(x.session_key, x.item_key): {r for r, _ in x.exceptions} for x in told(two).lines}
    lines = doing(two)
    assert lines
    for line, who in lines.items():
        assert len({v for r, v in who.items() if r not in apart.get(line, set())}) <= 2, line


def test_lanes_cost_something_and_the_price_is_said(two: SquadWeek, free: SquadWeek) -> None:
    most = max(len(set(who.values())) for who in doing(free).values())
    assert most > 2  # else this squad is no test
    lanes = told(two)
    assert (lanes.text, lanes.effort) > (lanes.free_text, lanes.free_effort)
    assert all(x.wanted > 2 and x.gap == 0 for x in lanes.lines)
    for x in lanes.lines:
        who = {r for _, _, ids in x.lanes for r in ids} | {r for r, _ in x.exceptions}
        assert who == set(doing(two)[x.session_key, x.item_key])


def test_nobody_loses_a_line_to_the_lanes(two: SquadWeek, free: SquadWeek) -> None:
    assert {k: set(v) for k, v in doing(two).items()} == {k: set(v) for k, v in doing(free).items()}


def test_lanes_enough_for_everybody_change_nothing(
    demo: Programme, squad: Squad, library: Library, free: SquadWeek
) -> None:
    many = fit_squad(demo, squad, library, House(), MONDAY, lanes=12)
    assert doing(many) == doing(free)
    assert not told(many).lines
    assert told(many).text == told(many).free_text


def test_a_line_left_for_a_lane_says_so(two: SquadWeek) -> None:
    codes = {
        r.code
        for w in two.outcomes
        if isinstance(w, FittedWeek)
        for s in w.sessions
        for b in s.blocks
        for i in b.items
        for r in i.reasons
    }
    assert "lane" in codes


def test_lanes_come_from_the_house_rule(demo: Programme, squad: Squad, library: Library) -> None:
    some = Squad(squad.file, squad.runners[:3])
    assert told(fit_squad(demo, some, library, House(), MONDAY)).most == 3
    assert fit_squad(demo, some, library, House({"lanes-a-line": 0}), MONDAY).lanes is None
