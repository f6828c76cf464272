from __future__ import annotations

from datetime import date

import pytest

from ferrule.capacity import curves
from ferrule.capacity.home_tests import LEFT, reading_of
from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, FieldTest, Runner

PLACE = Span("squad.csv", 2, 1)
RUNNER = Runner(
    "R01", "Ana T", "some", (), (0,), (), Anchor("from", date(2026, 1, 5), PLACE), PLACE, birth_year=2004, sex="male"
)


def test_a_heel_raise_count_reads_back_with_what_was_left() -> None:
    straight, bent = reading_of(FieldTest("heel raises", 20), RUNNER)
    share = 2.718281828459045**-straight.log_capacity
    assert curves.reps_at(share, curves.K_GENERAL) == pytest.approx(20 + LEFT)
    assert bent.log_capacity < straight.log_capacity
    assert bent.sd_log > straight.sd_log


def test_the_median_number_of_chair_rises_reads_as_the_norm() -> None:
    # Strassmann 2013 (seen): men of 20-24 years, median 50 in a minute.
    (at_median,) = reading_of(FieldTest("chair rises", 50), RUNNER)
    (above,) = reading_of(FieldTest("chair rises", 57), RUNNER)
    assert at_median.log_capacity == pytest.approx(1.0757, abs=0.001)  # the norm of the group, men
    assert above.log_capacity > at_median.log_capacity


def test_long_counts_say_less_than_short_ones() -> None:
    (short,) = reading_of(FieldTest("press-ups", 5), RUNNER)
    (long,) = reading_of(FieldTest("press-ups", 60), RUNNER)
    assert long.sd_log > short.sd_log
