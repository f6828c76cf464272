"""The words about harm: one place, the same on sheet, page, calendar and terminal.

The list of red flags is the house's own, fixed in the design; it is independent of any score and offers no swap.
It never names a cause: the program does not diagnose.
"""

from __future__ import annotations

from ferrule.model.house import House
from ferrule.model.quantity import number
from ferrule.model.red_flags import RED_FLAG_HEAD as RED_FLAG_HEAD
from ferrule.model.red_flags import RED_FLAG_TAIL as RED_FLAG_TAIL
from ferrule.model.red_flags import RED_FLAGS as RED_FLAGS
from ferrule.model.red_flags import red_flags_text as red_flags_text


def pain_rule(house: House) -> tuple[str, ...]:
    """What to do about any other pain; the line is the house's `pain-stop`."""
    return (
        f"Pain above {number(house.value('pain-stop'))} of 10 while you do it: stop that exercise today.",
        "Pain that has settled by the next morning: you may go on as written.",
        "Worse the next morning: leave that exercise out and tell your coach.",
        "Rising from week to week: stop it and ask your coach.",
    )


USUAL: tuple[str, ...] = (
    "Clear the floor, and check that step, chair and band hold before you put your weight on them.",
    "Breathe on every rep. End the set when the form goes.",
    "Ill, or dizzy, or not cleared to train: leave the session out and say so.",
)

PURPOSE = (
    "Training for people cleared to train. It is not treatment and not diagnosis. "
    "Advice from your own doctor or physiotherapist goes before anything here."
)

DRAFT = "Draft. Your coach has not signed this week: do not train from it yet."
DRAFT_MARK = "DRAFT"

FINDING_WEEK = "This is a finding week: stop early, tell us how many more you had."
CHANGED = "Something has changed, ask me"
