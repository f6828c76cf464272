"""Dates as people write them."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.finding import Span
from ferrule.model.squad import Anchor
from ferrule.squad.dates import WINDOW_DAYS, NoDate, read_date

SPAN = Span("squad.csv", 2)
FROM = Anchor("from", date(2026, 1, 5), SPAN)
RACE = Anchor("to race", date(2026, 5, 17), SPAN)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-01-05", date(2026, 1, 5)),
        ("2026-1-5", date(2026, 1, 5)),
        ("5 January 2026", date(2026, 1, 5)),
        ("5 Jan 2026", date(2026, 1, 5)),
        ("Mon 5 January 2026", date(2026, 1, 5)),
        ("January 5, 2026", date(2026, 1, 5)),
        ("1st of Sept. 2026", date(2026, 9, 1)),
        ("25/12/2026", date(2026, 12, 25)),
        ("12/25/2026", date(2026, 12, 25)),
        ("03.03.2026", date(2026, 3, 3)),
        ("29 February 2028", date(2028, 2, 29)),
    ],
)
def test_one_reading_is_read(text: str, day: date) -> None:
    assert read_date(text, None, "ahead") == day


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("03/04/2026", "ambiguous-date"),
        ("3.4.2026", "ambiguous-date"),
        ("29 February 2026", "unreadable-date"),
        ("2026-13-01", "unreadable-date"),
        ("31/13/2026", "unreadable-date"),
        ("5 Foo 2026", "unreadable-date"),
        ("5 J 2026", "unreadable-date"),
        ("05/01/26", "unreadable-date"),
        ("1926-01-05", "unreadable-date"),
        ("next week", "unreadable-date"),
        ("30 February", "unreadable-date"),
        ("5 January", "date-without-year"),
        ("", "unreadable-date"),
    ],
)
def test_the_rest_says_why_it_is_not(text: str, code: str) -> None:
    found = read_date(text, None if code == "date-without-year" else FROM, "ahead")
    assert isinstance(found, NoDate)
    assert found.code == code


@pytest.mark.parametrize(
    ("text", "anchor", "toward", "day"),
    [
        ("12 March", FROM, "ahead", date(2026, 3, 12)),
        ("20 December", FROM, "ahead", date(2025, 12, 20)),
        ("20 November", FROM, "ahead", None),
        ("20 November", FROM, "behind", date(2025, 11, 20)),
        ("20 January", FROM, "behind", date(2026, 1, 20)),
        ("12 March", RACE, "ahead", date(2026, 3, 12)),
        ("20 December", RACE, "ahead", date(2025, 12, 20)),
        ("1 June", RACE, "ahead", date(2026, 6, 1)),
        ("20 June", RACE, "behind", None),
        ("29 February", FROM, "ahead", None),
    ],
)
def test_a_day_without_a_year(text: str, anchor: Anchor, toward: Literal["ahead", "behind"], day: date | None) -> None:
    found = read_date(text, anchor, toward)
    assert found == day or (day is None and isinstance(found, NoDate) and found.code == "date-without-year")


@given(
    st.dates(date(2002, 1, 1), date(2098, 1, 1)),
    st.sampled_from(sorted(WINDOW_DAYS)),
    st.integers(-400, 400),
)
@settings(max_examples=300, derandomize=True, deadline=None)
def test_a_year_that_is_left_out_is_never_guessed_wrongly(day: date, window: tuple[str, str], away: int) -> None:
    """A day inside the window is found; one outside it never comes back as another year's day inside by luck alone:
    whatever comes back has the written day and month and lies in the window."""
    kind, toward = window
    anchor = Anchor("from" if kind == "from" else "to race", day, SPAN)
    low, high = WINDOW_DAYS[window]
    meant = day + timedelta(days=away)
    found = read_date(f"{meant.day} {meant:%B}", anchor, "ahead" if toward == "ahead" else "behind")
    if low <= away <= high:
        assert found == meant
    elif isinstance(found, date):
        assert (found.day, found.month) == (meant.day, meant.month)
        assert low <= (found - day).days <= high
