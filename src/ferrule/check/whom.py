"""For whom a programme says it is, where that asks for more care; and the words that show the care is there.

General wording only: who is meant is taken from the coach's own words, and nothing is concluded about anybody.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from ferrule.check.words import REFERS, about, claimed
from ferrule.model.finding import Span
from ferrule.model.programme import Programme

Whom = Literal["young", "older", "pregnant", "injured"]

_WHOM: Mapping[Whom, re.Pattern[str]] = {
    "young": re.compile(
        r"\b(juniors?|youths?|adolescents?|teenagers?|teens?|children|school(?:children|girls|boys)|minors?|"
        r"under[- ](?:1[0-8]|eighteen)s?|u1[0-8]s?|boys|girls|aged? 1[0-7](?:\s*(?:-|to)\s*1[0-8])?|1[0-7]\s*(?:-|to)\s*1[0-8]\s*(?:-| )?years?)\b",
        re.I,
    ),
    "older": re.compile(
        r"\b(older (?:adults|runners|people|men|women|athletes)|over[- ](?:[6-8]\d|sixty|seventy)s?(?!\s*(?:km|kg|m|min|mi|miles|minutes|s|%|reps)\b)|retire\w*|"
        r"[6-8]\d\s?\+|pensioners?|aged? [6-8]\d(?:\s*(?:-|to)\s*\d\d)?)(?!\w)",
        re.I,
    ),
    "pregnant": re.compile(
        r"\b(pregnan\w+|ante-?natal|post-?natal|post-?partum|after (?:giving )?birth|trimesters?)\b", re.I
    ),
    "injured": re.compile(
        r"\b(return(?:ing)? from (?:an? )?injur\w+|after (?:an? )?injur\w+|injured|rehab\w*|tendinopath\w+|tendinosis|"
        r"stress (?:fracture|reaction)s?|bone stress|plantar (?:heel )?(?:pain|fasci\w+)|shin splints|after surgery|"
        r"(?:achilles|knee|heel|hip|back|tendon|hamstring|groin) (?:pain|complaints?|injur\w+)|sore (?:achilles|tendons?))\b",
        re.I,
    ),
}

ASKS: Mapping[Whom, re.Pattern[str]] = {
    "young": re.compile(rf"\b(guardians?|parents?|consent|supervis\w+|stands? by|{REFERS.pattern})\b", re.I),
    "older": REFERS,
    "pregnant": REFERS,
    "injured": REFERS,
}


def said_for(programme: Programme, whom: Whom) -> tuple[str, Span | None] | None:
    """The coach's own word for them and where it stands; None when the programme does not say it is for them."""
    for text, span in about(programme):
        word = claimed(_WHOM[whom], text)
        if word:
            return word, span
    return None
