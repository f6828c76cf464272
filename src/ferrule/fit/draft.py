"""A choice while its effort is worked out."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.check import minutes
from ferrule.fit.choice import Choice, Step
from ferrule.fit.effort import Array
from ferrule.fit.intent import NONE, Intent
from ferrule.fit.sides import each_side
from ferrule.model.exercise import Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.programme import Dose
from ferrule.model.words import Group


@dataclass(slots=True)
class Draft:
    """A choice while its effort is worked out. possible, lost: by slice (q,), None when it is never a dose."""

    variant: Variant | None
    name: str
    load: LoadChoice | None
    origin: str
    dose: Dose
    distance: int
    barred: Reason | None
    group: Group | None = None
    intent: Intent = NONE
    demand: float = 0.0
    possible: Array | None = None
    lost: Array | None = None
    expected_loss: float = 0.0
    easier: Draft | None = None
    harder: Draft | None = None
    grown: bool = False
    least: bool = False

    @property
    def carried(self) -> bool:
        """True when a weight is carried; a band is part of its exercise."""
        return self.load is not None and self.load.place != "band"


def choice_of(d: Draft) -> Choice:
    """The finished value of a weighed draft."""
    setup_s = minutes.SETUP_S if d.variant is None else d.variant.setup_s
    return Choice(
        d.variant, d.name, d.load, d.origin, d.dose, d.distance, d.intent, d.demand, d.barred, d.possible,
        d.expected_loss, minutes.dose_seconds(d.dose, d.variant), setup_s, contacts_of(d.dose, d.variant), d.group,
        _step(d.easier), _step(d.harder), d.grown, d.least,
    )  # fmt: skip


def _step(d: Draft | None) -> Step | None:
    return None if d is None or d.variant is None else Step(d.variant, d.load, d.dose)


def contacts_of(dose: Dose, variant: Variant | None) -> int:
    """Foot contacts of one set, both sides, at the top of the range; 0 for a variant without landings."""
    if variant is None or not variant.contacts_per_rep:
        return 0
    amount = dose.contacts or dose.reps
    per_rep = 1 if dose.contacts else variant.contacts_per_rep
    return 0 if amount is None else round(amount.high * per_rep * (2 if each_side(dose, variant) else 1))
