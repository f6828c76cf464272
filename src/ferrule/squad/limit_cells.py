"""Cells about what hurts or is limited: sore places, and limits by example."""

from __future__ import annotations

import re
from datetime import date

from ferrule.library.names import nearest
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.squad import Anchor, Limit, Sore
from ferrule.model.words import REGIONS, Region, Side
from ferrule.squad.cell import Cell, entries, fault, shown
from ferrule.squad.dates import read_date

REGION_WORDS: dict[Region, tuple[str, ...]] = {
    "foot": ("feet", "heel", "arch", "ankle", "ankles", "toe", "toes", "big toe", "sole", "forefoot"),
    "calf": ("calves", "achilles", "achilles tendon", "soleus"),
    "shin": ("shins", "front of shin"),
    "knee": ("knees", "kneecap", "front of knee"),
    "thigh": ("thighs", "quad", "quads", "front of thigh", "front thigh"),
    "hamstring": ("hamstrings", "hams", "back of thigh", "back thigh"),
    "hip": ("hips", "glute", "glutes", "buttock", "outer hip", "side of hip"),
    "groin": ("groins", "adductor", "adductors", "inner thigh"),
    "back": ("lower back", "low back", "upper back", "spine"),
    "trunk": ("belly", "abdomen", "abs", "side", "ribs", "stomach"),
    "shoulder": ("shoulders", "neck", "collarbone"),
    "arm": ("arms", "elbow", "elbows", "wrist", "wrists", "hand", "hands", "forearm", "upper arm"),
}
"""Everyday words for each region (common practice, no source). The ankle and its front count as foot, whose exercises
they share; the Achilles tendon as calf, whose load it carries."""
_REGIONS: dict[str, Region] = {word: region for region in REGIONS for word in (region, *REGION_WORDS[region])}
_SIDES: dict[str, Side] = {
    "left": "left",
    "l": "left",
    "right": "right",
    "r": "right",
    "both": "both",
    "either": "both",
}
_HELD = "Until it is mended the runner is held, as after a yes to a health question."


def read_place(text: str) -> tuple[Side, Region] | None:
    """Side and region of `left calf`; a side that is not told is both. None when no region is known."""
    words = text.lower().replace(".", "").split()
    side: Side = next((_SIDES[w] for w in words if w in _SIDES), "both")
    region = _REGIONS.get(" ".join(w for w in words if w not in _SIDES and w not in ("the", "sides", "of", "my"))) or (
        _REGIONS.get(" ".join(w for w in words if w not in _SIDES))
    )
    return None if region is None else (side, region)


def read_sore(cell: Cell) -> tuple[tuple[Sore, ...], list[Finding], bool]:
    """Sore places, `left calf 3; right knee`: side, region, and how bad at worst from 0 to 10 when it is told.

    The last value is True when an entry could not be read at all, so that the runner must be held.
    """
    if cell.empty:
        return (), [], False
    places: list[Sore] = []
    findings: list[Finding] = []
    held = False
    for part in entries(cell):
        found = re.fullmatch(r"(.+?)[ :]*(-?\d+)(?: ?/ ?10| of 10| out of 10)?", part.lower())
        words, worst = (found[1], int(found[2])) if found else (part, None)
        place = read_place(words.strip(" :"))
        if place is None:
            held = True
            findings.append(_unknown_region(cell, part))
            continue
        if worst is not None and not 0 <= worst <= 10:
            what = f"{worst} in {shown(part)} is not from 0 to 10"
            why = "The place is kept as sore, without a number."
            findings.append(fault(cell, "sore-number", what, why, 'Write how bad it is at worst, "left calf 3".'))
            worst = None
        places.append(Sore(place[1], place[0], worst, cell.span))
    return tuple(places), findings, held


