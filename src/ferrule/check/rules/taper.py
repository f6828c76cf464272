"""A taper cuts sets, not loads, and is short."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.check.course import Course
from ferrule.check.rule import Rule
from ferrule.check.words import TAPER, claimed
from ferrule.model.finding import Finding
from ferrule.model.programme import Cycle
from ferrule.model.quantity import number


def _lighter(course: Course, cycle: Cycle) -> Iterator[str]:
    """Lines of the taper whose written load is less than in the last week before it."""
    loads: dict[str, float] = {}
    for line in course.by_week.get(cycle.first_week - 1, ()):
        kg = line.item.dose.load.total_kg if line.item.dose.load else None
        if line.hard and kg:
            loads[line.name] = max(loads.get(line.name, 0.0), kg.high)
    for line in course.by_week.get(cycle.first_week, ()):
        kg = line.item.dose.load.total_kg if line.item.dose.load else None
        if line.hard and kg and kg.high < 0.9 * loads.get(line.name, 0.0):
            yield f"{line.name} falls from {number(loads[line.name])} to {number(kg.high)} kg"


def _find(course: Course) -> Iterator[Finding]:
    least, most = course.value("taper-drop"), course.value("taper-weeks-most")
    for cycle in course.programme.cycles:
        if not claimed(TAPER, cycle.name) or cycle.first_week < 2:
            continue
        weeks = [w for w in range(cycle.first_week, cycle.last_week + 1) if w in course.hard_sets]
        if len(weeks) > most:
            what = f"The taper is {len(weeks)} weeks long; the house's most is {number(most)}"
            yield RULE.finding(what, "Begin it later; before it, keep on.", cycle.span)
        before = [course.hard_sets[w] for w in (cycle.first_week - 2, cycle.first_week - 1) if w in course.hard_sets]
        peak = max(before, default=0.0)
        last = course.hard_sets[weeks[-1]] if weeks else 0.0
        if peak and last > peak * (1 - least / 100):
            what = f"The taper ends with {number(last)} hard sets a week after {number(peak)} before it"
            fix = f"Cut the sets by {number(least)} % or more; keep the loads and the number of sessions."
            yield RULE.finding(what, fix, cycle.span)
        lighter = list(dict.fromkeys(_lighter(course, cycle)))
        if lighter:
            what = f"The taper lowers loads: {'; '.join(lighter[:3])}"
            yield RULE.finding(what, "Keep the load and take out sets instead.", cycle.span)


RULE = Rule(
    name="taper",
    level="advice",
    says="A cycle called taper has at least 41 % fewer hard sets at its end, the same loads, and lasts three weeks at most.",
    why="Less of the same work sheds fatigue and keeps what was gained.",
    source="Bosquet 2007; Wang 2023, 41-60 % less over 8-21 days of endurance work (seen); for strength by us",
    strength="low",
    thresholds=("taper-drop", "taper-weeks-most"),
    find=_find,
)
