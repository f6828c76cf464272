"""The squad: who the runners are, what they own, when they run, what they must not do."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from typing import Literal

from ferrule.model.calibration import NO_CALIBRATION, Calibration
from ferrule.model.exercise import Variant
from ferrule.model.finding import Span
from ferrule.model.words import Band, Group, KitKind, Level4, Pattern, Region, Side, Trust

Sex = Literal["female", "male"]
RunKind = Literal["easy", "key", "long", "race"]
HoldReason = Literal[
    "health question",
    "pregnant",
    "after birth",
    "after surgery",
    "bone stress",
    "under 18 without consent",
    "red flag",
]
TestKind = Literal["heel raises", "side plank", "front plank", "press-ups", "chair rises", "bridges one leg"]


@dataclass(frozen=True, slots=True)
class KitItem:
    """One thing owned. `kg` of one piece; for adjustable kit `kg` is the least, `up_to_kg` the most, in `step_kg`s.

    rucksack: kg 0, up_to_kg what it holds, step_kg 1 by default. step, box, stair, bench: height_cm.
    """

    kind: KitKind
    count: int = 1
    kg: float | None = None
    up_to_kg: float | None = None
    step_kg: float | None = None
    height_cm: float | None = None
    band: Band | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """Where a runner trains on some days: what it is called, all that is there, and the weekdays (Monday 0)."""

    name: str
    kit: tuple[KitItem, ...]
    days: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """One run of the usual week. day: Monday 0. start: local time, None when not told."""

    day: int
    kind: RunKind
    start: time | None = None


@dataclass(frozen=True, slots=True)
class Anchor:
    """How the programme's weeks meet the calendar.

    `from`: programme week 1 begins in the week of `day`. `to race`: its last week is the week of `day`.
    """

    kind: Literal["from", "to race"]
    day: date
    span: Span


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit by example: on `side` of `region`, nothing that asks more than `ceiling_id` asks.

    ceiling_id   a variant; None means nothing that loads the region at all
    until        last day it holds; None is without end
    """

    region: Region
    side: Side
    ceiling_id: str | None
    until: date | None
    said_by: str
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Sore:
    """A place that is sore: `worst` 0-10 when told."""

    region: Region
    side: Side
    worst: int | None
    span: Span


@dataclass(frozen=True, slots=True)
class Wish:
    """A note to the fitter that it can act on.

    kind        `no impact` (no hops, jumps, landings), `no pattern`, `no variant`, `no kneeling`, `no floor`
    """

    kind: Literal["no impact", "no pattern", "no variant", "no kneeling", "no floor"]
    text: str
    pattern: Pattern | None = None
    variant_id: str | None = None


@dataclass(frozen=True, slots=True)
class FieldTest:
    """A submaximal home test. value: repetitions, or seconds for planks; the weaker side where sides differ."""

    kind: TestKind
    value: float
    side: Side = "both"


@dataclass(frozen=True, slots=True)
class Hold:
    """A status that holds sending until a named human clears it."""

    reason: HoldReason
    cleared_by: str | None
    cleared_on: date | None
    span: Span


@dataclass(frozen=True, slots=True)
class Absence:
    """Days away from home, both ends included. kit: what is at hand meanwhile; None when nothing is trained."""

    first: date
    last: date
    kit: tuple[KitItem, ...] | None = None


@dataclass(frozen=True, slots=True)
class Runner:
    """One runner. Everything optional may be None: the fit widens its margins instead of asking.

    mass_kg     middle of the stated band or number; mass_sd_kg its spread (a band of 60-70 kg has 2.9)
    minutes     longest session, minutes
    days        weekdays that are possible for strength, Monday 0
    contact     how this runner reaches the coach, printed on the sheet (may be empty)
    starts      first day the runner takes part when later than the anchor
    shares      ids of runners at the same home: what both rows list is one kit, not two
    away        times away that were told; they stand in the record, not in the squad list
    sites       where they train, when the squad list names it; `kit` is then that of the first, where a day that no site
                has is trained too. Empty: `kit` is at hand on every day
    """

    id: str
    name: str
    level: Level4
    kit: tuple[KitItem, ...]
    days: tuple[int, ...]
    runs: tuple[Run, ...]
    anchor: Anchor | None
    span: Span
    birth_year: int | None = None
    sex: Sex | None = None
    mass_kg: float | None = None
    mass_sd_kg: float = 0.0
    height_m: float | None = None
    minutes: int | None = None
    limits: tuple[Limit, ...] = ()
    sore: tuple[Sore, ...] = ()
    wishes: tuple[Wish, ...] = ()
    tests: tuple[FieldTest, ...] = ()
    holds: tuple[Hold, ...] = ()
    races: tuple[date, ...] = ()
    notes: str = ""
    starts: date | None = None
    shares: tuple[str, ...] = ()
    away: tuple[Absence, ...] = ()
    sites: tuple[Site, ...] = ()


@dataclass(frozen=True, slots=True)
class Squad:
    """The runners, in the order of the file."""

    file: str
    runners: tuple[Runner, ...]


@dataclass(frozen=True, slots=True)
class Belief:
    """Log capacity as it shows in one variant, this runner's own offset in it included; sided variants: the weaker side.

    mean_log, sd_log   against the computed demand of the variant, natural log
    sets               logged sets of it that said something;  days: on which
    """

    mean_log: float
    sd_log: float
    sets: int
    days: int = 0


@dataclass(frozen=True, slots=True)
class Capacity:
    """What we believe one runner can do once in each group.

    mean_log   natural log of the largest relative demand met once (anchor variant without load = log 1 = 0)
    sd_log     its standard deviation
    basis      per group, where the belief comes from, in words, with source
    variants   by variant id, where sets of it were logged
    offset_sd  by trust, how far the capacity that shows in a variant not yet seen may lie off its group's
    half_log   half of what the left side is above the right, where sets told more than their error
    calibration   how what is foretold from this is corrected by the squad's own past
    """

    runner_id: str
    mean_log: Mapping[Group, float]
    sd_log: Mapping[Group, float]
    basis: Mapping[Group, tuple[str, ...]]
    finding_week: bool = True
    variants: Mapping[str, Belief] = field(default_factory=dict)
    offset_sd: Mapping[Trust, float] = field(default_factory=dict)
    half_log: Mapping[Group, float] = field(default_factory=dict)
    calibration: Calibration = NO_CALIBRATION

    def of(self, variant: Variant, side: Side = "both") -> tuple[float, float]:
        """(mean, sd) of the log capacity to hold against the computed demand of `variant`.

        Its own belief where it has one; else the main group's mean and  hypot(sd of the group, offset_sd[trust]).
        A sided variant asked for `both` gives the weaker side; `left` or `right` that side.
        Raises ValueError where the variant is never dosed.
        """
        main = variant.main
        if main is None:
            raise ValueError(f"{variant.id} has no main group")
        half = self.half_log.get(main.group, 0.0) if variant.sided else 0.0
        own = self.variants.get(variant.id)
        if own is None:
            weaker = self.mean_log[main.group] - abs(half)
            sd = math.hypot(self.sd_log[main.group], self.offset_sd.get(main.trust, 0.0))
        else:
            weaker, sd = own.mean_log, own.sd_log
        above = {"both": 0.0, "left": abs(half) + half, "right": abs(half) - half}[side]
        return weaker + above, sd
