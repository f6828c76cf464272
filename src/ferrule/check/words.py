"""What the words of a programme claim: for whom it is, what a cycle is called, whom a runner is sent to."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.model.finding import Span
from ferrule.model.programme import Cycle, Item, Programme, Session

WHO_KEYS = ("for", "level", "experience", "runners", "who", "population", "squad")
"""Keys of the front matter that say for whom a programme is."""

EASY = re.compile(r"\b(deload|easier|easy|light(?:er)?|recovery|rest|unload(?:ing)?|back[- ]off)\b", re.I)
TAPER = re.compile(r"\b(taper(?:ing)?|race week|week of the race|before the race|peak(?:ing)?)\b", re.I)
KEEP = re.compile(r"\b(maintain|maintenance|in[- ]season|season|keep(?:ing)?|race(?:s)?|racing|holiday|break)\b", re.I)
FAST = re.compile(r"\b(power|powerful|explosive|plyometrics?|reactive)\b", re.I)
_NOT_YET = re.compile(r"\b(?:not|no|nothing|never|nobody|before|without|until|towards|then|except)\b[^.;:]*$", re.I)
REFERS = re.compile(
    r"\b(doctors?|physicians?|clinicians?|clinics?|physio\w*|midwi\w+|obstetric\w*|medical\w*|medically|therapists?|"
    r"health professionals?|healthcare|cleared|clearance|licensed|surgeons?|nurses?)\b",
    re.I,
)
"""Words that send a runner to licensed practice, or say that it has been asked."""


def claimed(pattern: re.Pattern[str], *texts: str) -> str:
    """The first word of the texts that the pattern finds, in lower case; empty where a text only says what it is not."""
    for text in texts:
        for found in pattern.finditer(text):
            if not _NOT_YET.search(text[: found.start()]):
                return found[0].lower()
    return ""


def called(cycle: Cycle) -> tuple[str, str]:
    """What a cycle calls itself: its name and its aim."""
    return cycle.name, cycle.aim


def about(programme: Programme) -> Iterator[tuple[str, Span | None]]:
    """The words that say what the programme is and for whom: title, `for:`, `level:` and the like, names of cycles."""
    for entry in programme.front:
        if entry.key == "programme" or entry.key.lower() in WHO_KEYS:
            yield entry.value, entry.span
    for cycle in programme.cycles:
        yield cycle.name, cycle.span


def everything_said(programme: Programme) -> str:
    """All words of the programme: front matter, names, aims, notes, words for the coach, conditions."""
    parts: list[str] = [entry.value for entry in programme.front if entry.key != "needs"]

    def of(part: Programme | Cycle | Session | Item) -> None:
        parts.extend((*part.notes, *part.coach_notes))
        parts.extend(c.text for c in part.conditions)

    of(programme)
    for cycle in programme.cycles:
        parts.extend(called(cycle))
        of(cycle)
        for session in cycle.sessions:
            parts.append(session.name)
            of(session)
            for block in session.blocks:
                parts.extend((*block.notes, *block.coach_notes, *(c.text for c in block.conditions)))
                for item in block.items:
                    of(item)
                    for other in item.alternatives:
                        of(other)
    return "\n".join(parts)
