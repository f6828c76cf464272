"""Effort in one word: RIR or RPE."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Edit, Finding
from ferrule.model.programme import Item
from ferrule.programme.text import item_text, name_text

Word = Literal["RIR", "RPE"]


def _items(course: Course) -> Iterator[Item]:
    for cycle in course.programme.cycles:
        for session in cycle.sessions:
            for block in session.blocks:
                for item in block.items:
                    if item.dose.rir is not None and item.dose.rpe is None:
                        yield item


def _find(course: Course) -> Iterator[Finding]:
    written: dict[Word, list[Item]] = {"RIR": [], "RPE": []}
    for item in _items(course):
        written[item.dose.effort_word].append(item)
    if not written["RIR"] or not written["RPE"]:
        return
    few: Word = "RPE" if len(written["RPE"]) <= len(written["RIR"]) else "RIR"
    many: Word = "RIR" if few == "RPE" else "RPE"
    for item in written[few]:
        new = item_text(replace(item, dose=replace(item.dose, effort_word=many)))
        edits = () if item.span.end_column is None else (Edit(item.span, new),)
        what = f"{name_text(item.exercise)} says its effort in {few}, most lines say it in {many}"
        yield RULE.finding(what, f"Write `{new}`; RPE is 10 less the repetitions in reserve.", item.span, (), edits)


RULE = Rule(
    name="one-effort-word",
    level="advice",
    says="A programme says effort either in RIR or in RPE.",
    why="A 2 and an 8 that mean the same on one sheet are read as two efforts.",
    source="Zourdos 2016, RPE 10 less reserve (seen); one word: common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
    mends=True,
)
