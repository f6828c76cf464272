"""A programme laid out for the rules: every line of every week, with its variant, groups, sets and recovery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, get_args

from ferrule.check.minutes import BETWEEN_S, dose_seconds, sets_of, variant_of
from ferrule.model.exercise import Library, Variant
from ferrule.model.house import House
from ferrule.model.programme import Block, Cycle, Item, Named, Programme, ProgrammeWeek, Session
from ferrule.model.words import Group, Pattern, Tag
from ferrule.programme.weeks import week_of

Area = Literal["calf", "knee and hip", "back of the leg", "hip sides", "trunk", "arms"]
"""Parts of the body as the checks count them. The first three are the parts of the leg that carry a run."""
AREAS: tuple[Area, ...] = get_args(Area)
LEG_AREAS: tuple[Area, ...] = ("calf", "knee and hip", "back of the leg")

AREA_OF: Mapping[Group, Area] = {
    "calf straight": "calf",
    "calf bent": "calf",
    "knee and hip": "knee and hip",
    "hinge": "back of the leg",
    "bridge and knee flexion": "back of the leg",
    "hip abduction": "hip sides",
    "hip adduction": "hip sides",
    "trunk front": "trunk",
    "trunk side": "trunk",
    "trunk back": "trunk",
    "push": "arms",
    "pull": "arms",
}

GROUP_OF_PATTERN: Mapping[Pattern, Group] = {
    "squat": "knee and hip",
    "split squat": "knee and hip",
    "lunge": "knee and hip",
    "step": "knee and hip",
    "hinge": "hinge",
    "bridge": "bridge and knee flexion",
    "knee flexion": "bridge and knee flexion",
    "heel raise": "calf straight",
    "hip abduction": "hip abduction",
    "hip adduction": "hip adduction",
    "trunk front": "trunk front",
    "trunk side": "trunk side",
    "trunk back": "trunk back",
    "push": "push",
    "pull": "pull",
}
"""What an open slot mainly works (`any hinge`)."""

INDIRECT_LEAST = 0.5
"""A secondary demand counts as half a set from this share of the group's anchor (our choice)."""
MOST_WEEKS = 104
"""Weeks that are checked: two years. Longer programmes are slips of the finger."""
UNKNOWN_RESERVE = 4.0
"""A set with more than this in reserve is no hard set (stated reserve above 4 says little: Halperin 2022, seen)."""


@dataclass(frozen=True)
class Line:
    """One line of one week. `group` is what it is dosed on; None for mobility, balance and impact work."""

    week: int
    session: Session
    block: Block
    item: Item
    variant: Variant | None
    sets: float

    @cached_property
    def group(self) -> Group | None:
        if self.variant is not None:
            return self.variant.main.group if self.variant.main else None
        return None if isinstance(self.item.exercise, Named) else GROUP_OF_PATTERN.get(self.item.exercise.pattern)

    @cached_property
    def name(self) -> str:
        exercise = self.item.exercise
        if isinstance(exercise, Named):
            return self.variant.name if self.variant else exercise.text
        legs = {1: ", one leg", 2: ", two legs", None: ""}[exercise.legs]
        return f"any {exercise.pattern}{legs}"

    @cached_property
    def hard(self) -> bool:
        """A set that trains: outside the warm-up, dosed, and not written with a large reserve."""
        if self.block.kind == "warm-up" or self.group is None:
            return False
        return self.item.dose.rir is None or self.item.dose.rir.low <= UNKNOWN_RESERVE

    @cached_property
    def area(self) -> Area | None:
        return None if self.group is None else AREA_OF[self.group]

    @cached_property
    def leg(self) -> bool:
        return self.area in LEG_AREAS

    @cached_property
    def one_leg(self) -> bool:
        if self.variant is not None:
            return self.variant.one_leg
        return not isinstance(self.item.exercise, Named) and self.item.exercise.legs == 1

    @cached_property
    def impact(self) -> int:
        if self.variant is not None:
            return self.variant.impact
        pattern = None if isinstance(self.item.exercise, Named) else self.item.exercise.pattern
        return {"skip": 1, "landing": 1, "jump": 2, "hop": 3}.get(pattern or "", 0)

    @cached_property
    def counts(self) -> Mapping[Area, float]:
        """Hard sets this line adds to each area: whole for its own, half where it works another one."""
        if not self.hard or self.area is None:
            return {}
        out: dict[Area, float] = {self.area: self.sets}
        for ask in self.variant.asks if self.variant else ():
            other = AREA_OF[ask.group]
            if not ask.main and other not in out and ask.base >= INDIRECT_LEAST:
                out[other] = self.sets / 2
        return out

    @cached_property
    def tags(self) -> frozenset[Tag]:
        return frozenset(self.variant.tags) if self.variant else frozenset()

    @cached_property
    def contacts(self) -> float:
        """Most foot contacts of the line in one session; 0 for work without impact."""
        if self.impact == 0:
            return 0.0
        dose = self.item.dose
        sides = 2 if dose.sides == "each" else 1
        if dose.contacts:
            return self.sets * dose.contacts.high * sides
        reps = (dose.left or 0) + (dose.right or 0) or (dose.reps.high if dose.reps else 0) * sides
        each = self.variant.contacts_per_rep if self.variant else 1
        return self.sets * reps * max(each, 1)

    @cached_property
    def seconds(self) -> float:
        return dose_seconds(self.item.dose, self.variant)

    @cached_property
    def where(self) -> str:
        return f"session {self.session.key}"


