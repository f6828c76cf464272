"""The nearest names in the library to one that is not in it.

Likeness of two names, from 0 to 1, is over their words, a rare word weighing more than a common one:

    weight(w) = log((1 + N) / (1 + n(w))) + 0.2       N exercises, n(w) of them with w in a name or an alias
    likeness  = 0.55 there + 0.25 back + 0.2 whole     there: weight of the wanted words that are found, back: of the known
                                                       name's words that were wanted, whole: likeness of the two strings

The inverse frequency is that of Spärck Jones 1972 (from memory); the shares are ours, set by the test's names. A word may
be misspelt: it then counts as much as it is alike.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import lru_cache

from ferrule.model.exercise import Library, Variant

_WORD = re.compile(r"[a-z0-9]+")
_SAME = {
    "single": "one", "1": "one", "sl": "one", "double": "two", "2": "two", "dl": "two", "legged": "leg", "legs": "leg",
    "bent": "bend", "seated": "sit", "sitting": "sit", "raised": "raise", "elevated": "raise", "kneeling": "knee",
    "isometric": "hold", "iso": "hold", "pushup": "press up", "pressup": "press up", "push": "press",
    "bb": "barbell", "db": "dumbbell", "kb": "kettlebell", "ham": "hamstring", "hammy": "hamstring",
    "reverse": "backward", "rear": "backward", "backwards": "backward", "side": "lateral", "sideways": "lateral",
    "quad": "thigh", "quads": "thigh", "tiptoe": "toe", "banded": "band", "feet": "foot", "bulg": "bulgarian",
    "stepup": "step up", "stepdown": "step down", "situp": "sit up", "pullup": "pull up", "chinup": "chin up",
}  # fmt: skip
"""Words that mean the same in a name."""
_CALF = {("calf", "raise"), ("calf", "hold"), ("calf", "drop")}
BY_METRES = {"row": "rowing-machine"}
"""What a folded name means where the line counts metres or minutes: `Row: 500 m` is the machine, `Row: 10` is not."""
_FILLERS = frozenset({"a", "an", "the", "with", "on", "of", "in", "to", "and", "exercise", "drill"})
"""Weigh next to nothing."""
_FINE = 60
_LEAST = 0.4
_BESIDE = 0.6
"""What is less than this share as like as the best is no second choice."""
_ALIKE = 0.7
"""From this likeness up a word may be a slip of another."""


def nearest(library: Library, name: str, n: int = 3) -> tuple[Variant, ...]:
    """The `n` variants whose name, alias or id is nearest to `name`, nearest first.

    Case, hyphens, plurals and joined words do not matter, nor does the order of words. A name that holds no word of the
    library's, not even misspelt, has no neighbours. Deterministic: equals stand in the library's order.
    """
    wanted = words(name)
    if not wanted or n < 1:
        return ()
    known = _known(tuple(library.names.items()))
    whole = "".join(wanted)
    rough = sorted(((_rough(wanted, whole, k), index) for index, k in enumerate(known.names)), key=_by)
    best: dict[str, tuple[float, int]] = {}
    for score, index in rough[:_FINE]:
        if score <= 0:
            break
        k = known.names[index]
        found = (-known.likeness(wanted, whole, k), index)
        best[k.variant_id] = min(found, best.get(k.variant_id, found))
    least = max(_LEAST, _BESIDE * max((-score for score, _ in best.values()), default=0.0))
    ranked = sorted((i for i in best if -best[i][0] >= least), key=lambda i: best[i])
    return tuple(library.variants[i] for i in ranked[:n])


def words(name: str) -> tuple[str, ...]:
    """The words of a name in one spelling: `Single-leg calf raises` -> one, leg, heel, raise."""
    found = [_singular(w) for w in _WORD.findall(name.lower().replace("'", ""))]
    found = ["heel" if pair in _CALF else pair[0] for pair in zip(found, [*found[1:], ""], strict=False)]
    return tuple(w for word in found for w in _SAME.get(word, word).split())


def _singular(word: str) -> str:
    if word in ("calve", "calves"):
        return "calf"
    return word[:-1] if len(word) > 2 and word.endswith("s") and not word.endswith("ss") else word


@dataclass(frozen=True, slots=True)
class _Name:
    """One known name: its words, those run together, its letter pairs, and whose it is."""

    words: tuple[str, ...]
    whole: str
    pairs: frozenset[str]
    variant_id: str


@dataclass(frozen=True, slots=True)
class _Known:
    names: tuple[_Name, ...]
    weights: dict[str, float]
    rarest: float

    def weight(self, word: str) -> float:
        """How telling a word is; one that no name has weighs as much as the rarest."""
        return 0.05 if word in _FILLERS else self.weights.get(word, self.rarest)

    def likeness(self, wanted: tuple[str, ...], whole: str, name: _Name) -> float:
        """From 0 to 1, as the module says; 0 when no word is shared, not even misspelt, and the strings differ."""
        there, back = self._shared(wanted, name.words), self._shared(name.words, wanted)
        together = SequenceMatcher(None, whole, name.whole, autojunk=False).ratio()
        return max(0.55 * there + 0.25 * back + 0.2 * together, together if together >= 0.8 else 0.0)

    def _shared(self, these: tuple[str, ...], those: tuple[str, ...]) -> float:
        total = sum(self.weight(w) for w in these)
        return sum(self.weight(w) * _likest(w, those) for w in these) / total if total else 0.0


@lru_cache(maxsize=8)
def _known(pairs: tuple[tuple[str, str], ...]) -> _Known:
    """Every known name as words, with its variant, each spelling once; and how telling each word is."""
    found: dict[tuple[tuple[str, ...], str], None] = {}
    for name, variant_id in pairs:
        found.setdefault((words(name), variant_id))
    owners = Counter(w for w, _ in {(w, i) for ws, i in found for w in ws})
    total = len({i for _, i in found})
    weights = {w: math.log((1 + total) / (1 + n)) + 0.2 for w, n in owners.items()}
    names = tuple(_Name(ws, "".join(ws), _pairs_of("".join(ws)), i) for ws, i in found)
    return _Known(names, weights, max(weights.values(), default=1.0))


def _by(scored: tuple[float, int]) -> tuple[float, int]:
    return (-scored[0], scored[1])


def _rough(wanted: tuple[str, ...], whole: str, known: _Name) -> float:
    """Letter pairs in common (Dice), both names run together, and a word for a word: cheap, picks whom to look at."""
    a, b = _pairs_of(whole), known.pairs
    dice = 2 * len(a & b) / (len(a) + len(b)) if a and b else 0.0
    return dice + len(set(wanted) & set(known.words)) / len(wanted) / 2


@lru_cache(maxsize=4096)
def _pairs_of(joined: str) -> frozenset[str]:
    return frozenset(joined[i : i + 2] for i in range(len(joined) - 1)) or frozenset({joined})


def _likest(word: str, among: tuple[str, ...]) -> float:
    """1 for the same word; a slip counts as much as it is alike, and a long beginning as most of the word."""
    if word in among:
        return 1.0
    return max((_alike(word, other) for other in among), default=0.0)


@lru_cache(maxsize=65536)
def _alike(word: str, other: str) -> float:
    if min(len(word), len(other)) >= 4 and (word.startswith(other) or other.startswith(word)):
        return 0.9
    ratio = SequenceMatcher(None, word, other, autojunk=False).ratio()
    return ratio if ratio >= _ALIKE else 0.0
