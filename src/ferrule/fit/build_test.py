"""The Problem's own timing equals that of the checks; its prices follow the design's order."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ferrule.fit.build import Laid, build, rebuild, sets_at
from ferrule.fit.choices import OPEN_LOAD
from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.problem import Answer
from ferrule.fit.runner import lay
from ferrule.fit.solve import solve
from ferrule.fit.week import fitted_minutes
from ferrule.model.exercise import Library
from ferrule.model.house import House
from ferrule.model.programme import Block, Dose, Item, Named, Programme
from ferrule.model.quantity import Range


@pytest.fixture(scope="module")
def laid(programme: Programme, library: Library, house: House, make_runner: MakeRunner) -> Laid:
    found = lay(programme, make_runner(), library, house, MONDAY)
    assert isinstance(found, Laid)
    return found


def model_s(laid: Laid, answer: Answer, session: int) -> int:
    p = laid.problem
    own = sum(b.reductions[answer.reduction[n]][1] for n, b in enumerate(p.blocks) if b.session == session)
    lines = 0
    for i, line in enumerate(p.lines):
        a = answer.option[i]
        if line.session == session and a is not None:
            lines += line.options[a].line_s[answer.reduction[line.block]]
    return own + lines - 60


def test_the_model_counts_the_minutes_of_the_plan(laid: Laid) -> None:
    answer = solve(laid.problem)
    for s in range(len(laid.problem.sessions)):
        rounding_s = 30  # every line and block is rounded up to a second
        assert 0 <= model_s(laid, answer, s) - 60 * fitted_minutes(laid, answer, s) <= rounding_s


def test_written_lines_within_the_band_cost_nothing(laid: Laid) -> None:
    for line, said in zip(laid.problem.lines, laid.lines, strict=True):
        best = min(c.expected_loss for c in said.choices.choices)
        for option, choice in zip(line.options, said.choices.choices, strict=True):
            if choice.distance == 0 and choice.expected_loss <= best + House().value("hysteresis"):
                assert option.text == 0


def test_pinned_lines_keep_the_text_whatever_the_effort(laid: Laid) -> None:
    every = frozenset((laid.week.sessions[ln.session].key, ln.item.key) for ln in laid.lines)
    pinned = build(laid.programme, laid.week, laid.setting, None, every)
    for line, said in zip(pinned.problem.lines, pinned.lines, strict=True):
        for option, choice in zip(line.options, said.choices.choices, strict=True):
            if choice.distance <= OPEN_LOAD and choice.origin in ("written", "slot"):
                assert option.text == choice.distance


def test_rebuilding_for_other_days_is_building(laid: Laid, make_runner: MakeRunner) -> None:
    setting = replace(laid.setting, runner=make_runner(days=(1, 4), minutes=20))
    assert rebuild(laid, setting).problem == build(laid.programme, laid.week, setting).problem


def test_sets_are_cut_but_never_below_one() -> None:
    own = Item("A", Named("Squat", "squat"), Dose(sets=Range.of(2), reps=Range.of(8)), PLACE)
    block = Block("straight", "A", None, None, None, (own,), PLACE)
    assert [sets_at(own, block, rounds, 2) for rounds in (2, 1)] == [2, 1]
    each = replace(own, dose=Dose(per_set=(12, 10, 8)))
    assert [sets_at(each, block, rounds, 3) for rounds in (3, 2, 1)] == [3, 2, 1]
