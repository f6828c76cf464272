"""Runs out: against a simulation, the published gain of a year, and more kit."""

from __future__ import annotations

import math
import random

import pytest

from ferrule.capacity.drift import GAIN_CV
from ferrule.fit.conftest import KIT, MONDAY, MakeRunner
from ferrule.fit.runs_out import gained, moving_on, runs_out, soon, when
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import RunsOut, When
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import KitItem, Runner, Squad


def test_a_first_year_gains_what_was_published() -> None:
    """30 to 50 % in the first year of training (Steele 2022, seen); what is capped in the first weeks is taken off."""
    assert 0.20 < math.expm1(gained(1, 52)) < 0.50
    assert gained(312, 52) < 0.02 < gained(6, 12)


def test_the_interval_is_that_of_a_simulation() -> None:
    """20,000 people of the same belief: the week by which 10, 50 and 90 % of them are past the mark."""
    rng = random.Random(7)
    to_gain, sd, weeks = 0.05, 0.02, 1.0
    found = when(to_gain, sd, weeks)
    people = [(rng.gauss(0, sd), rng.gauss(1, GAIN_CV)) for _ in range(20_000)]
    for mark, week in ((0.1, found.early), (0.5, found.middle), (0.9, found.late)):
        assert week is not None

        def past(t: int) -> float:
            gain = gained(weeks, t)
            return sum(now + pace * gain >= to_gain for now, pace in people) / len(people)

        assert past(week) >= mark - 0.015
        assert week == 0 or past(week - 1) <= mark + 0.015


def test_nothing_to_gain_and_no_doubt_is_now() -> None:
    assert when(0.0, 0.0, 6) == When(0, 0, 0)
    assert when(math.inf, 0.2, 6) == When(None, None, None)


def test_less_doubt_is_a_narrower_interval() -> None:
    wide, narrow = when(0.05, 0.2, 1), when(0.05, 0.02, 1)
    assert wide.early is not None
    assert narrow.early is not None
    assert wide.early <= narrow.early
    assert narrow.late is not None
    assert wide.late is None or wide.late >= narrow.late


def found_for(runner: Runner, programme: Programme, library: Library) -> tuple[RunsOut, ...]:
    squad = Squad("s.csv", (runner,))
    return runs_out(programme, squad, fit_squad(programme, squad, library, House(), MONDAY), library, House())


def test_more_kit_never_runs_out_sooner(programme: Programme, library: Library, make_runner: MakeRunner) -> None:
    bare = tuple(k for k in KIT if k.kind != "dumbbell")
    less = found_for(make_runner(kit=(*bare, KitItem("dumbbell", 2, kg=2))), programme, library)
    more = found_for(make_runner(kit=(*KIT, KitItem("dumbbell", 2, kg=2))), programme, library)
    by_line = {(r.session_key, r.item_key): r for r in more}
    assert less
    later = 0
    for r in less:
        then = by_line[r.session_key, r.item_key].kit.middle
        assert then is None or (r.kit.middle is not None and then >= r.kit.middle)
        later += then != r.kit.middle
    assert later  # the weight is of use somewhere


@pytest.mark.parametrize("level", ["never", "strong"])
def test_only_lines_with_a_stated_effort_run_out(
    level: str, programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    found = found_for(make_runner(level=level), programme, library)
    lines = {(r.session_key, r.item_key) for r in found}
    assert ("1", "B2") not in lines  # a side plank of 20-30 s
    assert ("1", "A1") in lines  # a step-up with 2 RIR


def test_soon_and_moving_on_part_the_lines_and_come_in_order(
    programme: Programme, library: Library, make_runner: MakeRunner
) -> None:
    found = found_for(make_runner(level="strong", kit=(KitItem("mat"), KitItem("chair"))), programme, library)
    kit, variant = soon(found), moving_on(found)
    assert kit
    assert not set(kit) & set(variant)
    assert [r.kit.middle for r in kit] == sorted(r.kit.middle or 0 for r in kit)
    assert all(r.kit.middle is not None and r.week + r.kit.middle <= r.weeks for r in kit)
