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
        "sore-share",
        0.6,
        0.1,
        1.0,
        "share of best",
        "most that is asked of a sore region",
        "common practice, no source",
    ),
    Threshold(
        "pain-stop",
        3,
        0,
        5,
        "0-10",
        "pain above which a runner stops that exercise, and above which nothing loads a sore region",
        "lowest zone 0-2 (from memory) or 0-3 (seen, secondary) of the pain-monitoring models; nobody is in the room, so ours",
    ),
    Threshold(
        "pain-ceiling",
        5,
        0,
        5,
        "0-10",
        "highest pain a written condition may let a runner go on at",
        "Silbernagel 2007 as summarised (seen): at most 5 of 10, settled by next morning",
    ),
    Threshold(
        "rest-days-a-week",
        1,
        0,
        3,
        "days",
        "days a week with neither a run nor a session, where the runner's own runs leave any",
        "common practice, no source",
    ),
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
    Threshold(
        "rest-s",
        60,
        0,
        300,
        "s",
        "least recovery between two hard sets of one exercise",
        "Grgic 2018, untrained 60-120 s (seen)",
    ),
    Threshold(
        "rest-heavy-s",
        120,
        30,
        600,
        "s",
        "least recovery between two heavy sets of one exercise",
        "Grgic 2018, trained, above 120 s (seen)",
    ),
    Threshold(
        "rest-6rm-s",
        180,
        60,
        600,
        "s",
        "least recovery between two sets at 1-6RM",
        "Ratamess 2009, 3-5 min (seen)",
    ),
    Threshold(
        "heavy-percent",
        80,
        60,
        95,
        "% 1RM",
        "least load of a set that may be called heavy or maximal strength",
        "Llanos-Lagos 2024, class limit (seen); ACSM 2026 (seen in a news summary only)",
    ),
    Threshold(
        "weekly-sets-low",
        4,
        0,
        20,
        "sets/week",
        "fewest hard sets a week for each part of the leg, indirect sets counted half",
        "Iversen 2021, lower bound (seen); half counting Pelland 2024 (seen); the band's ends are our choice",
    ),
    Threshold(
        "weekly-sets-high",
        10,
        4,
        40,
        "sets/week",
        "most hard sets a week for each part of the leg, indirect sets counted half",
        "ACSM 2026, upper guide (seen in a news summary only); the band's ends are our choice",
    ),
    Threshold(
        "leg-sessions-low",
        2,
        0,
        7,
        "sessions/week",
        "fewest sessions a week with hard leg work",
        "WHO 2020, two days a week (seen); Blagrove 2018, 2-3 (seen)",
    ),
    Threshold(
        "leg-sessions-high",
        3,
        1,
        14,
        "sessions/week",
        "most sessions a week with hard leg work",
        "Blagrove 2018, 2-3 a week in runners' trials (seen)",
    ),
    Threshold(
        "one-leg-share",
        50,
        0,
        100,
        "%",
        "least share of the week's hard leg sets done on one leg",
        "common practice, no source",
    ),
    Threshold(
        "contacts-step",
        20,
        0,
        100,
        "contacts",
        "largest rise in foot contacts a session from one week to the next",
        "step between the handbook's levels, 100, 120, 140 (from memory)",
    ),
    Threshold(
        "load-step-percent",
        10,
        1,
        50,
        "%",
        "largest rise in a written load from one week to the next",
        "Ratamess 2009, 2-10 % (seen)",
    ),
    Threshold(
        "volume-step-percent",
        50,
        5,
        200,
        "%",
        "largest rise in a part of the leg's hard sets from one week to the next",
        "common practice, no source",
    ),
    Threshold(
        "easier-week-every",
        8,
        2,
        26,
        "weeks",
        "most weeks in a row without an easier one",
        "Rogerson 2024, a survey: every 5.6 weeks, SD 2.3 (seen)",
    ),
    Threshold(
        "easier-week-drop",
        20,
        5,
        80,
        "%",
        "how far the hard sets must fall for a week to count as easier",
        "common practice, no source",
    ),
    Threshold(
        "low-reserve",
        1,
        0,
        4,
        "RIR",
        "reserve at or below which a line asks for experience to be stated",
        "Ratamess 2009, novices at 8-12RM (seen); the cut is common practice, no source",
    ),
    Threshold(
        "leg-reserve",
        1,
        0,
        5,
        "RIR",
        "least reserve on leg exercises of runners who keep running",
        "Moran-Navarro 2017 (seen); ACSM 2026, failure not needed (seen in a news summary only)",
    ),
    Threshold(
        "demanding",
        60,
        0,
        100,
        "% of the family",
        "how far up its family, easier to harder, an exercise needs an easier alternative beside it",
        "common practice, no source",
    ),
    Threshold(
        "sets-a-session",
        24,
        4,
        60,
        "sets",
        "most hard sets in one session",
        "common practice, no source",
    ),
    Threshold(
        "sets-a-line",
        6,
        1,
        20,
        "sets",
        "most hard sets of one exercise in one session",
        "ACSM 2026, 2-3 sets (seen in a news summary only); the limit is common practice, no source",
    ),
    Threshold(
        "easier-weeks-most",
        2,
        1,
        8,
        "weeks",
        "most easier weeks in a row that are not called a taper, the season or a break",
        "Rogerson 2024, a survey: 6.4 days, SD 1.7 (seen); the second week is our choice",
    ),
    Threshold(
        "taper-drop",
        41,
        10,
        90,
        "%",
        "least fall of the hard sets at the end of a taper and in the week of a race",
        "Bosquet 2007; Wang 2023, 41-60 % (seen; endurance work, applied to strength by us)",
    ),
    Threshold(
        "taper-weeks-most",
        3,
        1,
        8,
        "weeks",
        "longest taper",
        "Bosquet 2007, 2 weeks; Wang 2023, up to 3 (seen)",
    ),
    Threshold(
        "new-exercises-later",
        6,
        1,
        40,
        "exercises",
        "most exercises new to the programme in one week after the first",
        "common practice, no source",
    ),
    Threshold(
        "harder-step-percent",
        60,
        10,
        300,
        "%",
        "largest rise of demand from one exercise of a family to the next",
        "common practice, no source",
    ),
    Threshold(
        "weeks-away",
        3,
        1,
        26,
        "weeks",
        "weeks after which an exercise comes back easier than it was left",
        "common practice, no source",
    ),
    Threshold(
        "beginner-reserve",
        2,
        0,
        5,
        "RIR",
        "least reserve on lines for beginners",
        "common practice, no source",
    ),
    Threshold(
        "beginner-rm",
        8,
        1,
        20,
        "RM",
        "heaviest repetition maximum for beginners",
        "Ratamess 2009, novices at 8-12RM (seen)",
    ),
    Threshold(
        "hold-most-s",
        120,
        20,
        600,
        "s",
        "longest hold before a harder variant is the better way",
        "common practice, no source",
    ),
    Threshold(
        "side-difference",
        15,
        0,
        100,
        "%",
        "largest difference between the sides that needs no word",
        "Bishop 2018, 15 % (seen)",
    ),
    Threshold(
        "warm-up-reserve",
        3,
        0,
        8,
        "RIR",
        "least reserve written in a warm-up",
        "common practice, no source",
    ),
    Threshold(
        "economy-weeks",
        10,
        4,
        40,
        "weeks",
        "shortest block for running economy",
        "Eihara 2022, 10-14 weeks against 6-8 (seen)",
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