@dataclass(frozen=True)
class Course:
    """The programme with what the rules need, worked out once.

    weeks   every week that has a cycle, by-week tables applied
    lines   every line of those weeks, in order; left-out ones are gone
    """

    programme: Programme
    library: Library
    house: House
    weeks: tuple[ProgrammeWeek, ...]
    lines: tuple[Line, ...]

    @cached_property
    def by_week(self) -> Mapping[int, tuple[Line, ...]]:
        out: dict[int, list[Line]] = {w.week: [] for w in self.weeks}
        for line in self.lines:
            out[line.week].append(line)
        return {week: tuple(lines) for week, lines in out.items()}

    @cached_property
    def by_session(self) -> Mapping[tuple[int, str], tuple[Line, ...]]:
        out: dict[tuple[int, str], list[Line]] = {(w.week, s.key): [] for w in self.weeks for s in w.sessions}
        for line in self.lines:
            out[line.week, line.session.key].append(line)
        return {key: tuple(lines) for key, lines in out.items()}

    @cached_property
    def area_sets(self) -> Mapping[int, Mapping[Area, float]]:
        """Hard sets of each area in each week."""
        out: dict[int, dict[Area, float]] = {}
        for week, lines in self.by_week.items():
            sums = dict.fromkeys(AREAS, 0.0)
            for line in lines:
                for area, sets in line.counts.items():
                    sums[area] += sets
            out[week] = sums
        return out

    @cached_property
    def easier_weeks(self) -> frozenset[int]:
        """Weeks whose hard sets fall far enough below the larger of the two weeks before (`easier-week-drop`)."""
        keep = 1 - self.value("easier-week-drop") / 100
        totals = {w: sum(line.sets for line in lines if line.hard) for w, lines in self.by_week.items()}
        before = {w: max(totals.get(w - 1, 0.0), totals.get(w - 2, 0.0)) for w in totals}
        return frozenset(w for w, total in totals.items() if before[w] and total <= keep * before[w])

    def cycle_of(self, week: int) -> Cycle:
        """The cycle that holds a week of `weeks`."""
        return next(c for c in self.programme.cycles if c.first_week <= week <= c.last_week)

    def value(self, key: str) -> float:
        """A house rule's effective number."""
        return self.house.value(key)

    def sessions(self) -> Iterator[tuple[int, Session, tuple[Line, ...]]]:
        """Every session of every week with its lines."""
        for week in self.weeks:
            for session in week.sessions:
                yield week.week, session, self.by_session[week.week, session.key]


def lay_out(programme: Programme, library: Library, house: House) -> Course:
    """The programme as a Course; weeks without a cycle, and those past MOST_WEEKS, are left out."""
    resolved = (week_of(programme, n) for n in range(1, min(programme.weeks, MOST_WEEKS) + 1))
    weeks = tuple(w for w in resolved if w is not None)
    lines = tuple(
        Line(week.week, session, block, item, variant_of(item, library), sets_of(item, block))
        for week in weeks
        for session in week.sessions
        for block in session.blocks
        for item in block.items
    )
    return Course(programme, library, house, weeks, lines)


def recovery_s(line: Line, library: Library) -> float | None:
    """Seconds from the end of one set of a line to its next one; None when no rest is written.

    In a pair or circuit the other exercises and the betweens count as recovery of this one, at the shortest rest.
    """
    block, item = line.block, line.item
    rest = item.dose.rest_s or block.rest_s
    if rest is None or block.kind == "straight":
        return rest.low if rest else None
    others = [i for i in block.items if i.key != item.key]
    between = block.between_s.low if block.between_s else BETWEEN_S[block.kind]
    return rest.low + len(others) * between + sum(dose_seconds(i.dose, variant_of(i, library)) for i in others)
