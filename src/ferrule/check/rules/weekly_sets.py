"""Hard sets a week inside a band."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import LEG_AREAS, Area, Course
from ferrule.check.rule import Hit, Rule, joined, spread
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
    outside: dict[tuple[Span, bool, tuple[Area, ...]], list[int]] = {}
    for week, sums in course.area_sets.items():
        span = course.cycle_of(week).span
        many = tuple(a for a in LEG_AREAS if sums[a] > high)
        few = tuple(a for a in LEG_AREAS if sums[a] < low and _written(course, week, a) < low)
        if many:
            outside.setdefault((span, True, many), []).append(week)
        if few and not course.narrow and week not in easy:
            outside.setdefault((span, False, few), []).append(week)
    for (span, too_many, areas), weeks in outside.items():
        bound = f"most is {number(high)}" if too_many else f"least is {number(low)}"
        fix = "Take out a set or a line." if too_many else "Add a set or a line."
        sums_text = joined(f"{a} {spread(course.area_sets[w][a] for w in weeks)}" for a in areas)
        each = " for each" if len(areas) > 1 else ""
        what = f"hard sets in the week, indirect ones counted half: {sums_text}; the house's {bound}{each}"
        for week in weeks:
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
