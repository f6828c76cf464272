"""What we expect of one set, from the slices of the belief."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from ferrule.capacity import curves
from ferrule.fit.calibrated import calibrated, stated_chance, way_of
from ferrule.fit.choices import Choice
from ferrule.fit.effort import believed
from ferrule.model.fitted import Prediction
from ferrule.model.quantity import Range, number
from ferrule.model.squad import Capacity

Verdict = Literal["too easy", "right", "too hard"]
Z80 = 1.2816
SLACK_HARD, SLACK_EASY = 1.0, 3.0
"""Repetitions outside the band that are still called right: a report misses by about one (Halperin 2022, seen), and a
set that is a few repetitions too easy hurts nobody (common practice, no source)."""


def verdict(choice: Choice) -> Verdict:
    """How the middle of what is possible lies to the band the coach meant; `right` where nothing is dosed."""
    if choice.possible is None:
        return "right"
    middle = float(np.median(choice.possible))
    if middle < choice.intent.low - SLACK_HARD:
        return "too hard"
    return "too easy" if middle > choice.intent.high + SLACK_EASY else "right"


def predict(choice: Choice, sets: int, capacity: Capacity) -> Prediction | None:
    """The prediction for the last of `sets` sets; None where nothing is dosed.

    share       demand e^{0.018 (sets-1)} / capacity, its middle and 80 % interval (log-normal)
    reserve     possible - written, middle and SD over the slices, repetitions (holds: tenths of the written seconds)
    p_complete  chance of the least of the written range in the first set, `calibrated.stated_chance`
    """
    group = choice.group
    if choice.possible is None or group is None:
        return None
    demand = choice.demand * math.exp(curves.SET_FATIGUE_LOG * (sets - 1))
    assert choice.variant is not None  # it has a group
    way = way_of(choice)
    mean, own_sd = calibrated(capacity, way, believed(capacity, choice.variant))
    sd = math.hypot(own_sd, curves.DAY_SD_LOG)
    share = demand / math.exp(mean)
    dose, intent = choice.dose, choice.intent
    least = dose.reps.low if dose.reps is not None and intent.unit == "reps" else intent.work
    if dose.reps is not None and dose.sides in ("alternating", "total"):
        least = dose.reps.low / 2
    amount = least * intent.hold_s / 10 if intent.unit == "hold" else least
    n = np.minimum(choice.possible, 200.0)
    return Prediction(
        share=share,
        share_low=share * math.exp(-Z80 * sd),
        share_high=share * math.exp(Z80 * sd),
        reserve=float(np.median(n)) - intent.work,
        reserve_sd=float(n.std()),
        p_complete=stated_chance(capacity, way, amount),
        intended=intent.reserve,
        verdict=verdict(choice),
    )


def possible_words(choice: Choice) -> str:
    """What is likely possible against what was meant, in words for the coach: "about 4 possible, 8 to 10 meant"."""
    if choice.possible is None:
        return ""
    low, high = np.quantile(choice.possible, [0.2, 0.8])
    intent = choice.intent
    if intent.unit == "hold":
        seconds = intent.hold_s / 10
        short, long = _round(low * seconds, 5), _round(high * seconds, 5)
        likely = "less than 5 s" if long == "0" else f"{long} s" if short == long else f"{short}-{long} s"
        return f"{likely} likely possible, at least {_round(intent.low * seconds, 1)} s meant"
    least, most = max(0, round(low)), max(0, round(high))
    top = "40 or more" if high > 40 else number(most) if most else "none"
    likely = f"{number(least)}-{top}" if least < min(most, 41) else top
    meant = Range(round(intent.low), round(min(intent.high, 1000)))
    band = f"at least {number(meant.low)}" if meant.high >= 1000 else str(meant)
    return f"{likely} likely possible, {band} meant"


def _round(value: float, step: int) -> str:
    return number(max(0, step * round(value / step)))
