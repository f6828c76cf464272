from __future__ import annotations

import argparse
from datetime import date

import pytest

from ferrule.cli.arguments import day, named


def test_a_date_is_year_month_day() -> None:
    assert day("2026-01-19") == date(2026, 1, 19)


@pytest.mark.parametrize("text", ["", "19.1.2026", "2026-13-01", "0001-01-01", "9999-12-31", "tomorrow"])
def test_what_is_no_date_is_said(text: str) -> None:
    with pytest.raises(argparse.ArgumentTypeError, match=r"write it as|plans for"):
        day(text)


def test_a_name_is_tidied() -> None:
    assert named("  A.   Coach ") == "A. Coach"


@pytest.mark.parametrize("text", ["", "   ", "A\x1b[2J", "\x00"])
def test_a_blank_or_steering_name_is_no_name(text: str) -> None:
    with pytest.raises(argparse.ArgumentTypeError):
        named(text)
