"""The signs that are stronger than any score, and the one answer to them: the same words wherever they are said.

The list is the house's own, fixed in the design. It never names a cause: the program does not diagnose.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ferrule.model.fact import RedFlag

SIGNS: Mapping[RedFlag, tuple[str, ...]] = MappingProxyType(
    {
        "bone or hop": ("pain on one spot of bone, or when you hop",),
        "night or rest": ("pain at night or at rest",),
        "cannot bear weight": ("you cannot bear weight",),
        "calf swelling": ("a calf that is swollen or warm",),
        "numb or weak": ("numbness", "weakness"),
        "bladder or bowel": ("a change of bladder or bowel",),
        "chest or faint": ("chest pain", "fainting, or feeling faint"),
        "fever": ("fever",),
        "pop": ("a sudden pop",),
    }
)
"""What each flag means, as it is said to a runner."""

RED_FLAGS: tuple[str, ...] = tuple(sign for signs in SIGNS.values() for sign in signs)

RED_FLAG_HEAD = "Stop, get medical help, and tell your coach, for any of these:"
RED_FLAG_TAIL = "Chest pain, or fainting: call the emergency number at once. Do not try the exercise again first."


def red_flags_text() -> str:
    """All of it as one paragraph, for plain text."""
    return f"{RED_FLAG_HEAD} {'; '.join(RED_FLAGS)}. {RED_FLAG_TAIL}"
