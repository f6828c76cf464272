"""Leg work two or three times a week."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.programme import Session
from ferrule.model.quantity import number


def _times(often: float, session: Session) -> float:
    """Times a week; every second day is three and a half, whichever day the week begins on."""
    if session.every_days is None:
        return often
    return min(often, (2 if session.twice_a_day else 1) * 7 / session.every_days)


def _find(course: Course) -> Iterator[Hit]:
    low, high = course.value("leg-sessions-low"), course.value("leg-sessions-high")
    if course.narrow:
        return
    for week in course.weeks:
        count = sum(
            _times(course.often[week.week, session.key], session)
            for session in week.sessions
            if any(line.leg and not line.warm for line in course.by_session[week.week, session.key])
        )
        cycle = course.cycle_of(week.week)
        kept = count >= 1 and week.week in course.kept_weeks
        if count < low and (kept or week.week in course.easier_weeks):
            continue
        if not low <= count < high + 1:
            what = f"{number(count)} session{' has' if count == 1 else 's have'} hard leg work"
            fix = f"Between {number(low)} and {number(high)} a week; move a leg line to another session."
            yield Hit(week.week, cycle.span, what, fix)


RULE = Rule(
    name="leg-sessions",
    level="advice",
    says="Two or three sessions a week have hard leg work; an easier week may have fewer, and maintenance or a taper one.",
    why="Runners' trials used two to three; one a week keeps strength, more costs running.",
    source="WHO 2020 (seen); Blagrove 2018 (seen); one a week keeps it: Ronnestad 2011 (seen)",
    strength="high",
    thresholds=("leg-sessions-low", "leg-sessions-high", "easier-week-drop"),
    find=_find,
)
