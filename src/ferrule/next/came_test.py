"""What came of a sent week, and the three silences told apart."""

from __future__ import annotations

from datetime import timedelta

import pytest

from ferrule.model.entry import TimeAway
from ferrule.model.fact import Decided, Entry, Fact, SessionTold, WeekTold
from ferrule.model.house import House
from ferrule.next.came import came_of
from ferrule.next.conftest import FIRST, WEEK, Sent, entry, told_sets

NEXT = FIRST + 2 * WEEK
DAY = timedelta(days=1)


@pytest.mark.parametrize(
    ("facts", "outcomes", "silence"),
    [
        ((), ("not told", "not told"), "never told"),
        ((WeekTold(FIRST + WEEK, "all", None, None),), ("did", "did"), "did and did not say"),
        ((WeekTold(FIRST + WEEK, "some", None, None),), ("not told", "not told"), "did and did not say"),
        ((WeekTold(FIRST + WEEK, "none", None, None),), ("none", "none"), "did not do"),
        ((SessionTold(FIRST + WEEK, "1", "did"),), ("did", "not told"), "did and did not say"),
        ((SessionTold(FIRST + WEEK, "1", "none"), SessionTold(FIRST + WEEK + DAY, "2", "none")), ("none", "none"), "did not do"),
        ((SessionTold(FIRST + WEEK, "1", "none"), SessionTold(FIRST + WEEK + DAY, "1", "did")), ("did", "not told"), "did and did not say"),
        ((SessionTold(FIRST, "1", "did"),), ("not told", "not told"), "gone"),
        ((SessionTold(FIRST, "1", "did"), WeekTold(FIRST + WEEK, "none", None, None)), ("none", "none"), "did not do"),
    ],
)  # fmt: skip
def test_from_what_was_told(
    facts: tuple[Fact, ...], outcomes: tuple[str, str], silence: str, sent: Sent, house: House
) -> None:
    found = came_of(sent(2), [entry(f) for f in facts], "R01", house, NEXT)
    assert (found.outcomes["1"], found.outcomes["2"]) == outcomes
    assert found.silence == silence
    assert found.missed == (outcomes == ("none", "none"))


def test_sets_tell_of_their_session(sent: Sent, house: House) -> None:
    every = told_sets(sent(2))
    assert came_of(sent(2), every, "R01", house, NEXT).silence == ""
    found = came_of(sent(2), every[:2], "R01", house, NEXT)
    assert dict(found.outcomes) == {"1": "part", "2": "not told"}
    assert found.told == {"1"}


def test_days_to_be_gone_are_the_houses_and_a_word_of_the_coach_is_none(sent: Sent, house: House) -> None:
    told = [entry(SessionTold(FIRST, "1", "did"))]
    word = entry(Decided(FIRST + WEEK, "1", "A1", "progress", "hold", "Cara"), source="coach")
    assert came_of(sent(2), [*told, word], "R01", house, NEXT).silence == "gone"
    assert came_of(sent(2), told, "R01", House(changed={"silent-days": 20}), NEXT).silence == "did and did not say"


def test_who_is_away_is_not_gone(sent: Sent, house: House) -> None:
    told: list[Entry] = [entry(SessionTold(FIRST, "1", "did"))]
    away = TimeAway("R01", FIRST + WEEK, FIRST + WEEK + 6 * DAY, "holiday")
    assert came_of(sent(2), told, "R01", house, NEXT, (away,)).silence == "did and did not say"
