"""The nearest names in the library to one that is not in it."""

from __future__ import annotations

import re
from difflib import SequenceMatcher
from functools import lru_cache

from ferrule.model.exercise import Library, Variant

_WORD = re.compile(r"[a-z0-9]+")
_SAME = {
    "single": "one", "1": "one", "sl": "one", "double": "two", "2": "two", "dl": "two", "legged": "leg",
    "bent": "bend", "seated": "sit", "sitting": "sit", "raised": "raise", "elevated": "raise", "kneeling": "knee",
    "isometric": "hold", "iso": "hold", "pushup": "press up", "pressup": "press up", "push": "press",
    "bb": "barbell", "db": "dumbbell", "kb": "kettlebell", "soleus": "bend knee heel", "glute": "hip", "ham": "hamstring",
}  # fmt: skip
"""Words that mean the same in a name."""
_CALF = {("calf", "raise"), ("calf", "hold"), ("calf", "drop")}
_FINE = 24
_LEAST = 0.4


def nearest(library: Library, name: str, n: int = 3) -> tuple[Variant, ...]:
    """The `n` variants whose name, alias or id is nearest to `name`, nearest first.

    Shared words (spelling slips, plurals and joined words forgiven) count double the likeness of the whole string; the
    order of words does not matter. Deterministic: equals stand in the library's order. A name like
    nothing here has no neighbours.
    """
    wanted = words(name)
    if not wanted or n < 1:
        return ()
    known = _known(tuple(library.names.items()))
    rough = sorted(((_rough(wanted, name), index) for index, (name, _) in enumerate(known)), key=_by)
    best: dict[str, tuple[float, int]] = {}
    for _, index in rough[:_FINE]:
        candidate, variant_id = known[index]
        score = (-_fine(wanted, candidate), index)
        best[variant_id] = min(score, best.get(variant_id, score))
    ranked = sorted((i for i in best if -best[i][0] >= _LEAST), key=lambda i: best[i])
    return tuple(library.variants[i] for i in ranked[:n])


def words(name: str) -> tuple[str, ...]:
    """The words of a name in one spelling: `Single-leg calf raises` -> one, leg, heel, raise."""
    found = [_singular(w) for w in _WORD.findall(name.lower())]
    found = ["heel" if pair in _CALF else pair[0] for pair in zip(found, [*found[1:], ""], strict=False)]
    return tuple(w for word in found for w in _SAME.get(word, word).split())


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 2 and word.endswith("s") and not word.endswith("ss") else word


@lru_cache(maxsize=8)
def _known(pairs: tuple[tuple[str, str], ...]) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Every known name as words, with its variant; each spelling once."""
    found: dict[tuple[tuple[str, ...], str], None] = {}
    for name, variant_id in pairs:
        found.setdefault((words(name), variant_id))
    return tuple(found)


def _by(scored: tuple[float, int]) -> tuple[float, int]:
    return (-scored[0], scored[1])


def _rough(wanted: tuple[str, ...], known: tuple[str, ...]) -> float:
    """Share of letter pairs in common (Dice), both names run together: cheap, and blind to spaces."""
    a, b = _pairs_of("".join(wanted)), _pairs_of("".join(known))
    return 2 * len(a & b) / (len(a) + len(b)) if a and b else 0.0


@lru_cache(maxsize=4096)
def _pairs_of(joined: str) -> frozenset[str]:
    return frozenset(joined[i : i + 2] for i in range(len(joined) - 1)) or frozenset({joined})


def _fine(wanted: tuple[str, ...], known: tuple[str, ...]) -> float:
    """Likeness from 0 to 1: two parts shared words, one part the whole string."""
    there = sum(_likest(w, known) for w in wanted) / len(wanted)
    back = sum(_likest(w, wanted) for w in known) / len(known)
    whole = SequenceMatcher(None, "".join(wanted), "".join(known), autojunk=False).ratio()
    return (there + back + 2 * whole) / 4 if there + back < 2 * whole else (there + back + whole) / 3


def _likest(word: str, among: tuple[str, ...]) -> float:
    """1 for the same word; a spelling slip counts from 0.6 of likeness up."""
    if word in among:
        return 1.0
    best = max((SequenceMatcher(None, word, other, autojunk=False).ratio() for other in among), default=0.0)
    return best if best >= 0.6 else 0.0
