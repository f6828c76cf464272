"""House rules: the coach's thresholds. Every one has a default, a unit, a range and a source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Threshold:
    """One number the coach may change in `house.toml`.

    key      kebab-case name;  default, low, high in `unit`
    source   citation with provenance, or "common practice, no source"
    """

    key: str
    default: float
    low: float
    high: float
    unit: str
    what: str
    source: str


THRESHOLDS: tuple[Threshold, ...] = (
    Threshold(
        "key-run-gap-h",
        24,
        0,
        72,
        "h",
        "hours between heavy leg work and the next key run, long run or race",
        "Doma and Deakin 2015 (effect seen; the hours are from memory)",
    ),
    Threshold(
        "race-gap-h",
        48,
        0,
        168,
        "h",
        "hours between heavy leg work and a race",
        "Moran-Navarro 2017, 48 h after sets to failure (seen); use before races is common practice, no source",
    ),
    Threshold(
        "session-gap-h",
        40,
        12,
        96,
        "h",
        "hours between two strength sessions",
        "common practice, no source (two nights and a day; non-consecutive days: WHO 2020, ACSM 2026, seen)",
    ),
    Threshold(
        "same-day-run-gap-h",
        6,
        0,
        12,
        "h",
        "hours between leg strength and a run on the same day",
        "Robineau 2016 (seen)",
    ),
    Threshold(
        "hysteresis",
        0.5,
        0,
        5,
        "reps",
        "how much nearer to the intended effort another choice must be to replace what the coach wrote",
        "common practice, no source",
    ),
    Threshold(
        "changes-a-week",
        60,
        0,
        1000,
        "departures",
        "departures from the text the coach is willing to read in one squad week",
        "common practice, no source",
    ),
    Threshold(
        "minutes-over",
        3,
        0,
        15,
        "min",
        "how far a session may run over its promised minutes",
        "common practice, no source",
    ),
    Threshold(
        "contacts-a-session",
        100,
        0,
        200,
        "contacts",
        "foot contacts in one session",
        "handbook plyometric chapter, beginner band 80-100 (seen, secondary)",
    ),
    Threshold(
        "new-exercises-a-week",
        12,
        1,
        40,
        "variants",
        "variants a runner meets for the first time in one week",
        "common practice, no source",
    ),
    Threshold(
        "finding-margin-rir",
        1,
        0,
        4,
        "reps",
        "extra repetitions in reserve in the finding week",
        "estimator trial on simulated runners: week 1 priors miss by a factor of five in repetitions",
    ),
    Threshold(
        "fail-risk",
        0.35,
        0.05,
        1,
        "probability",
        "largest chance of not completing a set where failing can hurt",
        "common practice, no source",
    ),
)
"""Thresholds of the fit and of the checks; a check adds its own by listing it here."""


@dataclass(frozen=True, slots=True)
class House:
    """The effective thresholds: defaults with the coach's changes.

    changed        key -> the coach's value
    switched_off   rule names the coach switched off
    """

    changed: Mapping[str, float] = field(default_factory=dict)
    switched_off: frozenset[str] = frozenset()
    coach: str = ""
    contact: str = ""

    def value(self, key: str) -> float:
        """The effective number for `key`. Raises KeyError for a name that is no threshold."""
        return self.changed.get(key, _DEFAULTS[key])


_DEFAULTS = {t.key: t.default for t in THRESHOLDS}
