"""The sides of a dose, when it goes to an exercise that the coach did not write with it."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.exercise import Variant
from ferrule.model.programme import Dose
from ferrule.model.quantity import Range

AMOUNT = (
    "reps",
    "reps_open",
    "per_set",
    "cluster",
    "left",
    "right",
    "sides",
    "hold_s",
    "work_s",
    "distance_m",
    "contacts",
)
"""Fields of a dose that say how much a set is."""


def on_exercise(dose: Dose, variant: Variant) -> Dose:
    """The dose as an exercise that the coach did not write with it takes it.

    One without sides has none: the repetitions stay as they are, the larger number where the sides are written apart, and
    no rest between sides. One with sides does a dose that names none on each side (`Draft` and `week` count it so), and
    the sides together where those are written together.
    """
    if variant.sided or not (dose.sides or dose.side_rest_s or dose.left is not None or dose.right is not None):
        return dose
    apart = dose.left is not None or dose.right is not None
    reps = Range.of(float(max(dose.left or 0, dose.right or 0))) if apart else dose.reps
    return replace(dose, sides=None, side_rest_s=None, left=None, right=None, reps=reps)


def each_side(dose: Dose, variant: Variant | None) -> bool:
    """Is the amount done on each side? Where the dose names no sides the exercise tells."""
    return dose.sides == "each" or (dose.sides is None and variant is not None and variant.sided)


def says_own_sides(mine: Dose, its: Dose) -> bool:
    """Does an alternative name sides with an amount that is not taken over from its line?"""
    named = mine.sides is not None or mine.left is not None or mine.right is not None
    return named and any(getattr(mine, name) != getattr(its, name) for name in AMOUNT)
