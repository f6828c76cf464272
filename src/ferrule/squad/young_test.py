from __future__ import annotations

import pytest

from ferrule.squad.young import may_be_under_18


@pytest.mark.parametrize(
    ("birth_year", "young"), [(2009, True), (2008, True), (2007, False), (1980, False), (None, False)]
)
def test_the_year_of_the_eighteenth_birthday_counts_as_under_18(birth_year: int | None, *, young: bool) -> None:
    """Born on 31 December 2008, somebody is 17 until the last day of 2026."""
    assert may_be_under_18(birth_year, 2026) is young
