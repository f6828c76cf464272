"""What is believed of one runner, as a joint Gaussian over a few latent numbers, and what it was made from.

    log capacity shown in variant v on side s, on a day =
        group - norm + half * (+1 left, -1 right) - offset_v + day + day of the legs + race + log share lost to sets before

One log capacity a group; the anchor variant of each group has no offset (that gauges the scale, which logs alone do not).
Offsets, and differences of the sides, join the state when a set first touches them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Final

import numpy as np
import numpy.typing as npt

from ferrule.capacity.prior import prior_capacity
from ferrule.model.squad import Runner
from ferrule.model.words import GROUPS, Group, Trust

Array = npt.NDArray[np.float64]

GENERAL_SD: Final = 0.16
REGION_SD: Final = 0.09
OWN_SD: Final = 0.13
"""How the spread of capacity between people divides: all groups together, those of a region, one group (assumption, no
data; estimator trial). Only the correlations are taken: each group's own spread is that of its norm."""

REGION_OF: Final[dict[Group, str]] = {
    "calf straight": "calf",
    "calf bent": "calf",
    "knee and hip": "leg",
    "hinge": "leg",
    "bridge and knee flexion": "leg",
    "hip abduction": "leg",
    "hip adduction": "leg",
    "trunk front": "trunk",
    "trunk side": "trunk",
    "trunk back": "trunk",
    "push": "arm",
    "pull": "arm",
}

LEGS: Final = frozenset(g for g, region in REGION_OF.items() if region in ("calf", "leg"))

BIAS_MEAN: Final = 1.0
BIAS_SD: Final = 0.3
"""Repetitions a runner has beyond what is told: mean +0.95 (Halperin 2022, seen; 0.17 to 1.73 between studies). Not
identified by a log, so it is held tight and learned from sets to failure alone."""

DAY_SD: Final = 0.042
"""Day-to-day spread of a true best (Grgic 2020, median CV 4.2 %, seen)."""
DAY_LEGS_SD: Final = 0.03
"""More of it in the legs of runners (assumption, no data)."""

HALF_SD: Final = 0.04
"""Half of a difference between sides, log (assumption, no data; limb differences of 5-15 % are common, no source)."""

NORM: Final = "norm:"
NORM_SD: Final = 0.12
"""Error of a group's norm for a whole squad, the same for all in it (assumption, no data: five of the twelve norms are
guesses). Shared like an offset, under the name "norm:GROUP"; above 0 the squad is weaker than the norm."""

SQUAD_OFFSET_SD: Final[Mapping[Trust, float]] = {"number": 0.08, "ratio": 0.18, "order": 0.25}
"""How far a variant lies off its computed demand in everybody: press-up shares were measured within 3 % (docs/body.md); the
other two are assumptions, no data."""

OWN_OFFSET_SD: Final[Mapping[Trust, float]] = {"number": 0.12, "ratio": 0.12, "order": 0.15}
"""How far one runner lies off that: it is how they do the exercise, whatever our statics are worth (assumption, no data;
simulated squads were foretold too surely with less)."""

OTHER_CURVE_SD: Final = 0.05
"""Added to a runner's own offset where a hold is read against a group of repetitions, or the other way round: the
endurance law misses one person by 29-47 % of the time (Frey-Law 2012, seen) over an exponent of about 2."""

FIXED: Final = (
    *(f"group:{g}" for g in GROUPS),
    "bias",
    "day",
    "day legs",
    "race thigh",
    "race calf",
)
N_FIXED: Final = len(FIXED)
BIAS, DAY, DAY_LEGS, RACE_THIGH, RACE_CALF = (len(GROUPS) + i for i in range(5))
GROUP_AT: Final[dict[Group, int]] = {g: i for i, g in enumerate(GROUPS)}


@dataclass(frozen=True, slots=True)
class Seen:
    """Logged sets of one variant: how many said something, on which days first and last, on how many days."""

    sets: int
    first: date
    last: date
    days: int = 1


