"""How well first sets were foretold: errors, spreads and chances, by stratum."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bench.estimator_peers import Expected
from ferrule.capacity import curves
from ferrule.capacity.compared import Compared, compared
from ferrule.model.calibration import Stratum, stratum_of
from ferrule.model.exercise import Library
from ferrule.simulate.reports import Happened
from ferrule.simulate.truth import Body, share_of
from ferrule.simulate.world import TrueVariant

MOST = 40.0
Z90 = 1.6449

Base = tuple[int, int, int, int, bool, bool, Library]
"""Squad, week, days on which the runner did it before, sets the squad did, writes all down, nothing logged yet, library."""


@dataclass(frozen=True, slots=True)
class Score:
    """One first set, foretold before its week.

    error    log amount foretold minus true;  load: log load between them on the TRUE curve
    chance   stated that what was asked would be completed;  done: it was
    z, asked_z    how many foretold spreads the true amount, and the one asked for, lie above the middle
    stratum  as in ferrule.model.calibration; None before anything of the runner was logged
    told     what was foretold beside what was told of this set and the last of the line; without slips
    """

    squad: int
    week: int
    seen_days: int
    squad_sets: int
    hold: bool
    trust: str
    group: str
    writes: bool
    sets_known: int
    error: float
    load: float
    inside: bool
    chance: float
    done: bool
    z: float
    asked_z: float
    stratum: Stratum | None
    told: tuple[Compared, ...]


def score(
    expected: Expected,
    happened: Happened,
    body: Body,
    asks: TrueVariant,
    base: Base,
    last: Sequence[Happened] = (),
) -> Score:
    """Score one foretold first set; repetitions are compared within 1 to 40 on both sides. last: of its line."""
    squad, week, seen_days, squad_sets, writes, fresh, library = base
    hold = asks.hold

    def held(x: float) -> float:
        return x if hold else min(MOST, max(1.0, x))

    true, said = held(happened.possible), held(expected.amount())
    low, high = held(expected.amount(-Z90)), held(expected.amount(Z90))
    main = asks.variant.main
    loaded = happened.asked.load_kg > 0
    stratum = stratum_of(seen_days, hold=hold, loaded=loaded)
    told = []
    for one in (happened, *last):
        before = replace(expected, log_share=expected.log_share + curves.SET_FATIGUE_LOG * (one.number - 1))
        if one.entry.load_kg == one.asked.load_kg:  # else a slip, or another set than was foretold
            told.append(compared(one.entry, before.z_of, library, body.mass_kg, stratum, finding=fresh))
    return Score(
        squad,
        week,
        seen_days,
        squad_sets,
        hold,
        main.trust if main else "",
        asks.group,
        writes,
        0,
        math.log(said / true),
        share_of(body, asks, true) - share_of(body, asks, said),
        low <= true <= high,
        expected.chance(happened.asked.amount),
        happened.possible >= happened.asked.amount,
        expected.z_of(true),
        expected.z_of(happened.asked.amount),
        None if fresh else stratum,
        tuple(c for c in told if c is not None),
    )


Pick = Callable[[Score], bool]


def repeated(s: Score) -> bool:
    """Done before on two days or more, after the second week."""
    return s.week >= 2 and s.seen_days >= 2


def new(s: Score) -> bool:
    """New to the runner, and done at least three times by the squad."""
    return s.week >= 1 and s.seen_days == 0 and s.squad_sets >= 3


def later(s: Score) -> bool:
    return s.week >= 1


def column(scores: Sequence[Score], pick: Pick, of: Callable[[Score], float]) -> NDArray[np.float64]:
    return np.array([of(s) for s in scores if pick(s)], dtype=float)


def rmse(scores: Sequence[Score], pick: Pick, of: Callable[[Score], float] = lambda s: s.error) -> float:
    x = column(scores, pick, of)
    return float(np.sqrt((x**2).mean())) if len(x) else math.nan


def mean(scores: Sequence[Score], pick: Pick, of: Callable[[Score], float]) -> float:
    x = column(scores, pick, of)
    return float(x.mean()) if len(x) else math.nan


def brier(scores: Sequence[Score], pick: Pick = later) -> float:
    return mean(scores, pick, lambda s: (s.chance - s.done) ** 2)


BINS = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 0.97, 1.001)


def stated_and_happened(scores: Sequence[Score], pick: Pick = later) -> list[tuple[float, float, int]]:
    """By bin of the chance stated: (mean stated, share that happened, how many)."""
    rows = []
    for low, high in pairwise(BINS):
        inside = [s for s in scores if pick(s) and low <= s.chance < high]
        if len(inside) >= 30:
            rows.append(
                (
                    float(np.mean([s.chance for s in inside])),
                    float(np.mean([s.done for s in inside])),
                    len(inside),
                )
            )
    return rows
