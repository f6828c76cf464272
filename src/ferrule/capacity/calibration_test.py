from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import date, timedelta
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity.calibration import calibrate, corrected_chance
from ferrule.capacity.compared import Compared
from ferrule.capacity.versions import Version
from ferrule.model.calibration import LEAST_SETS, NO_CALIBRATION, SAME, Correction, Stratum, stratum_of

MONDAY = date(2026, 2, 2)
VERSION = Version(MONDAY)
KNOWN, FIRST = Stratum("known", "with load"), Stratum("first go", "hold")


def drawn(
    count: int, stratum: Stratum, *, finding: bool = False, shift: float = 0.0, factor: float = 1.0, seed: int = 1
) -> list[Compared]:
    """Sets whose truth is normal(shift, factor) foretold spreads; a third is told exactly, the others as bounds."""
    rng = random.Random(seed)
    found = []
    for i in range(count):
        asked, truth = rng.gauss(-0.8, 0.7), rng.gauss(shift, factor)
        done = truth >= asked
        exact = not done or i % 3 == 0
        found.append(
            Compared(
                f"{stratum}{seed}-{i}", "R01", MONDAY - timedelta(1 + i % 21), stratum, finding, asked, done,
                "exact" if exact else "at least", truth if exact else asked,
            )
        )  # fmt: skip
    return found


def test_before_anything_is_told_nothing_is_corrected() -> None:
    empty = calibrate([], VERSION)
    assert empty.of(KNOWN) == SAME
    assert not empty.strata
    assert corrected_chance(NO_CALIBRATION.of(KNOWN), -1.0) == pytest.approx(0.8413, abs=1e-4)
    assert "too few" in empty.words(KNOWN)


def test_what_was_foretold_rightly_stays_nearly_as_it_is() -> None:
    by = calibrate(drawn(3000, KNOWN), VERSION).of(KNOWN)
    assert by.shift == 0
    assert by.factor == pytest.approx(1.0, abs=0.05)
    for z in (-2.0, -1.0, 0.0, 0.5):
        assert corrected_chance(by, z) == pytest.approx(0.5 * math.erfc(z / math.sqrt(2)), abs=0.03)


@pytest.mark.parametrize(("shift", "factor"), [(0.6, 1.4), (-0.5, 1.2)])
def test_shift_and_factor_of_the_reserve_are_found_through_bounds(shift: float, factor: float) -> None:
    by = calibrate(drawn(3000, KNOWN, shift=shift, factor=factor), VERSION).of(KNOWN)
    assert by.shift == pytest.approx(math.copysign(abs(shift) - 0.2, shift), abs=0.08)  # the rest may be the telling
    assert by.factor == pytest.approx(factor, abs=0.08)


def test_no_spread_is_made_narrower() -> None:
    assert calibrate(drawn(3000, KNOWN, factor=0.6), VERSION).of(KNOWN).factor == 1


def test_doses_that_lean_on_the_truth_do_not_pass_for_strength() -> None:
    """Who is weaker is asked less: bounds alone would say that everybody manages more than was foretold."""
    rng, found = random.Random(5), []
    for i in range(3000):
        truth = rng.gauss(0, 1)
        asked = 0.6 * truth - 0.8 + rng.gauss(0, 0.4)
        kind: Literal["exact", "at least"] = "exact" if truth < asked + 0.5 else "at least"
        z = truth if kind == "exact" else asked + 0.5
        found.append(Compared(f"{i}", "R01", MONDAY - timedelta(3), KNOWN, False, asked, truth >= asked, kind, z))
    by = calibrate(found, VERSION).of(KNOWN)
    assert by.shift == 0
    assert by.factor == pytest.approx(1.0, abs=0.1)


def test_chances_come_out_as_often_as_they_are_stated() -> None:
    by = calibrate(drawn(3000, KNOWN, shift=0.4, factor=0.7), VERSION).of(KNOWN)
    fresh = drawn(6000, KNOWN, shift=0.4, factor=0.7, seed=2)
    for low, high in ((0.2, 0.5), (0.5, 0.8), (0.8, 0.95), (0.95, 1.0)):
        inside = [c for c in fresh if low <= corrected_chance(by, c.asked_z) < high]
        stated = sum(corrected_chance(by, c.asked_z) for c in inside) / len(inside)
        assert sum(bool(c.done) for c in inside) / len(inside) == pytest.approx(stated, abs=0.05)


def test_what_contradicts_every_chance_makes_none_likelier_for_more() -> None:
    """The more was asked the more often it was done: chances come together, at what happened, and never turn round."""
    rng = random.Random(3)
    told = [replace(c, done=rng.random() < (0.8 if c.asked_z > -0.8 else 0.4)) for c in drawn(2000, KNOWN)]
    by = calibrate(told, VERSION).of(KNOWN)
    chances = [by.chance(p / 100) for p in range(101)]
    assert chances == sorted(chances)
    share = sum(bool(c.done) for c in told) / len(told)
    assert sum(corrected_chance(by, c.asked_z) for c in told) / len(told) == pytest.approx(share, abs=0.02)


def test_fewer_than_138_sets_take_what_all_together_tell_and_say_so() -> None:
    few = drawn(LEAST_SETS - 1, FIRST, shift=-0.5)
    made = calibrate([*drawn(1000, KNOWN, shift=0.4), *few], VERSION)
    assert FIRST not in made.strata
    assert made.of(FIRST).level == made.rest.level
    assert "of all kinds" in made.words(FIRST)
    one_more = calibrate([*drawn(1000, KNOWN, shift=0.4), *drawn(LEAST_SETS, FIRST, shift=-0.5)], VERSION)
    assert one_more.of(FIRST).level < made.rest.level
    assert one_more.words(FIRST) == "corrected by 138 sets of this squad (first go, hold)"


def test_the_finding_week_moves_what_comes_after_it_a_little_only() -> None:
    by = calibrate(drawn(500, KNOWN, finding=True, shift=1.0), VERSION).rest
    same_sets = calibrate(drawn(500, KNOWN, shift=1.0), VERSION).rest
    assert 0 < by.level < same_sets.level


def test_sets_after_the_version_do_not_count() -> None:
    told = drawn(400, KNOWN, shift=0.4)
    late = [replace(c, entry_id=f"late {c.entry_id}", day=MONDAY) for c in drawn(400, KNOWN, shift=-1.0, seed=3)]
    assert calibrate([*told, *late], VERSION) == calibrate(told, VERSION)


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.randoms(use_true_random=False))
def test_the_order_in_which_sets_arrive_does_not_matter_and_twice_is_once(order: random.Random) -> None:
    told = [*drawn(200, KNOWN, shift=0.3), *drawn(150, FIRST)]
    mixed = told + told[:50]
    order.shuffle(mixed)
    assert calibrate(mixed, VERSION) == calibrate(told, VERSION)


@pytest.mark.parametrize("by", [SAME, Correction(level=0.5, slope=0.8), Correction(0.3, 1.1, -0.2, 1.3)])
def test_a_higher_chance_stays_higher(by: Correction) -> None:
    chances = [by.chance(p / 100) for p in range(101)]
    assert chances == sorted(chances)
    assert 0 <= chances[0] < chances[-1] <= 1


def test_strata_are_by_days_known_and_by_how_it_is_counted() -> None:
    assert stratum_of(0, hold=True, loaded=True) == FIRST
    assert stratum_of(7, hold=False, loaded=True) == KNOWN
    assert str(stratum_of(1, hold=False, loaded=False)) == "second go, without load"
