"""The longest-run rule, at the published borders."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from ferrule.model.fact import RunTold
from ferrule.model.house import House
from ferrule.notice.longest_run import beyond_percent, longest_before, longest_run

DAY = date(2026, 2, 1)


def run(km: float, ago: int = 0) -> RunTold:
    return RunTold(DAY - timedelta(days=ago), km, None)


@pytest.mark.parametrize(
    ("km", "said"),
    [(10.0, ""), (11.0, ""), (11.1, "1.64"), (13.0, "1.64"), (13.1, "1.52"), (20.0, "1.52"), (20.1, "2.28")],
)
def test_the_borders_of_the_cohort(km: float, said: str) -> None:
    """Frandsen 2025: more than 10-30 %, more than 30-100 %, more than 100 %."""
    found = longest_run(run(km), [run(10.0, 30), run(4.0, 2), run(km)], House())
    assert (found is not None) == bool(said)
    if found:
        assert said in found.why
        assert found.level == "advice"


def test_only_the_thirty_days_before_count() -> None:
    assert longest_before(run(20.0), [run(15.0, 31), run(10.0, 30), run(40.0, 0), run(30.0, -1)]) == run(10.0, 30)
    assert beyond_percent(run(12.0), [run(10.0, 30)]) == pytest.approx(20)
    assert longest_run(run(20.0), [run(15.0, 31)], House()) is None, "nothing known is nothing said"


def test_the_house_may_move_the_line() -> None:
    assert longest_run(run(12.0), [run(10.0, 3)], House({"longest-run-percent": 25})) is None
    assert longest_run(run(12.0), [run(10.0, 3)], House({"longest-run-percent": 0})) is not None
    below = longest_run(run(10.5), [run(10.0, 3)], House({"longest-run-percent": 0}))
    assert below is not None
    assert "injured" not in below.why, "the cohort says nothing of less than 10 %"
