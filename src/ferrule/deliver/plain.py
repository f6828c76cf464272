"""Text from outside made fit to print: one normal form, no controls, nothing that turns the reading direction."""

from __future__ import annotations

import unicodedata

_JOINERS = "\u200c\u200d"
"""Kept: some scripts cannot be spelt without them."""


def clean(text: str) -> str:
    """`text` on one line, composed (NFC), without control, format, surrogate or private characters.

    Direction overrides are format characters: left in, a name could turn round what follows it. Runs of space
    become one space.
    """
    kept: list[str] = []
    for char in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(char)
        if char.isspace() or kind in ("Zl", "Zp"):
            kept.append(" ")
        elif kind[0] != "C" or char in _JOINERS:
            kept.append(char)
    return " ".join("".join(kept).split())


def sentence(text: str) -> str:
    """`text` cleaned, with a capital first and a stop at its end; empty stays empty."""
    said = clean(text)
    if not said:
        return ""
    said = said[0].upper() + said[1:]
    return said if said[-1] in ".!?:" else said + "."


def lowered(text: str) -> str:
    """`text` cleaned, to go on inside a sentence: a capital at its start goes, unless a name or number begins so."""
    said = clean(text)
    return said[0].lower() + said[1:] if said[1:2].islower() or said[1:2] == " " else said


def width(text: str) -> int:
    """Columns `text` takes on a terminal: wide East Asian characters and emoji two, combining marks none."""
    return sum(
        0 if unicodedata.combining(c) or c in _JOINERS else 2 if unicodedata.east_asian_width(c) in "WF" else 1
        for c in text
    )


def cut(text: str, columns: int) -> str:
    """`text` cleaned and cut to `columns` on a terminal, ending in `...` when something is lost."""
    said = clean(text)
    if width(said) <= columns:
        return said
    while width(said) > columns - 3:
        said = said[:-1]
    return said.rstrip() + "..."


def padded(text: str, columns: int) -> str:
    """`text` cut and filled with spaces to exactly `columns`."""
    said = cut(text, columns)
    return said + " " * (columns - width(said))
