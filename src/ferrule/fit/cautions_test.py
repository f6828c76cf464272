from __future__ import annotations

from datetime import date

from ferrule.fit.cautions import cautions_of
from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.model.squad import Hold, Limit, Sore


def test_most_runners_have_none_of_their_own(make_runner: MakeRunner) -> None:
    assert cautions_of(make_runner(), MONDAY) == ()


def test_the_young_the_old_the_cleared_the_limited_and_the_sore_have_theirs(make_runner: MakeRunner) -> None:
    assert "Under 18" in cautions_of(make_runner(birth_year=2010), MONDAY)[0]
    assert "Over 60" in cautions_of(make_runner(birth_year=1960), MONDAY)[0]
    cleared = Hold("after birth", "midwife", date(2025, 12, 15), PLACE)
    assert "midwife on 2025-12-15" in cautions_of(make_runner(holds=(cleared,)), MONDAY)[0]
    limit = Limit("calf", "left", None, date(2026, 3, 12), "physiotherapist", "left calf: nothing", PLACE)
    (said,) = cautions_of(make_runner(limits=(limit,)), MONDAY)
    assert "physiotherapist" in said
    assert "2026-03-12" in said
    assert cautions_of(make_runner(limits=(limit,)), date(2026, 3, 16)) == ()
    assert "left calf" in cautions_of(make_runner(sore=(Sore("calf", "left", 2, PLACE),)), MONDAY)[0]
