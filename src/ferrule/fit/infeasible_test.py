from __future__ import annotations

from ferrule.fit.build import Laid
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.constraints import minutes
from ferrule.fit.days import DAYS_RULE, KEY_RULE
from ferrule.fit.infeasible import impossible, rule_words
from ferrule.fit.runner import lay
from ferrule.fit.solve import solve
from ferrule.model.exercise import Library
from ferrule.model.house import House
from ferrule.model.programme import Programme


def test_a_core_is_one_sentence(make_runner: MakeRunner) -> None:
    said = rule_words((DAYS_RULE, KEY_RULE), make_runner(days=(0, 4)))
    assert (
        said
        == "no time is left: only Mon, Fri are possible; leg work stays clear of the hours before a key or long run"
    )
    assert "minutes" in rule_words((minutes.NAME,), make_runner())
    assert rule_words((), make_runner()) == "another session is kept instead"


def test_no_possible_day_is_said_and_a_day_is_the_way_out(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    laid = lay(programme, make_runner(days=()), library, house, MONDAY)
    assert isinstance(laid, Laid)
    told = impossible(laid, solve(laid.problem))
    assert "only no days are possible" in told.reasons[0].what
    assert any("becomes possible" in w.text for w in told.ways_out)
    assert told.reasons[0].fix == told.ways_out[0].text
