"""A test is not done cold."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ferrule.check.course import Course, Line
from ferrule.check.rule import Hit, Rule
from ferrule.model.programme import Session

_TEST = re.compile(r"\b(re)?test(s|ing|ed)?\b", re.I)


def tested(session: Session, lines: Sequence[Line], *, words: bool) -> Line | None:
    """The first line that is a test: of a session called one, or at one repetition maximum.

    words   whether the programme says `test` anywhere
    """
    called = words and bool(_TEST.search(session.name))
    for line in lines:
        dose = line.item.dose
        one = bool(dose.rm and dose.rm.low <= 1) or bool(
            dose.percent and dose.percent.of == "1RM" and dose.percent.percent.high >= 100
        )
        noted = words and any(_TEST.search(note) for note in line.item.notes)
        if not line.warm and (one or noted or (called and (line.hard or line.impact or dose.reps_open == "max"))):
            return line
    return None


def _find(course: Course) -> Iterator[Hit]:
    words = bool(_TEST.search(course.said))
    for week, session, lines in course.sessions():
        line = tested(session, lines, words=words)
        if line is not None and not any(x.warm for x in lines[: lines.index(line)]):
            what = f"session {session.key} tests {line.name} without a warm-up before it"
            yield Hit(week, line.item.span, what, "Write a warm-up first, and two or three easier sets of the same.")


RULE = Rule(
    name="test-warm-up",
    level="advice",
    says="A session that tests has a warm-up before the test.",
    why="A cold test measures the warm-up that is missing, and asks the most of what is least ready.",
    source="common practice, no source",
    strength="common practice",
    thresholds=(),
    find=_find,
)
