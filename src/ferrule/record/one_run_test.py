"""When two runs are one."""

from __future__ import annotations

from datetime import date, time

import pytest

from ferrule.model.fact import RunTold
from ferrule.record.one_run import one_run

DAY = date(2026, 1, 18)


def run(at: time | None, minutes: float | None) -> RunTold:
    return RunTold(DAY, 10.0, minutes, None, at)


@pytest.mark.parametrize(
    ("at", "minutes", "one"),
    [
        (time(7), 60.0, True),
        (time(7, 20), 30.0, True),
        (time(7, 29), 60.0, True),
        (time(7, 30), 60.0, False),
        (time(8), 60.0, False),
        (None, 60.0, False),
        (time(7), None, False),
        (time(7), 0.0, False),
    ],
)
def test_more_than_half_of_the_shorter(at: time | None, minutes: float | None, one: bool) -> None:
    assert one_run(run(time(7), 60.0), run(at, minutes)) is one
    assert one_run(run(at, minutes), run(time(7), 60.0)) is one


def test_an_hour_at_the_end_of_days() -> None:
    last = RunTold(date.max, 10.0, 120.0, None, time(23))
    assert not one_run(last, last)
