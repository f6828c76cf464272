"""For whom a programme says it is: the coach's own words, and nothing beyond them."""

from __future__ import annotations

from typing import get_args

import pytest

from ferrule.check.whom import ASKS, Whom, said_for
from ferrule.library.reader import load_library
from ferrule.model.programme import Programme
from ferrule.programme.reader import read_programme


def _programme(front: str, note: str = "A note on top.") -> Programme:
    text = f"---\nprogramme: Legs\n{front}\n---\n\n{note}\n\n## Cycle 1, weeks 1-2: Build\n"
    return read_programme(text, "p.md", load_library({})[0])[0]


@pytest.mark.parametrize(
    ("whom", "words", "found"),
    [
        ("young", "for: under-16s and juniors", "under-16s"),
        ("young", "for: ages 14-17", ""),
        ("young", "for: runners of 14-17 years", "14-17 years"),
        ("young", "for: adults, not for juniors", ""),
        ("older", "for: runners over 60", "over 60"),
        ("older", "level: 65+", "65+"),
        ("older", "for: runs over 60 km a week", ""),
        ("older", "for: senior women", ""),
        ("pregnant", "for: the second trimester", "trimester"),
        ("injured", "for: runners with Achilles tendinopathy", "tendinopathy"),
        ("injured", "for: runners without knee pain", ""),
        ("injured", "needs: mat", ""),
    ],
)
def test_for_whom(whom: Whom, words: str, found: str) -> None:
    told = said_for(_programme(words), whom)
    assert (told[0] if told else "") == found


def test_a_note_that_mentions_somebody_makes_it_not_for_them() -> None:
    assert said_for(_programme("level: any", "If you are pregnant, ask."), "pregnant") is None


@pytest.mark.parametrize("whom", get_args(Whom))
def test_words_that_ask_first_are_known(whom: Whom) -> None:
    assert ASKS[whom].search("Begin when your doctor agrees.")
    assert not ASKS[whom].search("Begin when you like.")
