"""The words about harm: complete, and the same wherever a runner reads them."""

import re

import pytest

from ferrule.deliver import cautions
from ferrule.model.house import House

NAMED = (
    "one spot of bone",
    "hop",
    "at night",
    "at rest",
    "bear weight",
    "calf that is swollen or warm",
    "numbness",
    "weakness",
    "bladder or bowel",
    "chest pain",
    "faint",
    "fever",
    "sudden pop",
)


@pytest.mark.parametrize("sign", NAMED)
def test_every_red_flag_of_the_design_is_named(sign: str) -> None:
    assert sign in cautions.red_flags_text().lower()


def test_the_answer_to_a_red_flag_is_stop_help_and_tell() -> None:
    head = cautions.RED_FLAG_HEAD.lower()
    assert head.index("stop") < head.index("medical help") < head.index("tell your coach")


def test_no_swap_no_cause_and_never_the_word_safe() -> None:
    every = " ".join([cautions.red_flags_text(), *cautions.pain_rule(House()), *cautions.USUAL, cautions.PURPOSE])
    assert not re.search(r"\bsafe|injur|sprain|tear\b|fracture|clot|instead", every, re.IGNORECASE)


def test_the_pain_rule_follows_the_next_morning() -> None:
    rule = " ".join(cautions.pain_rule(House()))
    assert f"above {House().value('pain-stop'):g} of 10" in rule
    assert "settled by the next morning" in rule
    assert "Worse the next morning" in rule
    assert "week to week" in rule
