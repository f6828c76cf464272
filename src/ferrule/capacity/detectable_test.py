"""The smallest detectable change against published tables, and what is never claimed."""

from __future__ import annotations

import csv
import math
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity.detectable import (
    SETS_SE_LOG,
    Change,
    change_of,
    changes_of_tests,
    reliability,
    smallest_detectable,
)
from ferrule.capacity.home_tests import HEEL_RAISE_SE
from ferrule.model.entry import LoggedTest
from ferrule.model.squad import Capacity, TestKind

DATA = Path(__file__).parents[3] / "tests" / "data" / "body" / "shrout_fleiss_1979.csv"


def test_six_forms_of_the_icc_as_published() -> None:
    """Shrout and Fleiss 1979, the worked example of six persons and four judges: .17 .29 .71 and .44 .62 .91
    (.29 seen, the others from memory). SEM 1.0097 and SDC 2.7987 by the formulas above, computed independently."""
    with DATA.open(encoding="utf-8") as file:
        table = [[float(x) for x in row] for row in list(csv.reader(file))[1:]]
    found = reliability(table)
    assert [round(x, 2) for x in (*found.one, *found.mean)] == [0.17, 0.29, 0.71, 0.44, 0.62, 0.91]
    assert found.sem == pytest.approx(1.0097, abs=5e-5)
    assert smallest_detectable(found.sem) == pytest.approx(2.7987, abs=5e-5)


def test_worked_value_of_standard_measurement_theory() -> None:
    assert smallest_detectable(2) == pytest.approx(5.54, abs=0.01)


def test_the_heel_raise_gives_back_its_limits_of_agreement() -> None:
    """Hebert-Losier 2017 (seen): limits between days -6.2 to 6.5 repetitions, half their width 6.35."""
    assert smallest_detectable(HEEL_RAISE_SE) == pytest.approx(6.35)


def test_one_maximum_tested_twice() -> None:
    """Grgic 2020 (seen): median CV 4.2 %, so that less than about 12 % is no change of one person."""
    assert 100 * smallest_detectable(SETS_SE_LOG) == pytest.approx(11.6, abs=0.1)


@pytest.mark.parametrize("table", [[], [[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], [1.0]]])
def test_a_table_that_is_none(table: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="two"):
        reliability(table)


def capacity(mean: float, sd: float) -> Capacity:
    return Capacity("R01", {"push": mean}, {"push": sd}, {"push": ()})


def change(mean: float, sd: float = 0.03, sets: int = 6) -> Change:
    found = change_of(capacity(0.0, sd), capacity(mean, sd), "push", sets)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("mean", "sd", "sets", "verdict"),
    [
        (0.20, 0.03, 6, "more"),
        (-0.20, 0.03, 6, "less"),
        (0.11, 0.03, 6, "no change told"),  # under 12 %, however sure the belief
        (0.11, 0.001, 6, "no change told"),
        (0.20, 0.10, 6, "no change told"),  # 1.96 hypot(0.1, 0.1) is 0.277
        (0.29, 0.10, 6, "more"),
        (0.50, 0.03, 0, "no information"),  # nothing was told: what time alone does is no gain
    ],
)
def test_no_gain_below_what_can_be_detected(mean: float, sd: float, sets: int, verdict: str) -> None:
    assert change(mean, sd, sets).verdict == verdict


def test_equal_errors_give_the_formula_of_test_theory() -> None:
    assert change(0.1, 0.1).detectable == pytest.approx(smallest_detectable(0.1))


def test_a_group_nobody_knows() -> None:
    assert change_of(capacity(0, 1), capacity(0, 1), "pull", 3) is None


def test_in_per_cent() -> None:
    low, middle, high = change(math.log(1.2), 0.03).percent
    assert (round(low), round(middle), round(high)) == (14, 20, 27)
    assert change(0.2).detectable_percent == pytest.approx(12.35, abs=0.01)


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.floats(-1, 1), st.floats(0.001, 1), st.floats(0.001, 1))
def test_a_wider_spread_never_claims_what_a_narrower_did_not(mean: float, sd: float, wider: float) -> None:
    order = ("no change told", "less", "more")
    narrow, wide = change(mean, sd).verdict, change(mean, sd + wider).verdict
    assert wide in (narrow, "no change told")
    assert narrow in order


def logged(kind: TestKind, day: int, value: float) -> LoggedTest:
    return LoggedTest(f"e{day}", "R01", date(2026, 1, day), kind, value)


@pytest.mark.parametrize(
    ("kind", "first", "last", "verdict"),
    [
        ("heel raises", 20, 26, "no change told"),
        ("heel raises", 20, 27, "more"),
        ("heel raises", 27, 20, "less"),
        ("press-ups", 10, 18, "no change told"),
        ("press-ups", 10, 19, "more"),
        ("front plank", 60, 98, "no change told"),  # exp(1.96 sqrt(2) 0.18) is 1.65
        ("front plank", 60, 99, "more"),
        ("chair rises", 30, 60, "no change told"),  # its error is not known
    ],
)
def test_home_tests_done_twice(kind: TestKind, first: float, last: float, verdict: str) -> None:
    (found,) = changes_of_tests([logged(kind, 28, last), logged(kind, 5, first)])
    assert (found.first.value, found.last.value) == (first, last)
    assert found.verdict == verdict


def test_one_test_alone_is_no_change() -> None:
    assert changes_of_tests([logged("heel raises", 5, 20)]) == ()
