"""What the words of a programme claim, and what they only say it is not."""

from __future__ import annotations

import pytest

from ferrule.check.words import EASY, FAST, KEEP, REFERS, TAPER, about, claimed, everything_said
from ferrule.library.reader import load_library
from ferrule.model.programme import Programme
from ferrule.programme.reader import read_programme

TEXT = """\
---
programme: {title}
{front}
---

## Cycle 1, weeks 1-2: {cycle}
Aim: the aim

A note on top.

### Session 1: the session, 60 min

Straight, 3 sets, rest 90 s

- Squat: 8, 2 RIR
  note: under the line
  coach: for the coach
  - or Squat, half
"""


def _programme(title: str = "Title", front: str = "level: any", cycle: str = "Build") -> Programme:
    library, _ = load_library({})
    return read_programme(TEXT.format(title=title, front=front, cycle=cycle), "p.md", library)[0]


@pytest.mark.parametrize(
    ("text", "easy", "taper", "keep", "fast"),
    [
        ("Deload", "deload", "", "", ""),
        ("Taper and race", "", "taper", "race", ""),
        ("In-season maintenance", "", "", "in-season", ""),
        ("Strength before power", "", "", "", ""),
        ("Power, then an easier week", "", "", "", "power"),
        ("No deload", "", "", "", ""),
        ("Explosive. Not easy", "", "", "", "explosive"),
    ],
)
def test_what_a_name_claims(text: str, easy: str, taper: str, keep: str, fast: str) -> None:
    assert [claimed(p, text) for p in (EASY, TAPER, KEEP, FAST)] == [easy, taper, keep, fast]


@pytest.mark.parametrize(
    "text", ["Ask your GP's nurse", "cleared by a physiotherapist", "a midwife's word", "medically"]
)
def test_words_that_send_a_runner_on(text: str) -> None:
    assert REFERS.search(text)


def test_everything_said_holds_every_word_and_no_prescription() -> None:
    said = everything_said(_programme("Legs", "for: hill runners"))
    for words in ("Legs", "hill runners", "Build", "the aim", "A note on top.", "the session", "under the line"):
        assert words in said
    assert "for the coach" in said
    assert "RIR" not in said


def test_what_it_is_about_leaves_notes_out() -> None:
    assert [text for text, _ in about(_programme("Legs", "for: hill runners"))] == ["Legs", "hill runners", "Build"]
