"""Rating times minutes, and its sum."""

from __future__ import annotations

from datetime import date

import pytest

from ferrule.model.fact import SessionTold
from ferrule.notice.session_load import load_of, load_words, week_load

MONDAY = date(2026, 1, 19)


def told(day: int, rating: int | None, minutes: float | None, outcome: str = "did") -> SessionTold:
    return SessionTold(MONDAY.replace(day=19 + day), "s1", outcome, rating=rating, minutes=minutes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("rating", "minutes", "load"), [(5, 60, 300), (7, 40, 280), (0, 30, 0), (5, None, None), (None, 60, None)]
)
def test_the_published_product(rating: int | None, minutes: float | None, load: float | None) -> None:
    """Foster 1998/2001: 5 x 60 min = 300."""
    assert load_of(told(0, rating, minutes)) == load


def test_the_week_sums_what_was_told_and_counts_what_was_not() -> None:
    sessions = [told(0, 5, 60), told(2, 4, 30), told(4, None, 30), told(5, 6, 30, "none"), told(7, 9, 90)]
    week = week_load(sessions, MONDAY.replace(day=22))
    assert (week.monday, week.load, week.counted, week.told) == (MONDAY, 420, 2, 3)
    words = load_words(week)
    assert "420 (rating x minutes, 2 of 3 sessions)" in words
    assert "little about short strength sessions" in words


def test_nothing_told_is_not_nought() -> None:
    assert "not known" in load_words(week_load([told(4, None, 30)], MONDAY))
