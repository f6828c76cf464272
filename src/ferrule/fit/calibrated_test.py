from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ferrule.capacity.foretell import foretell
from ferrule.fit.calibrated import Way, calibrated, correction_of, stated_chance
from ferrule.fit.conftest import MONDAY, MakeRunner
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.calibration import NO_CALIBRATION, Calibration, Correction, Stratum
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Belief, Capacity, Runner

REST = Correction(level=0.4, slope=0.8, sets=500)
MADE = Calibration(202602, date(2026, 1, 4), {}, REST)


def fitted(
    runner: Runner, capacity: Capacity | None, programme: Programme, library: Library, house: House
) -> FittedWeek:
    week = fit_runner(programme, runner, library, house, MONDAY, capacity=capacity)
    assert isinstance(week, FittedWeek)
    assert verify(week, programme, runner, library, house, capacity or capacity_of(runner, MONDAY)) == ()
    return week


def dosed(week: FittedWeek) -> list[FittedItem]:
    return [i for s in week.sessions for b in s.blocks for i in b.items if i.prediction is not None]


def test_without_a_calibration_the_week_is_as_it_was(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner()
    none = replace(capacity_of(runner, MONDAY), calibration=NO_CALIBRATION)
    assert fitted(runner, none, programme, library, house) == fitted(runner, None, programme, library, house)


def test_a_chance_is_stated_corrected_and_the_choice_stays(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    """The verifier works the corrected chances out by itself and finds them right (in `fitted`)."""
    runner = make_runner()
    plain = fitted(runner, None, programme, library, house)
    after = fitted(runner, replace(capacity_of(runner, MONDAY), calibration=MADE), programme, library, house)
    assert [(i.variant_id, i.load) for i in dosed(after)] == [(i.variant_id, i.load) for i in dosed(plain)]
    said = [i.prediction.p_complete for i in dosed(after) if i.prediction is not None]
    was = [i.prediction.p_complete for i in dosed(plain) if i.prediction is not None]
    assert said != was
    assert all(0 <= p <= 1 for p in said)


def test_a_corrected_reserve_moves_the_share_and_the_verifier_follows(
    programme: Programme, library: Library, house: House, make_runner: MakeRunner
) -> None:
    runner = make_runner()
    by = Calibration(202602, date(2026, 1, 4), {}, replace(REST, shift=-0.6, factor=1.3, readings=300))
    plain = fitted(runner, None, programme, library, house)
    after = fitted(runner, replace(capacity_of(runner, MONDAY), calibration=by), programme, library, house)
    pairs = [
        (a.prediction, b.prediction)
        for a, b in zip(dosed(plain), dosed(after), strict=True)
        if (a.variant_id, a.load, a.sets) == (b.variant_id, b.load, b.sets) and a.hold_s is None
    ]
    assert pairs
    assert all(a is not None and b is not None and b.share > a.share for a, b in pairs)


def test_the_mean_moves_by_foretold_spreads_and_variances_add(library: Library, make_runner: MakeRunner) -> None:
    capacity = capacity_of(make_runner(), MONDAY)
    press = library.variants["press-up"]
    by = Calibration(1, None, {Stratum("known", "without load"): Correction(0.5, 1.2, readings=200)}, Correction())
    known = replace(capacity, variants={"press-up": Belief(0.8, 0.1, 9, 3)}, calibration=by)
    spread = foretell(known, press, 0.0, None, 70.0).sd
    mean, sd = calibrated(known, Way(press, 1.0, False, False), (0.8, 0.1))
    assert mean == pytest.approx(0.8 + 0.5 * spread)
    assert sd**2 == pytest.approx(0.1**2 + (1.2**2 - 1) * spread**2)
    first = replace(known, variants={})
    assert calibrated(first, Way(press, 1.0, False, False), (0.8, 0.1)) == (0.8, 0.1)  # too few sets of first goes


def test_the_corrected_chance_is_that_of_the_first_set(library: Library, make_runner: MakeRunner) -> None:
    capacity = replace(capacity_of(make_runner(), MONDAY), calibration=MADE)
    press = library.variants["press-up"]
    foretold = foretell(capacity, press, 0.0, None, 70.0).chance(8)
    assert stated_chance(capacity, Way(press, 1.0, False, False), 8) == pytest.approx(REST.chance(foretold))
    uncorrected = replace(capacity, calibration=NO_CALIBRATION)
    assert stated_chance(uncorrected, Way(press, 1.0, False, False), 8) == pytest.approx(foretold)
    assert stated_chance(uncorrected, Way(press, 1.0, False, False), 0) == 1.0


def test_seconds_asked_of_what_is_counted_are_not_corrected(library: Library, make_runner: MakeRunner) -> None:
    capacity = replace(capacity_of(make_runner(), MONDAY), calibration=MADE)
    assert correction_of(capacity, Way(library.variants["press-up"], 1.0, True, False)).same
