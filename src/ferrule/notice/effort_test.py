"""Effort far off: which lines count, and when they are enough."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Asked, Entry, Fact, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.quantity import Range
from ferrule.notice.due import due
from ferrule.notice.effort import _range
from ferrule.notice.sample import MONDAY, entry, runner, squad, told_set, week
from ferrule.notice.told import Due

NOW = MONDAY + timedelta(days=5)


def rows(*facts: Fact | Entry, sent: FittedWeek | None = None, later: int = 0) -> list[Due]:
    entries = [f if isinstance(f, Entry) else entry("R01", f) for f in facts]
    found = due(squad(runner("R01")), [sent or week("R01")], entries, House(), NOW + timedelta(days=later))
    return [r for r in found if r.tier == "effort far off"]


def sets(low: int, high: int | None, *, lines: int = 2) -> list[LoggedSet]:
    return [told_set("R01", MONDAY, line=f"i{n}", reserve=Reserve(low, high)) for n in range(1, lines + 1)]


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [(4, None, "more left than I meant"), (3, 3, ""), (2, 2, ""), (1, 1, ""), (0, 0, "harder than I meant")],
)
def test_two_reps_off_a_reserve_of_two_is_far(low: int, high: int | None, word: str) -> None:
    found = rows(*sets(low, high))
    assert len(found) == bool(word)
    if word:
        assert word in found[0].draft
        assert len(found[0].facts) == 2


def test_one_line_is_not_enough_and_two_directions_do_not_add() -> None:
    assert not rows(*sets(0, 0, lines=1))
    mixed = [
        told_set("R01", MONDAY, line="i1", reserve=Reserve(0, 0)),
        told_set("R01", MONDAY, line="i2", reserve=Reserve(4, None)),
    ]
    assert not rows(*mixed)


def test_few_lines_of_many_need_no_word() -> None:
    mixed = [
        told_set("R01", MONDAY, line=f"i{n}", reserve=Reserve(0, 0) if n < 3 else Reserve(2, 2)) for n in range(1, 8)
    ]
    assert len({s.item_key for s in mixed}) == 7
    assert not rows(*mixed, sent=week("R01", days=(0,), lines=7))
    assert rows(*mixed[:4], sent=week("R01", days=(0,), lines=7))


def test_a_warm_up_asks_for_at_least_so_much() -> None:
    assert _range(Range(5, 1e6)) == "at least 5"
    assert _range(Range(2, 3)) == "2-3"


def test_reps_short_of_those_asked_for_count_as_reserve_that_was_not_there() -> None:
    short = [replace(s, done=6) for s in sets(2, 2)]
    found = rows(*short)
    assert "2 left and 2 short, meant 2" in found[0].facts[0]


def test_a_failed_set_counts_as_harder() -> None:
    failed = [replace(s, outcome="failed", reserve=None, done=7) for s in sets(0, 0)]
    assert "a set failed" in rows(*failed)[0].facts[0]


def test_other_exercises_and_sets_stopped_by_pain_say_nothing() -> None:
    assert not rows(*(replace(s, variant_id="other") for s in sets(0, 0)))
    assert not rows(*(replace(s, stopped="pain") for s in sets(0, 0)))


def test_a_finding_week_is_meant_to_be_easy() -> None:
    finding = replace(week("R01"), finding_week=True)
    assert not rows(*sets(4, None), sent=finding)
    assert rows(*sets(0, 0), sent=finding)


def test_weeks_told_as_too_hard_count_beside_lines() -> None:
    hard = WeekTold(MONDAY, "all", "too hard", pain=False)
    assert not rows(hard)
    assert rows(hard, *sets(0, 0, lines=1))
    assert rows(hard, replace(hard, monday=MONDAY + timedelta(days=7)), later=8)


def test_lines_older_than_two_weeks_and_before_an_answer_do_not_count() -> None:
    assert rows(*sets(0, 0), later=8)
    assert not rows(*sets(0, 0), later=9)
    answer = entry("R01", Asked(NOW, "less next week", rows(*sets(0, 0))[0].keys[0], "Coach A"), source="coach")
    assert not rows(*sets(0, 0), answer)
