"""Less leg work in the week of the race."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.model.finding import Finding, Span
from ferrule.model.quantity import number

_WEEK = re.compile(r"\bweeks?\s+(\d{1,3})\b", re.I)
_KEYS = ("race", "goal race", "goal")


def race_week(course: Course) -> tuple[int, Span] | None:
    """The week the front matter names for the race (`race: week 12`); the last week where it names a race and no week."""
    for entry in course.programme.front:
        if entry.key.lower() in _KEYS:
            found = _WEEK.search(entry.value)
            if found:
                return int(found[1]), entry.span
            if entry.key.lower() != "goal":
                return course.programme.weeks, entry.span
    return None


def _find(course: Course) -> Iterator[Finding]:
    race = race_week(course)
    if race is None or race[0] not in course.leg_weeks:
        return
    week, span = race
    before = max((course.leg_weeks.get(week - n, 0.0) for n in (2, 3)), default=0.0)
    now, least = course.leg_weeks[week], course.value("taper-drop")
    if before and now > before * (1 - least / 100):
        what = f"Week {week}, of the race, has {number(now)} hard leg sets after {number(before)} two or three weeks before"
        fix = f"Cut the sets of that week by {number(least)} % or more; keep the loads."
        yield RULE.finding(what, fix, course.cycle_of(week).span, (span,))


RULE = Rule(
    name="race-week",
    level="advice",
    says="Where `race:` is written, the week of the race has clearly fewer hard leg sets.",
    why="Tired legs on the day waste the block.",
    source="Bosquet 2007; Wang 2023 (seen; endurance work, applied to strength by us)",
    strength="low",
    thresholds=("taper-drop",),
    find=_find,
)
