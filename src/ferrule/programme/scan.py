"""A line cut into numbers, words and signs, each with its place. Typographic signs are read as the plain ones."""

from __future__ import annotations

import re
from typing import NamedTuple

_PLAIN = str.maketrans(
    {
        "‐": "-", "‑": "-", "‒": "-", "–": "-", "—": "-", "−": "-", "×": "x", "✕": "x", "\u00a0": " ", "\u202f": " ",
        "\u2009": " ", "’": "'", "′": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "\t": " ", "≥": ">", "：": ":",
        "，": ",", "％": "%",
    }
)  # fmt: skip
_TOKEN = re.compile(
    r"(?P<clock>\d{1,3}:[0-5]\d(?!\d))|(?P<num>\d+(?:\.\d+|,\d+)?)|(?P<word>[^\W\d_]+(?:'[^\W\d_]+)?)|(?P<sign>[^\s])"
)


class Token(NamedTuple):
    """kind is `clock` (value in seconds), `num`, `word` or `sign`; `low` is the text in lower case; places from 0."""

    kind: str
    low: str
    value: float
    start: int
    end: int


def plain(text: str) -> str:
    """The same length of text with typographic dashes, signs and spaces as plain ones."""
    return text if text.isascii() and "\t" not in text else text.translate(_PLAIN)


def scan(text: str, start: int = 0) -> list[Token]:
    """Tokens of `text` from `start`; `text` has gone through `plain`."""
    found: list[Token] = []
    new = tuple.__new__  # a token for every word: half the time of calling the class
    for match in _TOKEN.finditer(text, start):
        kind = match.lastgroup or "sign"
        raw = match.group()
        low, high = match.span()
        if kind == "word":
            found.append(new(Token, (kind, raw.lower(), 0.0, low, high)))
        elif kind == "num":
            found.append(new(Token, (kind, raw, float(raw.replace(",", ".")) if len(raw) < 12 else 0.0, low, high)))
        elif kind == "clock":
            minutes, seconds = raw.split(":")
            found.append(new(Token, (kind, raw, float(int(minutes) * 60 + int(seconds)), low, high)))
        else:
            found.append(new(Token, (kind, raw, 0.0, low, high)))
    return found
