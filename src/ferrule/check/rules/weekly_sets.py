"""Hard sets a week inside a band."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import LEG_AREAS, Area, Course
from ferrule.check.rule import Hit, Rule, spread
from ferrule.model.finding import Span
from ferrule.model.quantity import number

_NARROW = 2
"""Times the most where the programme works few parts of the body: all its sets go to those (our choice)."""


def _written(course: Course, week: int, area: Area) -> float:
    """Sets for an area with those that leave much in reserve, as in a first week."""
    return sum(x.sets * x.times for x in course.by_week[week] if x.area == area and not x.warm)


def _find(course: Course) -> Iterator[Hit]:
    low, high = course.value("weekly-sets-low"), course.value("weekly-sets-high")
    easy = course.easier_weeks | course.kept_weeks
    if course.narrow:
        high *= _NARROW
    outside: dict[tuple[Span, Area, bool], list[tuple[int, float]]] = {}
    for week, sums in course.area_sets.items():
        span = course.cycle_of(week).span
        for area in LEG_AREAS:
            sets = sums[area]
            few = sets < low and not course.narrow and week not in easy and _written(course, week, area) < low
            if sets > high or few:
                outside.setdefault((span, area, sets > high), []).append((week, sets))
    for (span, area, many), found in outside.items():
        bound = f"most is {number(high)}" if many else f"least is {number(low)}"
        fix = "Take out a set or a line." if many else "Add a set or a line."
        sets_text = spread(sets for _, sets in found)
        what = f"{area}: {sets_text} hard sets in the week, indirect ones counted half; the house's {bound}"
        for week, _ in found:
            yield Hit(week, span, what, fix)


RULE = Rule(
    name="weekly-sets",
    level="advice",
    says="Calf, knee and hip, and back of the leg each have between 4 and 10 hard sets a week; easier weeks and maintenance may have fewer, a programme for few parts of the body twice as many.",
    why="Fewer sets do little; many more cost recovery that running needs.",
    source="Iversen 2021, lower bound (seen); ACSM 2026, upper guide (seen in a news summary only); half counting: Pelland 2024 (seen)",
    strength="moderate",
    thresholds=("weekly-sets-low", "weekly-sets-high", "easier-week-drop"),
    find=_find,
)
