"""What is offered in a head reads as that head, and says something new."""

from __future__ import annotations

import pytest

from ferrule.programme.head_offers import head_fields
from ferrule.programme.heads import read_head

LEADS = ("Warm-up", "Straight", "Pair A", "Circuit B", "Cool-down", "### Session 2", "## Cycle 2", "## Week 4")


@pytest.mark.parametrize("lead", LEADS)
@pytest.mark.parametrize("typed", ["", "4", "2-3"])
def test_every_field_offered_reads_in_its_head(lead: str, typed: str) -> None:
    bare = read_head(lead)
    assert bare is not None
    offered = head_fields(bare, typed, 4, 3)
    assert len({text for text, _, _ in offered}) >= 6
    for text, detail, _ in offered:
        made = read_head(f"{lead}, {text}")
        assert made is not None, text
        unread = [s for s in made.slips if s.code == "head-not-read"]
        assert typed == "2-3" or (made.whole and not unread), (lead, text)
        assert detail
        assert (made.sets, made.rest_s, made.between_s, made.minutes, made.day, made.weeks, made.more) != (
            bare.sets, bare.rest_s, bare.between_s, bare.minutes, bare.day, bare.weeks, bare.more,
        ) or unread  # fmt: skip


def test_the_number_that_is_typed_stands_in_the_field() -> None:
    bare = read_head("Circuit A")
    assert bare is not None
    said = [text for text, _, _ in head_fields(bare, "45", 1, 0)]
    assert {"45 rounds", "rest 45 s", "45 s on", "45 s off", "between 45 s"} <= set(said)
