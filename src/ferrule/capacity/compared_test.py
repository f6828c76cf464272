from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.capacity.compared import compared, compared_week, completed
from ferrule.capacity.foretell import foretell
from ferrule.capacity.prior import prior_capacity
from ferrule.library.reader import load_library
from ferrule.model.calibration import Stratum
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.finding import Span
from ferrule.model.squad import Belief, Runner

LIBRARY, _ = load_library()
DAY = date(2026, 1, 7)
RUNNER = Runner("R01", "R01", "some", (), (0,), (), None, Span("squad.csv", 2, 1), sex="male", mass_kg=70.0)
PRIOR = prior_capacity(RUNNER, 2026)
SAID = foretell(PRIOR, LIBRARY.variants["press-up"], 0.0, None, 70.0)
DONE = LoggedSet("e1", "R01", DAY, "s1", "a", "press-up", 1, "counted", asked=8, done=8)
KNOWN = Stratum("known", "without load")


def test_a_tap_says_that_it_was_completed_and_a_failed_set_that_it_was_not() -> None:
    assert completed(replace(DONE, outcome="tapped", done=None)) is True
    assert completed(DONE) is True
    assert completed(replace(DONE, outcome="failed", done=6)) is False
    assert completed(replace(DONE, outcome="failed", done=9)) is True


def test_pain_time_kit_and_silence_say_nothing_of_completing() -> None:
    assert completed(replace(DONE, stopped="pain", done=4)) is None
    assert completed(replace(DONE, stopped="time", done=4)) is None
    assert completed(replace(DONE, outcome="not said", done=None)) is None
    assert completed(replace(DONE, asked=None)) is None


def test_a_set_ended_on_purpose_counts_by_what_was_left() -> None:
    assert completed(replace(DONE, done=6, reserve=Reserve(3, 3))) is True
    assert completed(replace(DONE, done=6, reserve=Reserve(0, 0))) is False  # 6 + 0.5 + 0.4 < 8
    assert completed(replace(DONE, done=6)) is None


def test_what_was_told_is_counted_in_foretold_spreads() -> None:
    one = compared(replace(DONE, reserve=Reserve(2, 2)), SAID.z_of, LIBRARY, 70.0, KNOWN, finding=False)
    assert one is not None
    assert one.reading == "exact"
    assert one.z == pytest.approx(SAID.z_of(8 + 2 + 0.5 + 1.0))  # half of the next, and one more, as people say
    assert one.asked_z == pytest.approx(SAID.z_of(8))
    bound = compared(replace(DONE, outcome="tapped", done=None), SAID.z_of, LIBRARY, 70.0, KNOWN, finding=False)
    assert bound is not None
    assert bound.reading == "at least"


def test_a_slip_is_not_compared() -> None:
    sure = replace(SAID, sd=0.05)
    heavy = replace(sure, log_share=sure.log_share + 2)  # as if 120 kg had been told for 12
    assert compared(DONE, heavy.z_of, LIBRARY, 70.0, KNOWN, finding=False) is None
    ten_times = compared(replace(DONE, done=80, reserve=Reserve(2, 2)), sure.z_of, LIBRARY, 70.0, KNOWN, finding=False)
    assert ten_times is not None
    assert ten_times.reading == "nothing"


def test_of_a_week_first_sets_are_compared_with_the_belief_before_it() -> None:
    third = replace(DONE, entry_id="e3", number=3, effort_asked=True, reserve=Reserve(1, 1))
    sets = [DONE, replace(DONE, entry_id="e2", number=2), third, replace(DONE, entry_id="e4", variant_id="ankle-rock")]
    before = compared_week(sets, PRIOR, LIBRARY, 70.0)
    assert [(c.entry_id, c.finding, c.done) for c in before] == [("e1", True, True), ("e3", True, None)]
    assert before[1].asked_z > before[0].asked_z  # two sets were done before it
    told = replace(PRIOR, finding_week=False, variants={"press-up": Belief(0.5, 0.1, 4, 1)})
    assert [(c.stratum, c.finding) for c in compared_week(sets[:1], told, LIBRARY, 70.0)] == [
        (Stratum("second go", "without load"), False)
    ]
