"""A limit is told: in words for each level, and as a finding for the squad."""

from __future__ import annotations

from functools import partial

import pytest

from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.gap import gap_words, stopped_early
from ferrule.fit.problem import Answer
from ferrule.fit.solve import solve
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedWeek, Impossible
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad


def test_the_first_level_that_is_open_is_told_with_both_numbers() -> None:
    levels, floors = (30, 0, 12, 400, 3, 0, 9), (30, 0, 10, 0, 0, 0, 0)
    told = gap_words(Answer((), (), (), levels, False, floors))
    assert "coach's text and as given as low as can be" in told
    assert "minutes 12 s over the promise, proven only that it is at least 10" in told
    assert told.endswith("nothing is proven of effort, days, as last week, fixed order")


def test_only_what_is_not_proven_is_a_finding(make_runner: MakeRunner) -> None:
    assert stopped_early(make_runner(), Answer((), (), (), (0,), True, (0,))) == ()
    (finding,) = stopped_early(make_runner(), Answer((), (), (), (0,), False, (0,)))
    assert finding.code == "not-proven"
    assert "the best found within the limit" in finding.what


@pytest.mark.parametrize("limit_s", [0.0, 0.0005, 0.003])
def test_a_tiny_limit_never_passes_in_silence(
    limit_s: float, programme: Programme, library: Library, house: House, make_runner: MakeRunner,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setattr("ferrule.fit.squad.solve", partial(solve, time_limit_s=limit_s))
    week = fit_squad(programme, Squad("s.csv", (make_runner(),)), library, house, MONDAY, lanes=0)
    (outcome,) = week.outcomes
    told = [f for f in week.findings if f.code == "not-proven"]
    if isinstance(outcome, FittedWeek):
        assert bool(told) is not all(p.proven for p in outcome.prices)
    else:
        assert isinstance(outcome, Impossible)
        assert told
        assert "within the limit" in outcome.reasons[0].what
    if limit_s == 0.0:
        assert isinstance(outcome, Impossible)
