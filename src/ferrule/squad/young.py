"""Who may be under 18. Only the year of birth is known, and the careful reading of it is the same everywhere."""

from __future__ import annotations

from typing import Final

ADULT: Final = 18


def may_be_under_18(birth_year: int | None, year: int) -> bool:
    """Whether somebody born in `birth_year` can still be 17 on a day of `year`: so until the end of the year they turn 18.

    False where the year of birth is not known: nothing is assumed of an age that was not told.
    """
    return birth_year is not None and year - birth_year <= ADULT
