"""How what is foretold of a set is corrected by what had been foretold before, and what then happened."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Final, Literal

Known = Literal["first go", "second go", "known"]
"""On how many days the exercise was done before: none, one, or more."""

Way = Literal["with load", "without load", "hold"]


@dataclass(frozen=True, slots=True, order=True)
class Stratum:
    """Sets that are foretold alike: how well the exercise is known to the runner, and how it is counted."""

    known: Known
    way: Way

    def __str__(self) -> str:
        return f"{self.known}, {self.way}"


def stratum_of(days: int, *, hold: bool, loaded: bool) -> Stratum:
    """The stratum of a set. days: on which its exercise was done before; loaded: it carries a load."""
    known: Known = "first go" if days == 0 else "second go" if days == 1 else "known"
    return Stratum(known, "hold" if hold else "with load" if loaded else "without load")


@dataclass(frozen=True, slots=True)
class Correction:
    """Four numbers, all of them 0 or 1 where nothing is corrected.

    shift, factor   of the reserve: the middle moves up by `shift` foretold spreads, and the spread is `factor` times as wide
    level, slope    of a chance as it is foretold, without these:  log odds' = level + slope * log odds
    readings, sets  from how many sets each pair was learnt: told reserves, told outcomes
    """

    shift: float = 0.0
    factor: float = 1.0
    level: float = 0.0
    slope: float = 1.0
    readings: int = 0
    sets: int = 0

    @property
    def same(self) -> bool:
        """True where nothing is corrected."""
        return (self.shift, self.factor, self.level, self.slope) == (0.0, 1.0, 0.0, 1.0)

    def chance(self, stated: float) -> float:
        """A foretold chance, corrected. 0 and 1 count as one in ten thousand off."""
        if (self.level, self.slope) == (0.0, 1.0):
            return stated
        odds = math.log((p := min(1 - LEAST_CHANCE, max(LEAST_CHANCE, stated))) / (1 - p))
        return 1 / (1 + math.exp(-(self.level + self.slope * odds)))


LEAST_CHANCE: Final = 1e-4
LEAST_SETS: Final = 138
"""Sets of a stratum from which on it is corrected by its own: a share near one half is then known to 0.07 (90 %:
1.645 * 0.5 / sqrt(138) = 0.070)."""
SAME: Final = Correction()


@dataclass(frozen=True, slots=True)
class Calibration:
    """The corrections of a squad, frozen like what it shares.

    version, until   which estimate this is, and the last day whose sets went in; 0 and None where there is none
    strata           those with enough sets to tell
    rest             all strata together, for those without; it corrects nothing where even those are too few
    """

    version: int = 0
    until: date | None = None
    strata: Mapping[Stratum, Correction] = field(default_factory=dict)
    rest: Correction = SAME

    def of(self, stratum: Stratum) -> Correction:
        """The correction of a stratum: its own where enough sets tell it, else that of all together.

        How much is left after a hold is hardly ever told, and repetitions do not tell it: without its own it stays.
        """
        rest = replace(self.rest, shift=0.0, factor=1.0, readings=0) if stratum.way == "hold" else self.rest
        return self.strata.get(stratum, rest)

    def words(self, stratum: Stratum) -> str:
        """By how many sets of its own a stated chance of this stratum was corrected, for the coach."""
        own = self.strata.get(stratum)
        if own is not None and own.sets >= LEAST_SETS:
            return f"corrected by {own.sets} sets of this squad ({stratum})"
        if self.rest.sets < LEAST_SETS:
            return f"not corrected: too few sets of this squad yet ({stratum})"
        return f"corrected by {self.rest.sets} sets of this squad of all kinds: too few yet ({stratum})"


NO_CALIBRATION: Final = Calibration()
"""Nothing was learnt yet: everything stays as it is foretold."""
