from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.capacity.versions import Version, cycle_mondays, version_on, versions
from ferrule.library.reader import load_library
from ferrule.programme.reader import read_programme

FIRST = date(2026, 1, 5)
TEXT = """# Twelve weeks

## Weeks 1-4: base

### Session 1

A. Squat 3x8

## Weeks 5-8: more

### Session 1

A. Step-up 3x8

## Weeks 9-12: most

### Session 1

A. Hip thrust 3x8
"""


def test_three_cycles_of_four_weeks_have_six_versions() -> None:
    programme, _ = read_programme(TEXT, "twelve.md", load_library()[0])
    begins = cycle_mondays(programme, FIRST)
    assert begins == tuple(FIRST + timedelta(weeks=w) for w in (0, 4, 8))
    assert [(v.counts_from - FIRST).days // 7 for v in versions(begins)] == [0, 1, 4, 5, 8, 9]


def test_the_sets_behind_a_version_end_on_the_sunday_before() -> None:
    version = Version(date(2026, 2, 2))
    assert version.until == date(2026, 2, 1)
    assert version.until.weekday() == 6
    assert version.number == 202606


def test_within_a_cycle_the_version_changes_once_and_never_again() -> None:
    every = versions([FIRST, FIRST + timedelta(weeks=4)])
    counts = [version_on(every, FIRST + timedelta(days=d)) for d in range(28)]
    assert counts == [Version(FIRST)] * 7 + [Version(FIRST + timedelta(weeks=1))] * 21


def test_before_the_first_cycle_nothing_is_shared() -> None:
    assert version_on(versions([FIRST]), FIRST - timedelta(days=1)) is None
    assert version_on((), FIRST) is None


def test_a_cycle_of_one_week_has_its_second_version_in_common_with_the_next() -> None:
    every = versions([FIRST, FIRST + timedelta(weeks=1)])
    assert [v.counts_from for v in every] == [FIRST + timedelta(weeks=w) for w in (0, 1, 2)]


@settings(derandomize=True, max_examples=50)
@given(st.lists(st.integers(0, 400), min_size=1, max_size=8))
def test_numbers_rise_and_the_order_told_does_not_matter(days: list[int]) -> None:
    begins = [FIRST + timedelta(d) for d in days]
    every = versions(begins)
    assert versions(reversed(begins)) == every
    numbers = [v.number for v in every]
    assert numbers == sorted(set(numbers))
    assert all(v.counts_from.weekday() == 0 for v in every)
