from __future__ import annotations

import pytest

from ferrule.capacity import curves
from ferrule.fit.intent import NO_CEILING, intent_of
from ferrule.model.finding import Span
from ferrule.model.programme import Block, Dose
from ferrule.model.quantity import Percent, Range

PLACE = Span("programme.md", 1)
WORK = Block("straight", "A", Range.of(3), None, None, (), PLACE)
WARM_UP = Block("warm-up", "W", Range.of(1), None, None, (), PLACE)


def band(dose: Dose, block: Block = WORK, margin: float = 0.0) -> tuple[float, float]:
    intent = intent_of(dose, block, "push", margin)
    return intent.low, intent.high


def test_effort_rules_inside_a_range() -> None:
    assert band(Dose(reps=Range(5, 7), rir=Range.of(2))) == (7, 9)


def test_one_number_with_effort_is_met_within_a_repetition() -> None:
    assert band(Dose(reps=Range.of(8), rir=Range.of(3))) == (11, 12)


def test_a_number_without_effort_has_only_a_floor() -> None:
    assert band(Dose(reps=Range.of(10))) == (11, NO_CEILING)


def test_fewer_reps_than_the_repetition_maximum() -> None:
    # Skovgaard 2014 (programmes reference): 8 repetitions at 15RM.
    assert band(Dose(reps=Range.of(8), rm=Range.of(15))) == (15, 16)


def test_a_percentage_goes_through_the_curve() -> None:
    # Nuzzo 2024 (seen): bench press, 70 % of 1RM, 14.1 repetitions on average.
    low, high = band(Dose(reps=Range.of(8), percent=Percent(Range.of(70), "1RM")))
    assert low == pytest.approx(curves.reps_at(0.7, curves.K_PRESS))
    half_a_rep = 0.5
    assert abs(low - 14.1) < half_a_rep
    assert high > low


def test_a_warm_up_leaves_plenty() -> None:
    assert band(Dose(reps=Range.of(8)), WARM_UP) == (13, NO_CEILING)


def test_a_hold_is_counted_in_tenths() -> None:
    intent = intent_of(Dose(hold_s=Range(20, 30)), WORK, "trunk side", 0.0)
    assert intent.unit == "hold"
    assert intent.hold_s == 30
    assert intent.low == pytest.approx(10 * 20 / 30 + 1)


def test_the_finding_week_asks_for_more_in_reserve() -> None:
    assert band(Dose(reps=Range(5, 7), rir=Range.of(2)), margin=1.0) == (8, 12)


def test_alternating_counts_half() -> None:
    assert band(Dose(reps=Range.of(20), sides="alternating", rir=Range.of(2))) == (12, 13)


def test_what_is_never_a_dose_has_no_band() -> None:
    assert intent_of(Dose(reps=Range.of(8)), WORK, None, 0.0).unit == "none"
    assert intent_of(Dose(distance_m=Range.of(30)), WORK, "push", 0.0).unit == "none"
    assert intent_of(Dose(reps=Range.of(8), unfitted=("slow",)), WORK, "push", 0.0).unit == "none"
