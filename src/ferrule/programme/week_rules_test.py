"""Words like rules over the weeks: told, wherever they stand below a cycle."""

from __future__ import annotations

import pytest

from ferrule.programme.reader import read_programme
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.week_rules import is_rule


@pytest.mark.parametrize(
    "text",
    ["Deload in week 6: halve the sets", "Week 4 - do half the sets", "progress: +1 rep/week", "Every week add 1 rep", "Add 5 kg every week"],
)  # fmt: skip
def test_rules_are_known(text: str) -> None:
    assert is_rule(text)


@pytest.mark.parametrize(
    "text",
    ["Keep it easy.", "Light shoes", "Week 4 is a holiday.", "Progress when it feels easy", "Reduce the bounce."],
)
def test_words_are_no_rules(text: str) -> None:
    assert not is_rule(text)


def test_a_rule_below_an_item_is_told() -> None:
    _, findings = read_programme(
        "### Session 1\n\nStraight\n\n- Squat: 3 x 8\n  progress: +1 rep/week\n", "p.md", SAMPLE
    )
    assert "note-like-a-rule" in [f.code for f in findings]
