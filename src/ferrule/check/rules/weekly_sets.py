"""Hard sets a week inside a band."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import LEG_AREAS, Course
from ferrule.check.rule import Hit, Rule
from ferrule.model.quantity import number


def _find(course: Course) -> Iterator[Hit]:
    low, high = course.value("weekly-sets-low"), course.value("weekly-sets-high")
    for week, sums in course.area_sets.items():
        span = course.cycle_of(week).span
        for area in LEG_AREAS:
            sets = sums[area]
            told = f"{area}: {number(sets)} hard sets in the week, indirect ones counted half"
            if sets > high:
                yield Hit(week, span, f"{told}; the house's most is {number(high)}", "Take out a set or a line.")
            elif sets < low and week not in course.easier_weeks:
                yield Hit(week, span, f"{told}; the house's least is {number(low)}", "Add a set or a line.")


RULE = Rule(
    name="weekly-sets",
    level="advice",
    says="Calf, knee and hip, and back of the leg each have between 4 and 10 hard sets a week; easier weeks may have fewer.",
    why="Fewer sets do little; many more cost recovery that running needs.",
    source="Iversen 2021, lower bound (seen); ACSM 2026, upper guide (seen in a news summary only); half counting: Pelland 2024 (seen)",
    strength="moderate",
    thresholds=("weekly-sets-low", "weekly-sets-high", "easier-week-drop"),
    find=_find,
)
