"""Chances and reserves corrected by the squad's own past: what had been foretold one step ahead, and what then happened.

Reserve   z, the amount told in foretold spreads above the foretold middle, is normal(level + lean * asked_z, spread^2 and its
          own error^2); bounds by the chance of lying above. The lean takes up that a coach who sees the runner asks less of
          the weaker: without it such bounds would tell of strength. Shift and factor are mean and SD of z over the sets
          Counts are told with errors of their own, and those between done and "4 or more" only: a shift counts for what is
          beyond 0.2 spreads, and no spread is ever made narrower
Chance    log odds' = level + slope * log odds, by whether first sets were completed
Each pair is the most likely one with a normal prior: all strata together round what the finding week says, a stratum round
all together, the finding week round no correction (shift 0, factor 1, level 0, slope 1).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import numpy.typing as npt

from ferrule.capacity.compared import Compared
from ferrule.capacity.versions import Version
from ferrule.model.calibration import LEAST_CHANCE, LEAST_SETS, SAME, Calibration, Correction

Array = npt.NDArray[np.float64]

FINDING_SD: Final = (0.15, 0.10)
ALL_SD: Final = (1.0, 0.5)
STRATUM_SD: Final = (0.5, 0.3)
"""How far (level and shift, slope and log factor) may move from what they are drawn to. The finding week is foretold from
norms alone, so little of it is taken for the weeks after. Chosen on simulated squads 10 to 20, measured on others."""

LEAST_SLOPE: Final = 0.1
"""So that more is never said to be likelier than less, whatever few sets tell (ours)."""
LEAN_SD: Final = 0.5
TELLING: Final = 0.2
"""Spreads by which the middle of what is told lay off the truth in strata of simulated squads 10 to 15 (up to 0.2)."""
STEPS: Final = 50
CLOSE: Final = 1e-6
ROOT_TWO: Final = math.sqrt(2)
Pair = tuple[float, float]


def calibrate(told: Iterable[Compared], version: Version, *, reserve: bool = True) -> Calibration:
    """The corrections that `told` up to `version.until` give. In whatever order they came; each entry counts once.

    reserve   whether the reserve is corrected as well; else chances alone
    """
    kept = {c.entry_id: c for c in sorted(told, key=repr) if c.day <= version.until}
    every = [kept[e] for e in sorted(kept)]
    if not reserve:
        every = [replace(c, reading="nothing") for c in every if c.done is not None]
    finding, later = [c for c in every if c.finding], [c for c in every if not c.finding]
    rest = _learnt(later, _learnt(finding, SAME, FINDING_SD), ALL_SD)
    made = Calibration(version.number, version.until, {}, rest)
    strata = {}
    for stratum in sorted({c.stratum for c in later}):
        towards = made.of(stratum)
        own = _learnt([c for c in later if c.stratum == stratum], towards, STRATUM_SD, hold=True)
        if own is not towards:
            strata[stratum] = own
    return replace(made, strata=strata)


def corrected_chance(correction: Correction, asked_z: float) -> float:
    """The chance that an amount `asked_z` foretold spreads above the middle is possible, corrected."""
    return correction.chance(0.5 * math.erfc(asked_z / ROOT_TWO))


def _learnt(sets: Sequence[Compared], towards: Correction, sd: Pair, *, hold: bool = False) -> Correction:
    """The correction these sets tell, drawn to `towards`; a pair of which too few sets tell stays as it is there.

    hold   whether what is left after a hold tells of the reserve: of holds, not of all together
    """
    told = [c for c in sets if c.done is not None]
    readings = [c for c in sets if c.reading != "nothing" and (hold or c.stratum.way != "hold")]
    by = towards
    if len(told) >= LEAST_SETS:
        odds = np.array([_odds(c.asked_z) for c in told])
        done = np.array([float(bool(c.done)) for c in told])
        level, slope = _most_likely(lambda t: _chance_slope(t, odds, done), (towards.level, towards.slope), sd)
        if slope < LEAST_SLOPE:
            slope = LEAST_SLOPE
            (level,) = _most_likely(lambda t: _level_slope(t, slope * odds, done), (towards.level,), sd[:1])
        by = replace(by, level=level, slope=slope, sets=len(told))
    if len(readings) >= LEAST_SETS:
        shift, factor = _reserve(readings, towards, sd)
        by = replace(by, shift=shift, factor=factor, readings=len(readings))
    return by


def _odds(asked_z: float) -> float:
    """Log odds of the foretold chance."""
    chance = min(1 - LEAST_CHANCE, max(LEAST_CHANCE, 0.5 * math.erfc(asked_z / ROOT_TWO)))
    return math.log(chance / (1 - chance))


def _reserve(readings: Sequence[Compared], towards: Correction, sd: Pair) -> Pair:
    """Shift and factor that these sets tell."""
    told = np.array([(c.z, c.z_sd, c.asked_z, c.reading == "at least") for c in readings])
    middle = (towards.shift, 0.0, math.log(towards.factor))
    t = _most_likely(lambda t: _reserve_slope(t, told), middle, (sd[0], LEAN_SD, sd[1]))
    asked = told[:, 2]
    shift, factor = t[0] + t[1] * asked.mean(), math.hypot(math.exp(t[2]), float(t[1] * asked.std()))
    return math.copysign(max(0.0, abs(shift) - TELLING), shift), max(1.0, factor)


def _most_likely(
    slope_at: Callable[[Array], tuple[Array, Array]], towards: Sequence[float], sd: Sequence[float]
) -> tuple[float, ...]:
    """Where the log likelihood and the normal prior (`towards`, `sd`, each (k,)) together are highest: Newton, steps to 0.5.

    slope_at(t): (gradient (k,), information (k, k)) of the log likelihood at t
    """
    middle, precision = np.array(towards), np.diag(1 / np.array(sd) ** 2)
    t = middle.copy()
    for _ in range(STEPS):
        gradient, information = slope_at(t)
        step = np.linalg.solve(information + precision, gradient - precision @ (t - middle))
        t = t + step.clip(-0.5, 0.5)
        if np.abs(step).max() < CLOSE:
            break
    return tuple(float(x) for x in t)


def _chance_slope(t: Array, odds: Array, done: Array) -> tuple[Array, Array]:
    """Gradient and information of level and slope."""
    x = np.stack([np.ones_like(odds), odds], axis=1)
    p = 1 / (1 + np.exp(-(x @ t).clip(-30, 30)))
    return x.T @ (done - p), (x * (p * (1 - p))[:, None]).T @ x


def _level_slope(t: Array, odds: Array, done: Array) -> tuple[Array, Array]:
    """Gradient and information of the level alone."""
    p = 1 / (1 + np.exp(-(t[0] + odds).clip(-30, 30)))
    return np.array([(done - p).sum()]), np.array([[(p * (1 - p)).sum()]])


def _reserve_slope(t: Array, told: Array) -> tuple[Array, Array]:
    """Gradient of level, lean and log spread for readings (n, 4), and the sum of the squares of each one's part in it."""
    z, error, asked, bound = told.T
    var = math.exp(2 * t[2])
    s = np.sqrt(var + error**2)
    d = (z - t[0] - t[1] * asked) / s
    hazard = _hazard(-d)
    up = np.where(bound > 0, hazard, d) / s
    wider = np.where(bound > 0, hazard * d, d**2 - 1) * var / s**2
    each = np.stack([up, up * asked, wider], axis=1)
    return each.sum(axis=0), each.T @ each


def _hazard(u: Array) -> Array:
    """Density over the chance of lying below `u`, of a standard normal."""
    below = np.array([0.5 * math.erfc(-x / ROOT_TWO) for x in u])
    density = np.exp(-(u**2) / 2) / math.sqrt(2 * math.pi)
    return np.where(u > -30, density / np.maximum(below, 1e-300), -u)
