"""Capacity before any log: norms, level of training, age, and home tests where given."""

from __future__ import annotations

import math
from typing import Final

from ferrule.capacity.home_tests import reading_of
from ferrule.capacity.norms import NORMS, Norm
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Group, Level4

GAIN_B: Final = 0.101
"""Steele 2022 (seen): strength = start * (1 + b ln(week)), b = 0.40 / ln 52."""

LEVEL_WEEKS: Final[dict[Level4, float]] = {"never": 1, "some": 6, "regular": 26, "strong": 312}
"""Weeks of training each level stands for (ours)."""

AGE_FROM: Final = 40
AGE_LOG_PER_YEAR: Final = -0.005
"""Loss of log capacity a year after 40. Hip abduction falls 0.3 % a year over all ages (Ramskov 2014, seen), one-minute
chair rises 0.9 % a year from 22 to 77 (Strassmann 2013, seen); 0.5 % lies between and is our choice."""

SEX_UNKNOWN: Final = "sex not given: half-way between the norms, with a wider spread"


def level_log(level: Level4) -> float:
    """Log gain of a level over `some`, the level the norms are taken for (natural log)."""
    return math.log(1 + GAIN_B * math.log(LEVEL_WEEKS[level])) - math.log(1 + GAIN_B * math.log(LEVEL_WEEKS["some"]))


def age_log(birth_year: int | None, year: int) -> float:
    """Log change with age; 0 when the birth year is not known."""
    return 0.0 if birth_year is None else AGE_LOG_PER_YEAR * max(0, year - birth_year - AGE_FROM)


def prior_capacity(runner: Runner, year: int) -> Capacity:
    """What we believe of `runner` in the calendar year `year` when nothing has been logged.

    Each group: norm (by sex, or between the two) + level + age, with the norm's spread; then every home test is
    folded in, weighted by precision:  mean += (test - mean) * var / (var + test_var).

    Returns  a Capacity for all groups; spreads between about 0.1 (tested) and 0.45 log units
    """
    mean: dict[Group, float] = {}
    sd: dict[Group, float] = {}
    basis: dict[Group, tuple[str, ...]] = {}
    shift = level_log(runner.level) + age_log(runner.birth_year, year)
    for norm in NORMS:
        m, s, words = _start(norm, runner)
        mean[norm.group], sd[norm.group] = m + shift, s
        basis[norm.group] = (
            *words,
            f"level of training: {runner.level} (Steele 2022, seen; weeks a level stands for are ours)",
        )
    for test in runner.tests:
        for reading in reading_of(test, runner):
            var, test_var = sd[reading.group] ** 2, reading.sd_log**2
            gain = var / (var + test_var)
            mean[reading.group] += gain * (reading.log_capacity - mean[reading.group])
            sd[reading.group] = math.sqrt(var * (1 - gain))
            basis[reading.group] = (*basis[reading.group], reading.words)
    return Capacity(runner.id, mean, sd, basis)


def _start(norm: Norm, runner: Runner) -> tuple[float, float, tuple[str, ...]]:
    if runner.sex == "female":
        return norm.female, norm.sd_log, (norm.basis,)
    if runner.sex == "male":
        return norm.male, norm.sd_log, (norm.basis,)
    half = abs(norm.male - norm.female) / 2
    return (norm.female + norm.male) / 2, math.hypot(norm.sd_log, half), (norm.basis, SEX_UNKNOWN)
