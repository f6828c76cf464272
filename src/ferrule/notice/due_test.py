"""The list as a whole: strict tiers, oldest first, the same in any order of arrival."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.entry import Reserve
from ferrule.model.fact import Asked, Entry, PainTold
from ferrule.model.house import House
from ferrule.notice.due import due, minutes_of
from ferrule.notice.sample import MONDAY, entry, runner, season, squad, told_set, week
from ferrule.notice.told import TIERS

SQUAD = squad(*(runner(f"R{n:02d}") for n in range(1, 6)))
NOW = MONDAY + timedelta(days=12)


def everything() -> list[Entry]:
    """Each tier once, the graver the younger."""
    return [
        *(entry("R01", told_set("R01", MONDAY, line=f"i{n}", reserve=Reserve(0, 0))) for n in (1, 2)),
        entry("R03", Asked(MONDAY + timedelta(days=6), "may I?")),
        entry("R04", PainTold(MONDAY + timedelta(days=8), "hip", "left", 6)),
        entry("R05", PainTold(MONDAY + timedelta(days=9), None, "both", None, flags=("fever",))),
    ]


def test_tiers_are_strict_whatever_is_older() -> None:
    weeks = [week("R01", days=(0,)), week("R02")]
    found = due(SQUAD, weeks, everything(), House(), NOW)
    assert [(r.tier, r.runner_id) for r in found] == [
        ("red flag", "R05"),
        ("pain", "R04"),
        ("question", "R03"),
        ("silent", "R02"),
        ("effort far off", "R01"),
    ]
    assert found[-2].since < found[0].since
    assert minutes_of(found) == 15 + 8 + 5 + 3 + 4


def test_the_oldest_comes_first_inside_a_tier_then_the_squad_list() -> None:
    asked = [entry(r, Asked(MONDAY + timedelta(days=d), "?")) for r, d in (("R01", 3), ("R02", 1), ("R03", 1))]
    assert [r.runner_id for r in due(SQUAD, (), asked, House(), NOW)] == ["R02", "R03", "R01"]


def test_what_comes_after_the_day_is_not_known_on_it() -> None:
    early = due(SQUAD, [week("R01")], everything(), House(), MONDAY + timedelta(days=7))
    assert [r.tier for r in early] == ["question", "effort far off"]


@settings(max_examples=25, derandomize=True, deadline=None)
@given(seed=st.integers(0, 10_000), twice=st.integers(0, 40))
def test_any_order_of_arrival_and_anything_twice_give_the_same_list(seed: int, twice: int) -> None:
    people, weeks, told = _SEASON
    shuffled = [*told, *told[:twice]]
    Random(seed).shuffle(shuffled)
    now = MONDAY + timedelta(weeks=3)
    assert due(people, weeks, shuffled, House(), now) == _EXPECTED
    assert [TIERS.index(r.tier) for r in _EXPECTED] == sorted(TIERS.index(r.tier) for r in _EXPECTED)


_SEASON = season(8, 3, lines=2, sets=2)
_EXPECTED = due(*_SEASON, House(), MONDAY + timedelta(weeks=3))


def test_the_season_has_somebody_on_the_list() -> None:
    assert {r.tier for r in _EXPECTED} >= {"pain", "silent"}


def test_no_row_without_a_fact_a_draft_minutes_and_a_key() -> None:
    for row in (*_EXPECTED, *due(SQUAD, [week("R02")], everything(), House(), NOW)):
        assert row.facts
        assert row.draft.startswith(row.runner_name)
        assert row.minutes > 0
        assert row.keys


def test_nobody_with_a_red_flag_is_written_to_about_their_training() -> None:
    hard = [entry("R01", told_set("R01", MONDAY, line=f"i{n}", reserve=Reserve(0, 0))) for n in (1, 2)]
    asked = entry("R01", Asked(MONDAY + timedelta(days=1), "may I?"))
    flag = entry("R01", PainTold(MONDAY + timedelta(days=2), None, "both", None, flags=("chest or faint",)))
    found = due(SQUAD, [week("R01", days=(0,))], [*hard, asked, flag], House(), MONDAY + timedelta(days=5))
    assert [r.tier for r in found] == ["red flag", "question"]
    without = due(SQUAD, [week("R01", days=(0,))], [*hard, asked], House(), MONDAY + timedelta(days=5))
    assert [r.tier for r in without] == ["question", "effort far off"]
