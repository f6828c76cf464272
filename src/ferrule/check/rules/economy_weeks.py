"""How long a block for running economy lasts."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.words import about, called, claimed
from ferrule.model.finding import Finding
from ferrule.model.quantity import number

_ECONOMY = re.compile(r"\b(running economy|economy)\b", re.I)


def _find(course: Course) -> Iterator[Finding]:
    least, weeks = course.value("economy-weeks"), course.programme.weeks
    if weeks >= least:
        return
    texts = list(about(course.programme)) + [(" ".join(called(c)), c.span) for c in course.programme.cycles]
    for text, span in texts:
        if claimed(_ECONOMY, text):
            what = f"The programme is for running economy and has {weeks} weeks"
            fix = f"Blocks of {number(least)} weeks and more did more in trials; nothing else speaks against a shorter one."
            yield RULE.finding(what, fix, span)
            return


RULE = Rule(
    name="economy-weeks",
    level="note",
    says="A programme that says it is for running economy lasts ten weeks or more, or is the first part of one.",
    why="In trials of 10-14 weeks the effect was about twice that of 6-8 weeks.",
    source="Eihara 2022 (seen)",
    strength="low",
    thresholds=("economy-weeks",),
    find=_find,
)
