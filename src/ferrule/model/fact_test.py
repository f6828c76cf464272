"""Facts are values: equal when they say the same, and never changed."""

import dataclasses
from datetime import UTC, date, datetime

import pytest

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.fact import (
    Asked,
    Decided,
    Entry,
    PainTold,
    RunTold,
    SessionTold,
    TakenBack,
    WeekTold,
)

DAY = date(2026, 1, 22)
FACTS = (
    LoggedSet("e", "R01", DAY, "s1", "A1", "step-up", 1, "tapped"),
    LoggedTest("e", "R01", DAY, "heel raises", 20),
    TimeAway("R01", DAY, DAY, "illness", None, (0.6, 0.8), "the coach"),
    PainTold(DAY, "calf", "left", 4, None),
    SessionTold(DAY, "s1", "part", None, 5, 32.0, "time"),
    WeekTold(DAY, "some", "right", None),
    RunTold(DAY, 12.5, 71.0, 240.0),
    Asked(DAY, "my knee feels odd on stairs"),
    Decided(DAY, "s1", "A1", "progress", "hold", "the coach"),
    TakenBack("wrong runner"),
)


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: type(fact).__name__)
def test_a_fact_in_its_envelope_is_equal_to_itself_and_frozen(fact: object) -> None:
    at = datetime(2026, 1, 22, 18, 5, tzinfo=UTC)
    one, two = (Entry("e1", "R01", at, "page", fact) for _ in range(2))  # type: ignore[arg-type]
    assert one == two
    assert hash(one) == hash(two)
    assert one != dataclasses.replace(one, replaces="e0")
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.source = "coach"  # type: ignore[misc]
