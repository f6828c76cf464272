"""As many weeks as the words say."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding, Span

_WORDS = {
    w: n
    for n, w in enumerate(
        [
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
        ],
        2,
    )
}
_WEEKS = re.compile(rf"\b(\d{{1,3}}|{'|'.join(_WORDS)})[- ]weeks?\b(?!\s+(?:ago|later|before|after|in))", re.I)
_NOT_LENGTH = re.compile(r"\b(?:every|last|first|next|after|within|than|least|for)\s+$", re.I)


def _said(text: str) -> Iterator[tuple[int, str]]:
    for found in _WEEKS.finditer(text):
        if not _NOT_LENGTH.search(text[: found.start()]):
            word = found[1].lower()
            yield _WORDS.get(word) or int(word), found[0]


def _find(course: Course) -> Iterator[Finding]:
    programme = course.programme
    texts: list[tuple[str, Span, int]] = [
        (e.value, e.span, programme.weeks) for e in programme.front if e.key in ("programme", "about", "title")
    ]
    texts += [(c.name, c.span, c.last_week - c.first_week + 1) for c in programme.cycles]
    for text, span, weeks in texts:
        for said, words in _said(text):
            if said not in (weeks, programme.weeks):
                what = f"`{words}` is said, and there are {weeks}"
                yield RULE.finding(what, "Mend the words or the weeks.", span)


RULE = Rule(
    name="stated-weeks",
    level="advice",
    says="A length in the title or in the name of a cycle is the length written.",
    why="Runners plan by the title; one of the two numbers is a slip.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
