"""Submaximal home tests as readings of capacity. Every test stops with about two good repetitions left."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from ferrule.capacity import curves
from ferrule.capacity.norms import BENT_KNEE_LOG, BY_GROUP, ONE_LEG_BRIDGE
from ferrule.model.squad import FieldTest, Runner
from ferrule.model.words import Group

LEFT: Final = 2.0
"""Repetitions the instructions say to leave (common practice, no source)."""

HEEL_RAISE_SD: Final = 3.2
"""Between-day limits of agreement of -6.2 to 6.5 repetitions (Hebert-Losier 2017, seen), divided by 1.96."""

REPS_SD: Final = 3.0
"""Other counts: no published agreement, taken as the heel raise's (ours)."""

CHAIR_MEDIAN: Final = ((22, 50.0, 47.0), (77, 30.0, 27.0))
"""One-minute chair rises, age, men, women (Strassmann 2013, medians seen for 20-24 and 75-79 years)."""
CHAIR_SD: Final = 11.9
"""Interquartile range 41-57 at 20-24 years (Strassmann 2013, seen) divided by 1.35."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A log capacity read off a test, with the spread of that reading."""

    group: Group
    log_capacity: float
    sd_log: float
    words: str


def reading_of(test: FieldTest, runner: Runner) -> tuple[Reading, ...]:
    """What a home test says, group by group. Empty for a value of zero or less."""
    if test.value <= 0:
        return ()
    if test.kind in ("side plank", "front plank"):
        group: Group = "trunk side" if test.kind == "side plank" else "trunk front"
        return (_hold(test, group),)
    if test.kind == "heel raises":
        straight = _reps(test, "calf straight", 1.0, HEEL_RAISE_SD)
        bent = Reading("calf bent", straight.log_capacity + BENT_KNEE_LOG, math.hypot(straight.sd_log, 0.12),
                       f"{straight.words}, 15 % lower with the knee bent")  # fmt: skip
        return (straight, bent)
    if test.kind == "press-ups":
        return (_reps(test, "push", 1.0, REPS_SD),)
    if test.kind == "bridges one leg":
        return (_reps(test, "bridge and knee flexion", ONE_LEG_BRIDGE, REPS_SD),)
    return (_chair(test, runner),)


def _reps(test: FieldTest, group: Group, demand: float, reps_sd: float) -> Reading:
    k = curves.k_of(group)
    reps = test.value + LEFT
    slope = k / (1 + k * (reps - 1))  # d log capacity / d repetition
    personal = curves.K_CV * slope * (reps - 1)  # the runner's own curve is not known
    sd = math.sqrt((slope * reps_sd) ** 2 + personal**2 + curves.DAY_SD_LOG**2)
    words = f"home test: {test.value:g} {test.kind}, stopped with about {LEFT:g} left"
    return Reading(group, math.log(demand / curves.share_at(reps, k)), sd, words)


def _hold(test: FieldTest, group: Group) -> Reading:
    share = curves.share_at_hold(test.value, group)
    return Reading(group, -math.log(share), curves.HOLD_SD_LOG, f"home test: {test.kind} {test.value:g} s")


def _chair(test: FieldTest, runner: Runner) -> Reading:
    """Chair rises tell stamina more than strength: half the z-score against the median of the age is believed (ours)."""
    (young, young_m, young_f), (old, old_m, old_f) = CHAIR_MEDIAN
    age = 40.0 if runner.birth_year is None else runner.anchor.day.year - runner.birth_year if runner.anchor else 40.0
    part = min(1.0, max(0.0, (age - young) / (old - young)))
    men, women = young_m + part * (old_m - young_m), young_f + part * (old_f - young_f)
    median = men if runner.sex == "male" else women if runner.sex == "female" else (men + women) / 2
    norm = BY_GROUP["knee and hip"]
    middle = (
        norm.male if runner.sex == "male" else norm.female if runner.sex == "female" else (norm.male + norm.female) / 2
    )
    z = max(-2.0, min(2.0, (test.value - median) / CHAIR_SD))
    return Reading(
        "knee and hip",
        middle + 0.5 * z * norm.sd_log,
        norm.sd_log,
        f"home test: {test.value:g} chair rises in a minute",
    )
