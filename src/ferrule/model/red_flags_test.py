"""Every flag that can be told has words, and every sign belongs to a flag."""

from __future__ import annotations

from typing import get_args

from ferrule.model.fact import RedFlag
from ferrule.model.red_flags import RED_FLAGS, SIGNS, red_flags_text


def test_every_flag_has_its_words() -> None:
    assert set(SIGNS) == set(get_args(RedFlag))
    assert all(signs for signs in SIGNS.values())


def test_the_whole_text_says_each_sign_once() -> None:
    text = red_flags_text()
    assert [text.count(sign) for sign in RED_FLAGS] == [1] * 11
    assert text.startswith("Stop, get medical help, and tell your coach")
