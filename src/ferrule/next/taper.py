"""Weeks that are meant to be easier: written easier weeks, the days before the goal race, and the week of any race."""

from __future__ import annotations

from datetime import date, timedelta

from ferrule.check.course import Course, lay_out
from ferrule.model.exercise import Library
from ferrule.model.house import House
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.model.quantity import number
from ferrule.model.squad import Runner
from ferrule.next.ruling import Key, Ruling

MOST_CUT = 0.6
"""The sets are never cut further than the published band goes (Bosquet 2007; Wang 2023: 41-60 %)."""
_course: tuple[Programme, Library, House, Course] | None = None
"""The programme last asked about, laid out once for the whole squad."""


def course_of(programme: Programme, library: Library, house: House) -> Course:
    """The programme laid out week by week, remembered while the same three are asked about."""
    global _course
    if _course is None or _course[0] is not programme or _course[1] is not library or _course[2] is not house:
        _course = (programme, library, house, lay_out(programme, library, house))
    return _course[3]


def of_easier_week(course: Course, week: int) -> list[Ruling]:
    """A written easier week is kept as it is: nothing rises in it, whatever the logs say."""
    if week not in course.easier_weeks:
        return []
    return [Ruling("easier week", "written as an easier week: nothing rises in it", "as written", most=1.0)]


def of_race(
    course: Course, week: ProgrammeWeek, runner: Runner, house: House, monday: date, lines: frozenset[Key]
) -> list[Ruling]:
    """The sets before the race of the anchor are cut as far as published tapers go, where the text has not cut them
    already; load and days stay. In the week of any other race nothing rises."""
    sunday = monday + timedelta(days=6)
    goal = runner.anchor.day if runner.anchor is not None and runner.anchor.kind == "to race" else None
    days, cut = house.value("taper-days"), house.value("taper-percent") / 100
    if goal is not None and days and cut and monday <= goal and (goal - sunday).days < days - 6:
        share = _left(course, week.week, 1 - cut)
        if share < 1:
            fewer = f"about {number(round(100 * (1 - share)))} % fewer sets than written"
            reason = f"race on {goal.day} {goal:%B}: {fewer}; load and days are not cut for it"
            return [Ruling("taper", reason, "back off", lines, most=1.0, sets=share)]
        return [
            Ruling(
                "taper", f"race on {goal.day} {goal:%B}: the text is easy enough; nothing rises", "as written", most=1.0
            )
        ]
    if any(monday <= r <= sunday for r in runner.races):
        return [Ruling("race week", "a race this week: nothing rises", "hold", most=1.0)]
    return []


def _left(course: Course, week: int, keep: float) -> float:
    """Share of the written sets that leaves `keep` of the fullest of the four weeks before; 1 where the text is there
    already."""
    sets = course.hard_sets
    fullest = max((sets.get(w, 0.0) for w in range(week - 4, week)), default=0.0)
    here = sets.get(week, 0.0)
    if not fullest or not here:
        return keep if here else 1.0
    return min(1.0, max(1 - MOST_CUT, keep * fullest / here))
