"""Weeks in words, and hits folded over weeks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from ferrule.check.course import Course, lay_out
from ferrule.check.rule import Hit, Rule, joined, weeks_text
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span
from ferrule.model.house import House
from ferrule.model.programme import Programme

AT = Span("p.md", 3)
EMPTY = lay_out(Programme("p.md", "", 0, None, (), (), ()), Library({}, {}, {}, {}), House())


@pytest.mark.parametrize(
    ("weeks", "text"),
    [
        ([4], "week 4"),
        ([1, 2, 3], "weeks 1-3"),
        ([5, 1, 2], "weeks 1, 2 and 5"),
        ([1, 2, 3, 5, 7, 8, 9, 9], "weeks 1-3, 5 and 7-9"),
    ],
)
def test_weeks_text(weeks: list[int], text: str) -> None:
    assert weeks_text(weeks) == text


def test_joined() -> None:
    assert [joined([]), joined(["a"]), joined(["a", "b"]), joined("abc")] == ["", "a", "a and b", "a, b and c"]


def test_hits_of_several_weeks_are_told_once() -> None:
    def find(_: Course) -> Iterator[Finding | Hit]:
        yield Hit(1, AT, "session 1: x", "Mend it.")
        yield Hit(2, AT, "session 1: x", "Mend it.")
        yield Hit(2, replace(AT, line=9), "session 1: x", "Mend it.")
        yield Hit(3, AT, "session 1: y", "Mend it.")

    rule = Rule("r", "advice", "Says.", "Why.", "common practice, no source", "common practice", (), find)
    told = [(f.what, f.span.line if f.span else 0) for f in rule.run(EMPTY)]
    assert told == [("Weeks 1 and 2, session 1: x", 3), ("Week 2, session 1: x", 9), ("Week 3, session 1: y", 3)]
