"""Pain, case by case: what was told in which week, and the tier it comes to."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from ferrule.model.fact import PainTold, RedFlag
from ferrule.model.house import House
from ferrule.next.conftest import made_runner
from ferrule.next.pain import CUT, HOLD, NONE, STOP, WHOLE, Hurt, flagged, hurts, sore_of

MONDAY = date(2026, 2, 2)


def told(
    days_ago: int, worst: int | None, morning: int | None = None, region: str = "calf", **more: object
) -> PainTold:
    return PainTold(MONDAY - timedelta(days=days_ago), region, "left", worst, morning, **more)  # type: ignore[arg-type]


def only(*pains: PainTold, house: House | None = None, born: int = 1990) -> tuple[int, str]:
    found = hurts(pains, made_runner(birth_year=born), house or House(), MONDAY)
    assert len(found) <= 1
    return (found[0].tier, found[0].reason) if found else (NONE, "")


@pytest.mark.parametrize(
    ("pains", "tier", "words"),
    [
        ((), NONE, ""),
        ((told(2, 0, 0),), NONE, ""),
        ((told(2, 2, 0),), HOLD, "settled by the next morning"),
        ((told(2, 2, 1),), HOLD, "settled by the next morning"),
        ((told(2, 3),), HOLD, "the next morning not told"),
        ((told(2, 3, 2),), CUT, "3 of 10, and 2 the next morning"),
        ((told(2, 1, 3),), CUT, "1 of 10, and 3 the next morning"),
        ((told(2, 4, 0),), STOP, "above 3"),
        ((told(2, 0, 4),), STOP, "above 3"),
        ((told(9, 1, 0), told(2, 2, 0)), STOP, "rising, 2 of 10 after 1"),
        ((told(9, 2, 0), told(2, 2, 0)), HOLD, "settled"),
        ((told(9, 3, 0), told(2, 1, 0)), HOLD, "settled"),
        ((told(30, 1, 0), told(2, 3, 0)), HOLD, "settled"),  # three weeks are too long ago to compare with
        ((told(9, 2, 0),), NONE, ""),  # a hold ends with its week
        ((told(9, 2, 3),), HOLD, "was cut"),
        ((told(16, 2, 3),), NONE, ""),
        ((told(9, 5, 0),), STOP, "nothing told since"),
        ((told(23, 5, 0),), STOP, "nothing told for 3 weeks since"),
        ((told(30, 5, 0),), NONE, ""),  # pain-memory-weeks is 4
        ((told(9, 5, 0), told(2, 0, 0)), NONE, ""),
        ((told(-1, 9, 9),), NONE, ""),  # not yet told on that Monday
    ],
)
def test_tiers(pains: tuple[PainTold, ...], tier: int, words: str) -> None:
    found = only(*pains)
    assert found[0] == tier
    assert words in found[1]


def test_the_numbers_are_the_houses() -> None:
    assert only(told(2, 4, 0), house=House(changed={"pain-stop": 5}))[0] == HOLD
    assert only(told(2, 2, 2), house=House(changed={"pain-settled": 2}))[0] == HOLD
    assert only(told(9, 1, 0), told(2, 2, 0), house=House(changed={"pain-rise": 2}))[0] == HOLD


@pytest.mark.parametrize("region", ["foot", "knee"])
def test_a_growth_site_under_18_is_a_tier_up(region: str) -> None:
    assert only(told(2, 2, 0, region), born=2009)[0] == CUT
    assert only(told(2, 2, 2, region), born=2009)[0] == STOP
    assert only(told(2, 2, 0, region), born=2008)[0] == CUT  # may still be 17
    assert only(told(2, 2, 0, region), born=2007)[0] == HOLD
    assert only(told(2, 2, 0, "back"), born=2009)[0] == HOLD


def test_sides_and_regions_are_kept_apart() -> None:
    found = hurts(
        [told(2, 2, 0), replace(told(2, 5, 0), side="right"), told(2, 2, 3, "knee")], made_runner(), House(), MONDAY
    )
    assert [(h.region, h.side, h.tier) for h in found] == [
        ("calf", "left", HOLD),
        ("calf", "right", STOP),
        ("knee", "left", CUT),
    ]


def test_what_the_fit_keeps_to() -> None:
    """A cut region has no landings and no added weight; nothing loads a stopped one, whatever number was told."""
    runner, house = made_runner(), House()
    assert sore_of(Hurt("calf", "left", HOLD, 2, 0, ""), runner, house) is None
    cut, stop = (sore_of(Hurt("calf", "left", t, 2, 2, ""), runner, house) for t in (CUT, STOP))
    assert cut is not None
    assert cut.worst == 2
    assert stop is not None
    assert stop.worst == 4


# ---- red flags


def flag(days_ago: int, *flags: RedFlag, region: str | None = "calf") -> PainTold:
    return PainTold(MONDAY - timedelta(days=days_ago), region, "left", None, flags=flags)  # type: ignore[arg-type]


def test_a_flag_stands_however_low_the_number_and_however_long_ago() -> None:
    found = flagged([replace(flag(200, "night or rest"), worst=0, morning=0)], MONDAY)
    assert [(f.region, f.flags) for f in found] == [("calf", ("night or rest",))]


@pytest.mark.parametrize("word", sorted(WHOLE))
def test_some_concern_the_whole_runner(word: RedFlag) -> None:
    assert flagged([flag(2, word)], MONDAY)[0].region is None
    assert flagged([flag(2, "pop", region=None)], MONDAY)[0].region is None


def test_a_named_human_clears_what_was_told_before() -> None:
    pains = [flag(20, "pop"), flag(2, "pop")]
    assert len(flagged(pains, MONDAY)) == 2
    assert len(flagged(pains, MONDAY, [MONDAY - timedelta(days=7)])) == 1
    assert flagged(pains, MONDAY, [MONDAY]) == ()
    assert len(flagged(pains, MONDAY, [MONDAY + timedelta(days=7)])) == 2
