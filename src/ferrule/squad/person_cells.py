"""Cells about the person: birth year, sex, mass, height, level of strength training, minutes."""

from __future__ import annotations

import math
import re

from ferrule.model.finding import Finding
from ferrule.model.squad import Sex
from ferrule.model.words import Level4
from ferrule.squad.cell import NUMBER, Cell, fault, number_of, shown

MASS_KG = (25.0, 250.0)
HEIGHT_M = (1.1, 2.3)
MINUTES = (5, 240)
BIRTH_YEARS = (1905, 2100)
AGES = (8, 100)
"""What is taken as possible; outside it a slip of the pen is likelier than the number (common practice, no source)."""

_SEXES: dict[str, Sex | None] = {
    **dict.fromkeys(("female", "f", "woman", "w", "girl"), "female"),
    **dict.fromkeys(("male", "m", "man", "boy"), "male"),
    **dict.fromkeys(("x", "other", "not said", "prefer not to say"), None),
}
LEVEL_WORDS: dict[Level4, tuple[str, ...]] = {
    "never": ("never", "never trained", "new", "beginner", "not yet", "0"),
    "some": ("some", "now and then", "a little", "a bit", "sometimes", "occasional", "occasionally", "on and off"),
    "regular": ("regular", "regularly", "twice a week", "2 a week", "2 x a week", "weekly", "steady"),
    "strong": ("strong", "very strong", "years", "for years", "experienced", "advanced", "years of it"),
}
"""What may be written for each level."""
_LEVELS: dict[str, Level4] = {word: level for level, words in LEVEL_WORDS.items() for word in words}


def read_birth_year(cell: Cell, year: int | None) -> tuple[int | None, list[Finding]]:
    """The year of birth; a whole ISO date is cut to its year. `year`: the year of the anchor, for the likely age."""
    if cell.empty:
        return None, []
    found = re.fullmatch(r"(\d{4})(?:-\d{1,2}-\d{1,2})?(?:\.0)?", cell.key)
    born = int(found[1]) if found else None
    low, high = BIRTH_YEARS if year is None else (year - AGES[1], year - AGES[0])
    if born is not None and low <= born <= high:
        return born, []
    return None, [
        fault(
            cell,
            "birth-year",
            f"{shown(cell.text)} is not a birth year between {low} and {high}",
            "Age widens margins, and decides whether a guardian's consent is needed; until it is mended the runner is "
            "held as though under 18.",
            'Write four digits, "1984".',
        )
    ]


def read_sex(cell: Cell) -> tuple[Sex | None, list[Finding]]:
    """`female` or `male`; None when not told."""
    if cell.empty:
        return None, []
    if cell.key in _SEXES:
        return _SEXES[cell.key], []
    return None, [
        fault(
            cell,
            "unknown-sex",
            f"{shown(cell.text)} is not female or male",
            "It chooses the published strength norms that the first guess starts from; without it both are allowed for.",
            'Write "female", "male", or leave it empty.',
        )
    ]


def read_mass(cell: Cell) -> tuple[float | None, float, list[Finding]]:
    """(kg, standard deviation in kg) of `64`, `64 kg` or a band `60-70`.

    A band is taken as uniform: its middle, and (high - low) / sqrt(12) as the standard deviation.
    """
    if cell.empty:
        return None, 0.0, []
    found = re.fullmatch(rf"({NUMBER})(?: ?kg)?(?: ?(?:-|to) ?({NUMBER}))?(?: ?kg)?", cell.key)
    if found:
        low = number_of(found[1])
        high = number_of(found[2]) if found[2] else low
        if MASS_KG[0] <= low <= high <= MASS_KG[1]:
            return (low + high) / 2, (high - low) / math.sqrt(12), []
    pounds = re.search(r"\b(lbs?|pounds?|st|stone)\b", cell.key)
    return (
        None,
        0.0,
        [
            fault(
                cell,
                "mass",
                f"{shown(cell.text)} is not a body mass in kg" + (" (1 lb is 0.45 kg)" if pounds else ""),
                "Without the mass the fit widens its margins.",
                f'Write kg between {MASS_KG[0]:.0f} and {MASS_KG[1]:.0f}, "64", or a band, "60-70".',
            )
        ],
    )


def read_height(cell: Cell) -> tuple[float | None, list[Finding]]:
    """Metres, from `170`, `170 cm`, `1.70` or `1.70 m`."""
    if cell.empty:
        return None, []
    found = re.fullmatch(rf"({NUMBER}) ?(cm|m)?", cell.key)
    if found:
        value = number_of(found[1])
        metres = value / 100 if found[2] == "cm" or (found[2] is None and value > 3) else value
        if HEIGHT_M[0] <= metres <= HEIGHT_M[1]:
            return metres, []
    return None, [
        fault(
            cell,
            "height",
            f"{shown(cell.text)} is not a height in cm or m",
            "Without the height a usual one is taken.",
            'Write "170" or "1.70 m".',
        )
    ]


def read_level(cell: Cell) -> tuple[Level4, list[Finding]]:
    """Level of strength training; `never` when it is empty or not known, the careful end."""
    if cell.key in _LEVELS:
        return _LEVELS[cell.key], []
    if cell.empty:
        return "never", []
    return "never", [
        fault(
            cell,
            "unknown-level",
            f"{shown(cell.text)} is not a level of strength training",
            "It sets the first guess of strength; until it is mended the runner counts as never trained.",
            'Write "never", "some", "regular" or "strong".',
        )
    ]


def read_minutes(cell: Cell) -> tuple[int | None, list[Finding]]:
    """Minutes of the longest session, from `40`, `40 min`, `1 h` or `1:10`."""
    if cell.empty:
        return None, []
    minutes: float | None = None
    if found := re.fullmatch(rf"({NUMBER}) ?(?:min|mins|minutes|m)?", cell.key):
        minutes = number_of(found[1])
    elif found := re.fullmatch(rf"({NUMBER}) ?(?:h|hr|hour|hours)", cell.key):
        minutes = 60 * number_of(found[1])
    elif found := re.fullmatch(r"(\d):([0-5]\d)(?: ?h)?", cell.key):
        minutes = 60 * int(found[1]) + int(found[2])
    if minutes is not None and MINUTES[0] <= minutes <= MINUTES[1]:
        return int(minutes), []
    return None, [
        fault(
            cell,
            "minutes",
            f"{shown(cell.text)} is not a session length between {MINUTES[0]} and {MINUTES[1]} minutes",
            "Until it is mended the length the programme states is used.",
            'Write minutes, "40".',
        )
    ]
