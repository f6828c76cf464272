"""One way a runner may do a line, weighed."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.fit.effort import Array
from ferrule.fit.intent import Intent
from ferrule.model.exercise import Variant
from ferrule.model.fitted import LoadChoice, Reason
from ferrule.model.programme import Dose
from ferrule.model.words import Group


@dataclass(frozen=True, slots=True)
class Step:
    """A printed way out: a variant with a load, and its own dose when it is one of the coach's alternatives."""

    variant: Variant
    load: LoadChoice | None
    dose: Dose


@dataclass(frozen=True, slots=True)
class Choice:
    """One way a runner may do a line.

    origin    `written` (loads the coach left open included), `alternative`, `slot`, `family`, `pattern` or `group`
    dose      the effective dose (an alternative brings its own)
    distance  price of leaving the text, before the effort is looked at
    barred    why it may not be done
    expected_loss  repetitions;  possible: what is possible, by slice (q,), None when it is never a dose
    set_s, setup_s seconds of one set with both sides, seconds to get ready
    group     the group it is dosed on;  easier, harder: the printed recourses
    grown     more than one step above what was sent for the line the week before;  least: so is everything, this is the
              least of it
    """

    variant: Variant | None
    name: str
    load: LoadChoice | None
    origin: str
    dose: Dose
    distance: int
    intent: Intent
    demand: float
    barred: Reason | None
    possible: Array | None
    expected_loss: float
    set_s: float
    setup_s: float
    contacts: int
    group: Group | None = None
    easier: Step | None = None
    harder: Step | None = None
    grown: bool = False
    least: bool = False

    @property
    def id(self) -> str:
        """Stable name inside its line: variant, load and place."""
        load = "" if self.load is None else f"+{self.load.kg:g}@{self.load.place}"
        return f"{'' if self.variant is None else self.variant.id}{load}"


OUT_OF_BAND, OUT_PER_REP = 100, 40
"""Price of a choice whose effort is further from what was meant than the best one by more than the margin (ours)."""


def text_price(distance: int, expected_loss: float, band: float) -> int:
    """Price of leaving the text: how far, and by how much the effort is worse than `band`, the best one and the margin."""
    outside = max(0.0, expected_loss - band)
    return distance + (0 if outside <= 1e-9 else OUT_OF_BAND + round(OUT_PER_REP * outside))


@dataclass(frozen=True, slots=True)
class Offer:
    """One variant with one load that may be done, before anything is thinned out."""

    variant_id: str
    distance: int
    expected_loss: float


@dataclass(frozen=True, slots=True)
class LineChoices:
    """Every choice of one line: `written` is the written one with the best open load (maybe barred), `choices` what may be done.

    offers  all that may be done, lanes or not, those that were thinned out included
    best    least expected loss of the offers, repetitions;  only: the lanes the choices are held to, None without
    """

    written: Choice
    choices: tuple[Choice, ...]
    offers: tuple[Offer, ...] = ()
    best: float | None = None
    only: frozenset[str] | None = None
