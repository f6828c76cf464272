"""The place in the programme, around year ends and clock changes."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Span
from ferrule.model.squad import Anchor, Runner
from ferrule.squad.place import away_words, first_monday, monday_of, programme_week

SPAN = Span("squad.csv", 2)


def runner(kind: str, day: date | None, starts: date | None = None) -> Runner:
    anchor = None if day is None else Anchor("from" if kind == "from" else "to race", day, SPAN)
    return Runner("R01", "Arla T", "some", (), (0,), (), anchor, SPAN, starts=starts)


def test_monday_of_a_day_as_iso_8601_weeks_have_it() -> None:
    """ISO 8601: weeks begin on Monday, week 1 holds the year's first Thursday: 2026-01-01 lies in the week of Monday
    2025-12-29 (2026-W01), 2027-01-01 in that of 2026-12-28 (2026-W53)."""
    assert monday_of(date(2026, 1, 1)) == date(2025, 12, 29) == date.fromisocalendar(2026, 1, 1)
    assert monday_of(date(2027, 1, 1)) == date(2026, 12, 28) == date.fromisocalendar(2026, 53, 1)
    assert monday_of(date(2026, 1, 5)) == date(2026, 1, 5)


@pytest.mark.parametrize(
    ("kind", "day", "monday", "week"),
    [
        ("from", date(2026, 1, 5), date(2026, 1, 5), 1),
        ("from", date(2026, 1, 5), date(2026, 1, 19), 3),
        ("from", date(2026, 1, 11), date(2026, 1, 5), 1),
        ("from", date(2026, 1, 5), date(2025, 12, 29), None),
        ("from", date(2026, 1, 5), date(2026, 2, 9), 6),
        ("from", date(2026, 1, 5), date(2026, 2, 16), None),
        ("from", date(2025, 12, 22), date(2026, 1, 5), 3),
        ("from", date(2026, 12, 21), date(2027, 1, 4), 3),
        ("from", date(2026, 3, 23), date(2026, 3, 30), 2),  # clocks change on 29 March 2026 in Europe
        ("from", date(2026, 10, 19), date(2026, 10, 26), 2),  # and on 25 October
        ("to race", date(2026, 2, 15), date(2026, 2, 9), 6),
        ("to race", date(2026, 2, 9), date(2026, 2, 9), 6),
        ("to race", date(2026, 2, 15), date(2026, 1, 19), 3),
        ("to race", date(2026, 2, 15), date(2026, 1, 5), 1),
        ("to race", date(2026, 2, 15), date(2025, 12, 29), None),
        ("to race", date(2026, 2, 15), date(2026, 2, 16), None),
        ("to race", date(2026, 1, 3), date(2025, 12, 29), 6),
        ("to race", date(2026, 1, 3), date(2025, 11, 24), 1),
    ],
)
def test_the_week_of_a_programme_of_six(kind: str, day: date, monday: date, week: int | None) -> None:
    assert programme_week(runner(kind, day), 6, monday) == week
    assert programme_week(runner(kind, day), 6, monday + timedelta(days=6)) == week
    assert (away_words(runner(kind, day), 6, monday) == "") is (week is not None)


def test_a_late_joiner_comes_in_on_the_first_whole_week() -> None:
    late = runner("from", date(2026, 1, 5), starts=date(2026, 1, 14))
    assert [programme_week(late, 6, date(2026, 1, 5) + timedelta(weeks=n)) for n in range(4)] == [None, None, 3, 4]
    on_monday = runner("from", date(2026, 1, 5), starts=date(2026, 1, 12))
    assert programme_week(on_monday, 6, date(2026, 1, 12)) == 2
    assert away_words(late, 6, date(2026, 1, 5)) == "begins in the week of 2026-01-19"


def test_the_words_for_a_week_without_programme() -> None:
    monday = date(2026, 3, 2)
    assert away_words(runner("from", None), 6, monday).startswith("no anchor")
    assert away_words(runner("from", date(2026, 3, 9)), 6, monday) == "begins in the week of 2026-03-09"
    assert away_words(runner("from", date(2026, 1, 5)), 6, monday) == "the programme ended with the week of 2026-02-09"
    too_late = runner("from", date(2026, 2, 23), starts=date(2026, 6, 1))
    assert (
        away_words(too_late, 6, monday) == "joins on 2026-06-01, after the programme ended with the week of 2026-03-30"
    )
    assert programme_week(runner("from", date(2026, 3, 2)), 0, monday) is None


DAYS = st.dates(date(2001, 1, 1), date(2099, 1, 1))


@given(DAYS, st.sampled_from(["from", "to race"]), st.integers(1, 60))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_each_programme_week_comes_once_and_in_order(day: date, kind: str, weeks: int) -> None:
    one = runner(kind, day)
    first = first_monday(one, weeks)
    assert first is not None
    mondays = [first + timedelta(weeks=n) for n in range(-2, weeks + 2)]
    assert [programme_week(one, weeks, m) for m in mondays] == [None, None, *range(1, weeks + 1), None, None]
    assert programme_week(one, weeks, day) == (1 if kind == "from" else weeks)
