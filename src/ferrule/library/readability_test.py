"""The words for the runner read at an age of eleven to twelve, by a published formula.

    grade = 0.39 words a sentence + 11.8 syllables a word - 15.59

Flesch-Kincaid grade level: Kincaid, Fishburne, Rogers and Chissom 1975, Research Branch Report 8-75 (from memory). School
grade 6 is age 11 to 12. The formula leans on short sentences, so the share of long words is held apart.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

import pytest

from ferrule.library.reader import load_library
from ferrule.model.exercise import Variant

VARIANTS = tuple(load_library()[0].variants.values())
GRADE = 6.0
LONG_WORDS = 0.03
"""Most words of three syllables and more (our choice)."""
MOST_WORDS = 20
"""Longest sentence (our choice)."""
KINDS: Mapping[str, Callable[[Variant], Iterable[str]]] = {
    "cues": lambda v: v.cues,
    "faults": lambda v: [text for f in v.faults for text in (f.seen, f.mend)],
    "set-up": lambda v: [v.setup],
    "support": lambda v: [v.balance_help] if v.balance_help else [],
    "cautions": lambda v: v.cautions,
}


def syllables(word: str) -> int:
    """Groups of vowels; a silent e at the end and in -ed is none."""
    low = re.sub(r"(?<=[^aeiouytdl])ed$|(?<=[^aeiouyl])e$|(?<=[aeiouy])le$", "", word.lower().removesuffix("'s"))
    return max(1, len(re.findall(r"[aeiouy]+", low)))


def sentences(texts: Iterable[str]) -> list[list[str]]:
    """The words of each sentence."""
    parts = (part for text in texts for part in re.split(r"(?<=[.!?;:])\s+", text))
    return [words for part in parts if (words := re.findall(r"[A-Za-z']+", part))]


def grade(texts: Iterable[str]) -> float:
    """Flesch-Kincaid grade level of all sentences together."""
    found = sentences(texts)
    words = [w for s in found for w in s]
    return 0.39 * len(words) / len(found) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


def test_the_formula_by_hand() -> None:
    """Two sentences, 10 words, 11 syllables: 0.39 * 5 + 11.8 * 1.1 - 15.59 = -0.66; and one that is hard."""
    assert grade(["Send the knee to the wall.", "Keep your heel heavy."]) == pytest.approx(-0.66)
    assert grade(["Maintain appropriate lumbopelvic stabilisation throughout the entire eccentric contraction."]) > 15


@pytest.mark.parametrize(
    ("word", "count"),
    [("the", 1), ("knee", 1), ("squeeze", 1), ("heavy", 2), ("shoulder", 2), ("raised", 1), ("lifted", 2), ("table", 2),
     ("ceiling", 2), ("elbow", 2), ("comfortable", 4), ("opposite", 3), ("straight", 1), ("toes", 1), ("little", 2)],
)  # fmt: skip
def test_syllables_of_known_words(word: str, count: int) -> None:
    assert syllables(word) == count


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_text_is_plain(kind: str) -> None:
    texts = [text for v in VARIANTS for text in KINDS[kind](v)]
    words = [w for s in sentences(texts) for w in s]
    assert grade(texts) <= GRADE
    assert sum(syllables(w) >= 3 for w in words) / len(words) < LONG_WORDS
    assert max(map(len, sentences(texts))) <= MOST_WORDS


def test_the_words_of_each_exercise_are_plain() -> None:
    hard = {v.id: grade(t for kind in KINDS.values() for t in kind(v)) for v in VARIANTS}
    assert {i: round(g, 1) for i, g in hard.items() if g > GRADE} == {}