@dataclass(frozen=True, slots=True)
class Aside:
    """A set kept out of the belief because it lies too far off; `sign` of what it would have done to it."""

    entry_id: str
    group: Group
    day: date
    sign: int


@dataclass(frozen=True, slots=True)
class State:
    """The belief about one runner on `day`. Plain values: equal records give equal states, number for number.

    names      name of each latent: "group:push", "bias", "day", ..., "half:calf bent", "offset:step-up"
    mean, cov  (m,), (m, m)
    offsets    variant ids whose offsets are in the state, in the order they joined, with the prior they joined with:
               offset_mean (k,), offset_cov (k, k), whose own part has the variances own_var (k,)
    day        the day this is true for; None before any entry
    trained    last day with a set; group_days: the same for each group
    weeks      weeks of training so far, the level's own included
    shock      z of the last session's day, for the change rule;  asides: sets set aside
    mass_kg    body mass that demands were taken for;  made_from: digest of the facts folded in
    """

    runner_id: str
    names: tuple[str, ...]
    mean: Array
    cov: Array
    day: date | None
    mass_kg: float
    weeks: float
    offsets: tuple[str, ...] = ()
    offset_mean: Array = field(default_factory=lambda: np.zeros(0))
    offset_cov: Array = field(default_factory=lambda: np.zeros((0, 0)))
    own_var: Array = field(default_factory=lambda: np.zeros(0))
    trained: date | None = None
    group_days: Mapping[Group, date] = field(default_factory=dict)
    seen: Mapping[str, Seen] = field(default_factory=dict)
    shock: tuple[date, float] | None = None
    asides: tuple[Aside, ...] = ()
    prior_basis: Mapping[Group, tuple[str, ...]] = field(default_factory=dict)
    prior_sd: Mapping[Group, float] = field(default_factory=dict)
    made_from: str = ""

    def at(self, name: str) -> int | None:
        """Place of a latent in mean and cov; None when it is not in the state."""
        return self.names.index(name) if name in self.names else None

    def __eq__(self, other: object) -> bool:
        """Equal number for number: no tolerance."""
        if not isinstance(other, State):
            return NotImplemented
        return all(_same(getattr(self, f), getattr(other, f)) for f in self.__slots__)

    def __hash__(self) -> int:
        return hash((self.runner_id, self.day, self.made_from))


def _same(one: object, other: object) -> bool:
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return bool(np.array_equal(one, other))
    return one == other


def correlation() -> Array:
    """(12, 12) correlation of the groups' log capacities between people."""
    total = GENERAL_SD**2 + REGION_SD**2 + OWN_SD**2
    region = np.array([[REGION_OF[a] == REGION_OF[b] for b in GROUPS] for a in GROUPS], float)
    result: Array = (GENERAL_SD**2 + REGION_SD**2 * region + OWN_SD**2 * np.eye(len(GROUPS))) / total
    return result


def first_state(runner: Runner, year: int, mass_kg: float, weeks: float) -> State:
    """The belief before any log and any test: norms, level, age; the spread of each group is that of `prior_capacity`."""
    prior = prior_capacity(replace(runner, tests=()), year)
    mean, cov = np.zeros(N_FIXED), np.zeros((N_FIXED, N_FIXED))
    n = len(GROUPS)
    sd = np.array([prior.sd_log[g] for g in GROUPS])
    mean[:n] = [prior.mean_log[g] for g in GROUPS]
    cov[:n, :n] = correlation() * np.outer(sd, sd)
    mean[BIAS] = BIAS_MEAN
    for at, spread in ((BIAS, BIAS_SD), (DAY, DAY_SD), (DAY_LEGS, DAY_LEGS_SD)):
        cov[at, at] = spread**2
    return State(
        runner.id, FIXED, mean, cov, None, mass_kg, weeks, prior_basis=prior.basis, prior_sd=dict(prior.sd_log)
    )
