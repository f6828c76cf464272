"""Names of exercises and slots inside a line, against the library."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from ferrule.library.names import nearest
from ferrule.model.exercise import Library
from ferrule.model.programme import Slot
from ferrule.model.words import PATTERNS, Pattern

NAME_LIMIT = 80
SUGGESTION_LIMIT = 60
"""Names searched for their nearest in one reading; a file with more unknown names is no programme of this library."""

_ING = {
    (move[:-1] if move.endswith("e") else move + move[-1] if move in ("squat", "hop", "skip", "step", "dip") else move) + "ing": move
    for move in ("squat", "hop", "skip", "step", "dip", "lunge", "raise", "bridge", "hinge", "plank", "jump", "press", "row", "carry",
                 "hold", "bound", "curl", "pull", "push", "crunch", "kick", "slide", "rock", "circle", "lift", "march", "swing", "leap",
                 "crawl", "climb", "bounce", "twist", "rotate", "stretch")
}  # fmt: skip
"""The movement that a word names; a closed list, for `ankling` is no `ankle`."""
_NOT_A_LETTER = re.compile(r"[^\w,]+|_")
_LEGS: dict[str, Literal[1, 2]] = {
    "one leg": 1, "single leg": 1, "1 leg": 1, "one legged": 1, "single legged": 1,
    "two legs": 2, "two leg": 2, "both legs": 2, "2 legs": 2, "two legged": 2,
}  # fmt: skip


@dataclass(slots=True)
class Names:
    """The library's names in forms that forgive case, spaces, hyphens and a plural."""

    library: Library
    folded: dict[str, str]
    searched: int = 0

    def find(self, text: str) -> tuple[str, str] | None:
        """(name as the library spells it, variant id), or None."""
        key = " ".join(text.lower().split())
        found = self.library.names.get(key)
        if found is not None:
            return self._spelling(key, found, " ".join(text.split())), found
        if len(text) > NAME_LIMIT:
            return None
        key = self.folded.get(_bare(text), "") or self.folded.get(fold(text), "")
        return (
            (self._spelling(key, self.library.names[key], key[:1].upper() + key[1:]), self.library.names[key])
            if key
            else None
        )

    def _spelling(self, key: str, variant_id: str, written: str) -> str:
        """The variant's own name in the library's spelling; another trade name as the coach writes it."""
        name = self.library.variants[variant_id].name
        return name if " ".join(name.lower().split()) == key else written

    def longest(self, text: str) -> tuple[str, str, int] | None:
        """The longest library name that starts `text`: its spelling, the id, and where it ends."""
        ends = [m.end() for m in re.finditer(r"[\w'-]+", text[: NAME_LIMIT + 1])]
        for end in reversed(ends[:12]):
            found = self.find(text[:end])
            if found:
                return found[0], found[1], end
        return None

    def nearest(self, text: str, count: int = 3) -> tuple[str, ...]:
        """The library's nearest names; empty when there are none, or when too many were asked for in one reading."""
        self.searched += 1
        if self.searched > SUGGESTION_LIMIT or not self.library.variants or not text.strip():
            return ()
        return tuple(v.name for v in nearest(self.library, text[:NAME_LIMIT], count))


def fold(text: str) -> str:
    """Letters and digits only, lower case, each word without its plural and its -ing: `Heel-raises`, `heel raising`."""
    return "".join(map(_stem, _words(text)))


@lru_cache(maxsize=4096)
def _stem(word: str) -> str:
    """`presses`, `pressing` -> `press`; `raises`, `raising` -> `raise`; a word with -ing that names no movement is left."""
    if word.endswith("s") and not word.endswith(("ss", "us")) and len(word) > 2 and word != "abs":
        word = word[:-1]
        if word.endswith(("che", "she", "sse", "xe")):
            word = word[:-1]
        elif word.endswith("ie") and len(word) > 4:
            word = word[:-2] + "y"
    return _ING.get(word, word)


def _words(text: str) -> list[str]:
    return _NOT_A_LETTER.sub(" ", text.lower().replace("'", "")).replace(",", " ").split()


def _bare(text: str) -> str:
    """As `fold`, but only without the plural s: the nearer of two spellings of one exercise."""
    return "".join(w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in _words(text))


_KEPT: list[tuple[Library, Names]] = []


def names_of(library: Library) -> Names:
    """The forgiving index of a library; the last few are kept."""
    for known, names in _KEPT:
        if known is library:
            return Names(library, names.folded)
    proper = {" ".join(v.name.lower().split()) for v in library.variants.values()}
    names = Names(library, _index(library, fold, proper) | _index(library, _bare, proper))
    _KEPT.append((library, names))
    del _KEPT[:-4]
    return names


def _index(library: Library, folding: Callable[[str], str], proper: set[str]) -> dict[str, str]:
    """Folded name -> name; what two exercises share names neither."""
    folded: dict[str, str] = {}
    twice: set[str] = set()
    for key, variant_id in library.names.items():
        short = folding(key)
        if short in folded and library.names[folded[short]] != variant_id:
            twice.add(short)
        if short not in folded or key in proper:
            folded[short] = key
    return {short: key for short, key in folded.items() if short not in twice}


def read_slot(text: str) -> Slot | None:
    """`any hinge, one leg` (without a dose) as a slot, or None when the pattern is not one of the closed list."""
    words = " ".join(text.lower().replace("-", " ").split())
    if not words.startswith("any "):
        return None
    parts = [p.strip() for p in words[4:].split(",")]
    legs: Literal[1, 2] | None = None
    for part in parts[1:]:
        if part not in _LEGS:
            return None
        legs = _LEGS[part]
    pattern = _pattern(parts[0])
    if pattern is None:
        for phrase, count in _LEGS.items():
            if parts[0].startswith(phrase + " "):
                pattern, legs = _pattern(parts[0][len(phrase) + 1 :]), count
    return None if pattern is None else Slot(pattern, legs)


def _pattern(text: str) -> Pattern | None:
    for suffix in ("", " exercise", " movement"):
        bare = text.removesuffix(suffix)
        for pattern in PATTERNS:
            if bare in (pattern, pattern + "s"):
                return pattern
    return None


def nearest_patterns(text: str) -> list[str]:
    """The three patterns nearest to what was written."""
    return difflib.get_close_matches(text.lower()[:NAME_LIMIT], list(PATTERNS), n=3, cutoff=0.3) or list(PATTERNS[:3])
