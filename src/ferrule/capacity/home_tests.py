"""Submaximal home tests as readings of capacity. Every test stops with about two good repetitions left.

A reading   log capacity = log demand - log share(count + 2), with the error of the test itself beside it
Error       the standard error of one test done again on another day: the day-to-day change of the runner is in it
Curve       how far this person's own curve may lie off the mean one: it does not go away when the test is done again
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from ferrule.capacity import curves
from ferrule.capacity.norms import BENT_KNEE_LOG, BY_GROUP, ONE_LEG_BRIDGE
from ferrule.model.entry import LoggedTest
from ferrule.model.squad import FieldTest, Runner
from ferrule.model.words import Group, Side

LEFT: Final = 2.0
"""Repetitions the instructions say to leave (common practice, no source)."""

LEFT_SD: Final = 1.0
"""Error in judging what is left: about one repetition up to five left (Hackett 2017, seen)."""


def standard_error(limit: float) -> float:
    """Error of one reading from half the width of the 95 % limits of agreement of two: limit / (1.96 sqrt 2)."""
    return limit / (1.96 * math.sqrt(2))


HEEL_RAISE_SE: Final = standard_error(6.35)
"""2.3 repetitions: limits of agreement between days -6.2 to 6.5 on the right (Hebert-Losier 2017, seen)."""

BRIDGE_SE: Final = 3.7
"""SD 7 repetitions (Roberti 2024, seen), ICC 0.68-0.75 of two timed forms (Waldhelm 2024, seen): 7 sqrt(1 - 0.715), ours."""

PRESS_UP_SE: Final = 3.0
"""Ours: typical error 9-26 % over the fitness tests of 14-year-olds, 21 % for girls' press-ups (Lubans 2011, seen)."""

HOLD_SE_LOG: Final = 0.18
"""Log time of a plank: typical error 12.1-24.1 % over three trunk holds, the side bridge among them, in recreational athletes
(Juan-Recio 2025, seen); the middle is ours. One timed front plank after practice had 2 % (Tong 2014, seen)."""

BENT_SD_LOG: Final = 0.12
"""Spread of bent-knee against straight-knee capacity between people (ours)."""

CHAIR_MEDIAN: Final = ((22, 50.0, 47.0), (77, 30.0, 27.0))
"""One-minute chair rises, age, men, women (Strassmann 2013, medians seen for 20-24 and 75-79 years)."""
CHAIR_SD: Final = 11.9
"""Interquartile range 41-57 at 20-24 years (Strassmann 2013, seen) divided by 1.35."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A log capacity read off a test, with the spread of that reading.

    sd_log      all of it: error of the test and what the runner's own curve may differ
    side        the side that was tested
    noise_log   the part of sd_log that another test on another day would bring anew
    """

    group: Group
    log_capacity: float
    sd_log: float
    words: str
    side: Side = "both"
    noise_log: float = 0.0


def reading_of(test: FieldTest | LoggedTest, runner: Runner) -> tuple[Reading, ...]:
    """What a home test says, group by group. Empty for a value of zero or less.

    test   as told in the squad list, or done on a day; one side is a reading of that side
    """
    if not test.value > 0:
        return ()
    if test.kind in ("side plank", "front plank"):
        group: Group = "trunk side" if test.kind == "side plank" else "trunk front"
        return (_hold(test, group),)
    if test.kind == "heel raises":
        straight = _reps(test, "calf straight", 1.0, HEEL_RAISE_SE)
        bent = Reading("calf bent", straight.log_capacity + BENT_KNEE_LOG, math.hypot(straight.sd_log, BENT_SD_LOG),
                       f"{straight.words}, 15 % lower with the knee bent", test.side, straight.noise_log)  # fmt: skip
        return (straight, bent)
    if test.kind == "press-ups":
        return (_reps(test, "push", 1.0, PRESS_UP_SE),)
    if test.kind == "bridges one leg":
        return (_reps(test, "bridge and knee flexion", ONE_LEG_BRIDGE, BRIDGE_SE),)
    return (_chair(test, runner),)


def _reps(test: FieldTest | LoggedTest, group: Group, demand: float, reps_se: float) -> Reading:
    k = curves.k_of(group)
    reps = test.value + LEFT
    slope = k / (1 + k * (reps - 1))  # d log capacity / d repetition
    noise = slope * math.hypot(reps_se, LEFT_SD)
    personal = curves.K_CV * slope * (reps - 1)  # the runner's own curve is not known
    words = f"home test: {test.value:g} {test.kind}{_side(test)}, stopped with about {LEFT:g} left"
    log_capacity = math.log(demand / curves.share_at(reps, k))
    return Reading(group, log_capacity, math.hypot(noise, personal), words, test.side, noise)


def _hold(test: FieldTest | LoggedTest, group: Group) -> Reading:
    share = curves.share_at_hold(test.value, group)
    noise = HOLD_SE_LOG / -curves.hold_curve(group)[1]
    words = f"home test: {test.kind} {test.value:g} s{_side(test)}"
    return Reading(group, -math.log(share), math.hypot(noise, curves.HOLD_SD_LOG), words, test.side, noise)


def _side(test: FieldTest | LoggedTest) -> str:
    return "" if test.side == "both" else f", {test.side}"


def _year(test: FieldTest | LoggedTest, runner: Runner) -> int | None:
    if isinstance(test, LoggedTest):
        return test.day.year
    return None if runner.anchor is None else runner.anchor.day.year


def _chair(test: FieldTest | LoggedTest, runner: Runner) -> Reading:
    """Chair rises tell stamina more than strength: half the z-score against the median of the age is believed (ours)."""
    (young, young_m, young_f), (old, old_m, old_f) = CHAIR_MEDIAN
    year = _year(test, runner)
    age = 40.0 if runner.birth_year is None or year is None else year - runner.birth_year
    part = min(1.0, max(0.0, (age - young) / (old - young)))
    men, women = young_m + part * (old_m - young_m), young_f + part * (old_f - young_f)
    norm = BY_GROUP["knee and hip"]
    of_sex = {"male": (men, norm.male), "female": (women, norm.female)}
    median, middle = of_sex.get(runner.sex or "", ((men + women) / 2, (norm.male + norm.female) / 2))
    z = max(-2.0, min(2.0, (test.value - median) / CHAIR_SD))
    words = f"home test: {test.value:g} chair rises in a minute"
    return Reading("knee and hip", middle + 0.5 * z * norm.sd_log, norm.sd_log, words, "both", norm.sd_log)