def read_limits(cell: Cell, library: Library, anchor: Anchor | None) -> tuple[tuple[Limit, ...], list[Finding], bool]:
    """Limits by example, parted by semicolons: `left calf: nothing above Heel raise, until 12 March, said by NAME`.

    `right knee: nothing` forbids all that loads the region. What cannot be read is read as the more careful thing: an
    unknown exercise as nothing at all, an unreadable last day as no end. The last value is True when no region could
    be read, so that the runner must be held.
    """
    if cell.empty:
        return (), [], False
    limits: list[Limit] = []
    findings: list[Finding] = []
    held = False
    for part in entries(cell, commas=False):
        where, colon, rest = part.partition(":")
        if not colon and (found := re.match(r"(.*?),? (nothing\b.*)", part, re.IGNORECASE)):
            where, rest = found[1], found[2]
        place = read_place(where)
        if place is None:
            held = True
            findings.append(_unknown_region(cell, part))
            continue
        rest, until, until_findings = _until(cell, part, rest, anchor)
        rest, said_by = _said_by(rest)
        ceiling, ceiling_findings = _ceiling(cell, part, rest, library)
        findings += until_findings + ceiling_findings
        if not said_by:
            findings.append(
                fault(
                    cell,
                    "limit-without-name",
                    f"{shown(part)} does not say who set the limit",
                    "A limit is lifted by whoever set it; the limit holds all the same.",
                    'Add ", said by physiotherapist" or a name.',
                    level="advice",
                )
            )
        limits.append(Limit(place[1], place[0], ceiling, until, said_by, part, cell.span))
    return tuple(limits), findings, held


def _unknown_region(cell: Cell, part: str) -> Finding:
    return fault(
        cell,
        "unknown-region",
        f"no region of the body is known in {shown(part)}",
        _HELD,
        f"Write a side and one of: {', '.join(REGIONS)}.",
    )


def _until(cell: Cell, part: str, rest: str, anchor: Anchor | None) -> tuple[str, date | None, list[Finding]]:
    found = re.search(r",? ?\buntil (.+?)(?=,? (?:said|set|told) by\b|,(?! ?\d{4})|$)", rest, re.IGNORECASE)
    if not found:
        return rest, None, []
    left = rest[: found.start()] + rest[found.end() :]
    day = read_date(found[1], anchor, "ahead")
    if isinstance(day, date):
        return left, day, []
    what = f"{shown(found[1], 30)} in {shown(part)} cannot be read as a day"
    return left, None, [fault(cell, day.code, what, f"{day.why} The limit is kept without an end.", day.fix)]


def _said_by(rest: str) -> tuple[str, str]:
    found = re.search(r",? ?\b(?:said|set|told) by (.+)$", rest, re.IGNORECASE)
    return (rest[: found.start()], found[1].strip(" ,.")) if found else (rest, "")


def _ceiling(cell: Cell, part: str, rest: str, library: Library) -> tuple[str | None, list[Finding]]:
    """The id of the exercise named as the most allowed; None for nothing at all."""
    text = rest.strip(" ,.")
    if re.fullmatch(r"nothing(?: at all| that loads it)?|rest", text, re.IGNORECASE):
        return None, []
    found = re.fullmatch(r"nothing (?:above|over|harder than|more than|beyond) (.+)", text, re.IGNORECASE)
    if not found:
        what = f"{shown(text)} in {shown(part)} is not a limit this reader knows"
        why = "Until it is mended nothing that loads the region is given."
        fix = 'Write "left calf: nothing above Heel raise, until 12 March 2026, said by NAME".'
        return None, [fault(cell, "unreadable-limit", what, why, fix)]
    variant = library.find(found[1])
    if variant is not None:
        return variant.id, []
    near = ", ".join(f'"{v.name}"' for v in nearest(library, found[1], 3))
    what = f"no exercise is called {shown(found[1])} in {shown(part)}"
    why = "Until it is mended nothing that loads the region is given."
    return None, [
        fault(cell, "unknown-exercise", what, why, f"Nearest names: {near}." if near else "Use a name of the library.")
    ]
