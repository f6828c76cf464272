"""A programme laid out for the rules: every line of every week, with its variant, groups, sets and recovery."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal, get_args

from ferrule.check.minutes import (
    BETWEEN_S,
    SETUP_S,
    block_minutes,
    clock_seconds,
    dose_seconds,
    session_minutes,
    sets_of,
    variant_of,
)
from ferrule.check.once import once
from ferrule.check.words import KEEP, TAPER, called, claimed, everything_said
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.finding import Span
from ferrule.model.house import House
from ferrule.model.programme import Block, Cycle, Dose, Item, Named, Programme, ProgrammeWeek, Session
from ferrule.model.words import Group, Pattern, Tag
from ferrule.programme.occurrences import occurrences
from ferrule.programme.weeks import cycle_of, week_of

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
NARROW = 4
"""A programme that works fewer parts of the body than this is meant to be beside something else (our choice)."""
MOST_WEEKS = 104
"""Weeks that are checked: two years. Longer programmes are slips of the finger."""
UNKNOWN_RESERVE = 4.0
"""A set with more than this in reserve is no hard set (stated reserve above 4 says little: Halperin 2022, seen)."""


@dataclass(frozen=True)
class Line:
    """One line of one week.

    sets      in one session;  times: how often its session is done in that week, the least the coach wrote
    warm      of a warm-up or cool-down
    group     what it is dosed on, main its demand there; None for mobility, balance and impact work
    unknown   the library does not know its exercise, so nothing can be said of what it works
    hard      it trains: outside the warm-up, dosed, and not written with a large reserve;  hard_leg: and works the leg
    counts    hard sets of one session that it adds to each area: whole for its own, half where it works another one
    works     every group it works, those beside its own from INDIRECT_LEAST on; warm-ups too
    contacts  most foot contacts in one session; 0 for work without impact
    seconds   of one set, both sides
    """

    week: int
    session: Session
    block: Block
    item: Item
    variant: Variant | None
    sets: float
    times: float
    name: str
    warm: bool
    unknown: bool
    group: Group | None
    main: Ask | None
    area: Area | None
    hard: bool
    hard_leg: bool
    one_leg: bool
    impact: int
    counts: Mapping[Area, float]
    works: frozenset[Group]
    contacts: float
    seconds: float

    @property
    def leg(self) -> bool:
        return self.area in LEG_AREAS

    @property
    def tags(self) -> Mapping[Tag, int]:
        return self.variant.tags if self.variant else {}

    @property
    def where(self) -> str:
        return f"session {self.session.key}"


_NONE: frozenset[Group] = frozenset()
_IMPACT: Mapping[str, int] = {"skip": 1, "landing": 1, "jump": 2, "hop": 3}
"""Impact level of an open slot, by its pattern."""


def _facts(item: Item, block: Block, library: Library) -> dict[str, object]:
    """The fields of a Line that do not depend on the week, worked out once for all weeks of an item."""
    exercise, dose = item.exercise, item.dose
    variant, sets, warm = variant_of(item, library), sets_of(item, block), block.kind in ("warm-up", "cool-down")
    asks = variant.asks if variant else ()
    main = next((a for a in asks if a.main), None)
    if isinstance(exercise, Named):
        name, group, impact = variant.name if variant else exercise.text, main.group if main else None, 0
        one_leg = variant.one_leg if variant else False
    else:
        name = f"any {exercise.pattern}" + {1: ", one leg", 2: ", two legs", None: ""}[exercise.legs]
        group, impact = GROUP_OF_PATTERN.get(exercise.pattern), _IMPACT.get(exercise.pattern, 0)
        one_leg = exercise.legs == 1
    impact = variant.impact if variant else impact
    area = AREA_OF[group] if group else None
    hard = bool(group) and not warm and (dose.rir is None or dose.rir.low <= UNKNOWN_RESERVE)
    beside = [a.group for a in asks if a.base >= INDIRECT_LEAST and not a.main]
    counts: dict[Area, float] = {}
    if hard and area:
        counts = {AREA_OF[g]: sets / 2 for g in beside}
        counts[area] = sets
    return {
        "block": block, "item": item, "variant": variant, "sets": sets, "name": name, "warm": warm,
        "unknown": isinstance(exercise, Named) and variant is None, "group": group,
        "main": main, "area": area, "hard": hard, "hard_leg": hard and area in LEG_AREAS, "one_leg": one_leg,
        "impact": impact, "counts": counts,
        "works": frozenset((group, *beside)) if group else frozenset(beside) if beside else _NONE,
        "contacts": _contacts(dose, sets, variant) if impact else 0.0, "seconds": dose_seconds(dose, variant),
    }  # fmt: skip


def _contacts(dose: Dose, sets: float, variant: Variant | None) -> float:
    sides = 2 if dose.sides == "each" or (dose.sides is None and variant is not None and variant.sided) else 1
    if dose.contacts:
        return sets * dose.contacts.high * sides
    reps = (dose.left or 0) + (dose.right or 0) or (dose.reps.high if dose.reps else 0) * sides
    each = variant.contacts_per_rep if variant else 1
    return sets * reps * max(each, 1)


@dataclass(frozen=True)
class Course:
    """The programme with what the rules need, worked out once.

    weeks   every week that has a cycle, by-week tables applied
    lines   every line of those weeks, in order; left-out ones are gone
    often   (week, session) -> how often it is done in that week, the least the coach wrote
    """

    programme: Programme
    library: Library
    house: House
    weeks: tuple[ProgrammeWeek, ...]
    lines: tuple[Line, ...]
    often: Mapping[tuple[int, str], float]

    @once
    def by_week(self) -> Mapping[int, tuple[Line, ...]]:
        out: dict[int, list[Line]] = {w.week: [] for w in self.weeks}
        for line in self.lines:
            out[line.week].append(line)
        return {week: tuple(lines) for week, lines in out.items()}

    @once
    def by_session(self) -> Mapping[tuple[int, str], tuple[Line, ...]]:
        out: dict[tuple[int, str], list[Line]] = {(w.week, s.key): [] for w in self.weeks for s in w.sessions}
        for line in self.lines:
            out[line.week, line.session.key].append(line)
        return {key: tuple(lines) for key, lines in out.items()}

    @once
    def area_sets(self) -> Mapping[int, Mapping[Area, float]]:
        """Hard sets of each area in each week, repeated sessions counted as often as they are done."""
        out: dict[int, dict[Area, float]] = {}
        for week, lines in self.by_week.items():
            sums = dict.fromkeys(AREAS, 0.0)
            for line in lines:
                for area, sets in line.counts.items():
                    sums[area] += sets * line.times
            out[week] = sums
        return out

    @once
    def hard_sets(self) -> Mapping[int, float]:
        """Hard sets of each week; work the library does not know counts as hard."""
        return {
            w: sum(x.sets * x.times for x in lines if x.hard or (x.unknown and not x.warm))
            for w, lines in self.by_week.items()
        }

    @once
    def leg_weeks(self) -> Mapping[int, float]:
        """Hard leg sets of each week."""
        return {w: sum(x.sets * x.times for x in lines if x.hard_leg) for w, lines in self.by_week.items()}

    @once
    def easier_weeks(self) -> frozenset[int]:
        """Weeks whose hard sets fall far enough below the larger of the two weeks before (`easier-week-drop`)."""
        keep = 1 - self.value("easier-week-drop") / 100
        totals = self.hard_sets
        before = {w: max(totals.get(w - 1, 0.0), totals.get(w - 2, 0.0)) for w in totals}
        return frozenset(w for w, total in totals.items() if before[w] and total <= keep * before[w])

    @once
    def said(self) -> str:
        """All words of the programme that are no prescription."""
        return everything_said(self.programme)

    @once
    def worked(self) -> tuple[Area, ...]:
        """The parts of the body worked hard in any week."""
        found = {line.area for line in self.lines if line.hard and line.area}
        return tuple(a for a in AREAS if a in found)

    @once
    def warm_ups(self) -> Mapping[Span, bool]:
        """Sessions, by their place, that write a warm-up; True where it has lines, False where only its minutes are said."""
        return {
            session.span: bool(block.items)
            for cycle in self.programme.cycles
            for session in cycle.sessions
            for block in session.blocks
            if block.kind == "warm-up"
        }

    @once
    def unknown_weeks(self) -> frozenset[int]:
        """Weeks with work the library does not know."""
        return frozenset(line.week for line in self.lines if line.unknown and not line.warm)

    @once
    def narrow(self) -> bool:
        """Too few parts of the body for a whole programme, or work that is not known: what is missing cannot be told."""
        return len(self.worked) < NARROW or bool(self.unknown_weeks)

    @once
    def kept_weeks(self) -> frozenset[int]:
        """Weeks of cycles that call themselves maintenance, season, race or break."""
        kept = {id(c) for c in self.programme.cycles if claimed(KEEP, *called(c)) or claimed(TAPER, *called(c))}
        return frozenset(w for w, cycle in self.cycles.items() if id(cycle) in kept)

    @once
    def cycles(self) -> Mapping[int, Cycle]:
        """The cycle of every week."""
        return {w.week: cycle for w in self.weeks if (cycle := cycle_of(self.programme, w.week)) is not None}

    def cycle_of(self, week: int) -> Cycle:
        """The cycle that holds a week of `weeks`."""
        return self.cycles[week]

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
    seen: dict[tuple[int, int, str], dict[str, object]] = {}
    lines: list[Line] = []
    often: dict[tuple[int, str], float] = {}
    counted: dict[tuple[str, ...], list[float]] = {}
    for week in weeks:
        heads = (week.cycle_key, *(s.key for s in week.sessions))
        if heads not in counted:
            done = Counter(o.base for o in occurrences(programme, week) if not o.optional)
            counted[heads] = [float(max(done[n], 1)) for n in range(len(week.sessions))]
        for session, times in zip(week.sessions, counted[heads], strict=True):
            often[week.week, session.key] = times
            for block in session.blocks:
                for item in block.items:
                    key = (id(item), id(block.sets), block.kind)
                    facts = seen.get(key)
                    if facts is None:
                        facts = seen[key] = _facts(item, block, library)
                    line = object.__new__(Line)  # as Line(...), without looking at its fields one by one
                    vars(line).update(facts, week=week.week, session=session, block=block, times=times)
                    lines.append(line)
    return Course(programme, library, house, weeks, tuple(lines), often)


def minutes_of(lines: Sequence[Line]) -> float:
    """Minutes of the lines of one session, as `written_minutes` counts them."""
    blocks: list[float] = []
    for _, same in groupby(lines, key=_block):
        part = list(same)
        block = part[0].block
        items = [
            (x.seconds, x.variant.setup_s if x.variant else SETUP_S, r.middle if (r := x.item.dose.rest_s) else None)
            for x in part
        ]
        clock = clock_seconds(block, max(x.sets for x in part), len(part))
        if clock is not None:
            blocks.append(clock / 60)
            continue
        rest = block.rest_s.middle if block.rest_s else None
        between = block.between_s.middle if block.between_s else None
        blocks.append(block_minutes(block.kind, [x.sets for x in part], items, rest, between))
    return session_minutes(blocks)


def recoveries(lines: Sequence[Line]) -> Iterator[tuple[Line, float | None]]:
    """The lines of one session, each with the seconds from the end of one of its sets to its next one.

    None when no rest is written, or a clock rules. In a pair or circuit the other exercises and the betweens count as
    recovery of this one, at the longest rest written.
    """
    for _, same in groupby(lines, key=_block):
        part = list(same)
        block = part[0].block
        clock = block.on_s is not None or block.every_s is not None or block.minutes is not None
        straight = block.kind == "straight"
        between = block.between_s.high if block.between_s else BETWEEN_S[block.kind]
        round_s = 0.0 if straight or clock else sum(x.seconds for x in part) + (len(part) - 1) * between
        for line in part:
            rest = line.item.dose.rest_s or block.rest_s
            if rest is None or clock:
                yield line, None
            else:
                yield line, rest.high + (0.0 if straight else round_s - line.seconds)


def _block(line: Line) -> int:
    return id(line.block)
