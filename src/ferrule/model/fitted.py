"""A fitted week: what one runner is asked to do, with every reason. Frozen when the coach signs it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from typing import Literal

from ferrule.model.finding import Finding
from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range, Tempo
from ferrule.model.words import Band, Place, Region

ReasonCode = Literal[
    "kit",
    "limit",
    "sore",
    "wish",
    "too hard",
    "too easy",
    "risk",
    "contacts",
    "minutes",
    "days",
    "finding week",
    "open slot",
    "first that fits",
    "lane",
    "load chosen",
    "not fitted",
    "held",
    "other lines",
]
"""Why a line differs from the text. Choices the coach left open, the finding week and `not fitted` are no departures, nor
is `held`: the record says so, and `ferrule next` tells it line by line."""


OPEN: frozenset[ReasonCode] = frozenset(
    ("open slot", "first that fits", "load chosen", "finding week", "not fitted", "held")
)
"""Reasons that are no departure from the text."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, in words a coach reads."""

    code: ReasonCode
    text: str

    @property
    def departs(self) -> bool:
        """False for choices the coach left open, and for the finding week, which is a house rule for everybody."""
        return self.code not in OPEN


@dataclass(frozen=True, slots=True)
class LoadChoice:
    """A load made of what the runner owns. kg: in all. pieces: what to fetch ("12 kg dumbbell")."""

    kg: float
    place: Place
    pieces: tuple[str, ...]
    band: Band | None = None


@dataclass(frozen=True, slots=True)
class Recourse:
    """A printed way out on the day: another variant, or another load of the same one."""

    variant_id: str
    name: str
    load: LoadChoice | None
    text: str


@dataclass(frozen=True, slots=True)
class Prediction:
    """What we expect of one set.

    share        demand / capacity, the middle of our belief, and the two ends of its 80 % interval
    reserve      repetitions expected to be left after the set (negative: would fail) and its SD, reps;
                 for a hold the same in tenths of the prescribed seconds
    p_complete   chance of completing every rep of the first set at the least of the range
    intended     reserve the coach meant
    """

    share: float
    share_low: float
    share_high: float
    reserve: float
    reserve_sd: float
    p_complete: float
    intended: Range
    verdict: Literal["too easy", "right", "too hard"]


@dataclass(frozen=True, slots=True)
class FittedItem:
    """One line as this runner does it.

    item_key     key of the written line;  written: the line's exercise as the coach wrote it
    sets         sets or rounds
    reps, hold_s, distance_m, contacts   exactly one is given, as printed; reps are each side when `per_side`
    rir          reserve to keep, when effort rules; None when the written number rules
    work         `hold_s` is timed work, no hold
    line         the written line and its alternatives in canonical form: tells whether the text was edited since
    """

    item_key: str
    written: str
    variant_id: str
    name: str
    sets: int
    reps: Range | None
    hold_s: Range | None
    distance_m: Range | None
    contacts: Range | None
    per_side: bool
    alternating: bool
    rir: Range | None
    load: LoadChoice | None
    tempo: Tempo | None
    pause_s: float | None
    rest_s: Range | None
    side_rest_s: float | None
    notes: tuple[str, ...]
    optional: bool
    open_reps: Literal["at least", "up to", "max"] | None = None
    extra: tuple[str, ...] = ()
    per_set: tuple[int, ...] = ()
    left_right: tuple[int, int] | None = None
    reasons: tuple[Reason, ...] = ()
    prediction: Prediction | None = None
    too_hard: Recourse | None = None
    too_easy: Recourse | None = None
    ask_effort: bool = False
    work: bool = False
    line: str = ""

    @property
    def departs(self) -> bool:
        return any(r.departs for r in self.reasons)


@dataclass(frozen=True, slots=True)
class FittedBlock:
    """A block as this runner does it. rounds: sets or rounds.

    minutes     go round for this time;  every_s: a set or round begins each time so many seconds have gone
    on_s, off_s work and rest at each station;  max_sets: as many sets or rounds as possible
    exercises   how many of the exercises are done, when not all
    """

    kind: BlockKind
    label: str
    rounds: int
    rest_s: Range | None
    between_s: Range | None
    items: tuple[FittedItem, ...]
    notes: tuple[str, ...] = ()
    name: str = ""
    minutes: int | None = None
    every_s: int | None = None
    on_s: Range | None = None
    off_s: Range | None = None
    max_sets: bool = False
    exercises: Range | None = None


@dataclass(frozen=True, slots=True)
class FittedSession:
    """One session on its day.

    uid          stable across refits of the same runner, programme week and session; used by the calendar
    minutes      our estimate of its length, minutes
    leave_out    item keys to leave out when short of time, first to go first
    fetch        what to have ready before starting
    hours_to_key hours from this session to the next key run, long run or race; None when none is known
    where        the site it is done at, as the squad list names it; "" when none is named
    """

    uid: str
    key: str
    name: str
    day: date
    start: time | None
    minutes: float
    blocks: tuple[FittedBlock, ...]
    fetch: tuple[str, ...]
    leave_out: tuple[str, ...]
    hours_to_key: float | None
    reasons: tuple[Reason, ...] = ()
    notes: tuple[str, ...] = ()
    where: str = ""


@dataclass(frozen=True, slots=True)
class LevelPrice:
    """The optimum of one level of the objective, in its own unit, and whether it is proven."""

    level: str
    value: float
    unit: str
    proven: bool


@dataclass(frozen=True, slots=True)
class FittedWeek:
    """One runner's week, ready to be read and signed.

    monday          first day of the calendar week
    rest_sessions   sessions of the text that found no day, with the reason
    notes           what the programme says to the runner outside its sessions;  conditions: its `if ...` lines
    """

    runner_id: str
    runner_name: str
    programme: str
    programme_week: int
    cycle_name: str
    monday: date
    sessions: tuple[FittedSession, ...]
    prices: tuple[LevelPrice, ...]
    rest_sessions: tuple[tuple[str, Reason], ...] = ()
    finding_week: bool = True
    cautions: tuple[str, ...] = ()
    aim: str = ""
    notes: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WayOut:
    """One smallest change that makes a runner's week possible, checked to work."""

    text: str
    tried: bool


@dataclass(frozen=True, slots=True)
class Impossible:
    """No week exists for this runner as things stand: why, and the smallest ways out."""

    runner_id: str
    runner_name: str
    reasons: tuple[Finding, ...]
    ways_out: tuple[WayOut, ...]


@dataclass(frozen=True, slots=True)
class Held:
    """Nothing is fitted: a named human must clear this first, the coach writes."""

    runner_id: str
    runner_name: str
    reason: str


@dataclass(frozen=True, slots=True)
class Away:
    """The runner has no programme week here: not begun, or past the end."""

    runner_id: str
    runner_name: str
    reason: str


Outcome = FittedWeek | Impossible | Held | Away


@dataclass(frozen=True, slots=True)
class LineSpread:
    """How the squad spreads on one written line, done as written.

    too_easy, right, too_hard, cannot   runner ids (cannot: no kit, or a limit)
    moved    runner id -> (what they do instead, why)
    ways     runner id -> which way that is: easier, harder, as hard, more or less weight, another exercise, left out
    """

    session_key: str
    item_key: str
    written: str
    too_easy: tuple[str, ...]
    right: tuple[str, ...]
    too_hard: tuple[str, ...]
    cannot: tuple[str, ...]
    moved: tuple[tuple[str, str, str], ...]
    ways: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class LineLanes:
    """The variants of one line over the whole squad, where more were wanted than the house allows.

    lanes       (variant id, name, runner ids who do it), in the order of the text and the library
    wanted      how many variants the runners would have had without
    exceptions  (runner id, what they do instead): none of the lanes is possible for them
    gap         proven relative gap of the choice of lanes; 0 when it is known to be the best there is
    """

    cycle_key: str
    session_key: str
    item_key: str
    written: str
    lanes: tuple[tuple[str, str, tuple[str, ...]], ...]
    wanted: int
    exceptions: tuple[tuple[str, str], ...]
    gap: float = 0.0


@dataclass(frozen=True, slots=True)
class SquadLanes:
    """The squad held to `most` variants a line, beside the same squad fitted one by one.

    lines       those that wanted more
    text, effort, departures   price of leaving the text; expected loss, reps; lines that differ from the text
    free_text, free_effort, free_departures   the same without lanes
    """

    most: int
    lines: tuple[LineLanes, ...]
    text: float
    effort: float
    departures: int
    free_text: float
    free_effort: float
    free_departures: int


@dataclass(frozen=True, slots=True)
class When:
    """Weeks from now: middle, and the ends of an 80 % interval; None is later than anything that can be said."""

    early: int | None
    middle: int | None
    late: int | None


@dataclass(frozen=True, slots=True)
class RunsOut:
    """About when one line becomes too easy for one runner.

    doing     the exercise they are given, with every load their kit makes;  variant: when that is outgrown
    hardest   the hardest of the line they may do with their kit;  kit: when even that is outgrown
    week, weeks   programme week now, and how many the programme has
    """

    runner_id: str
    runner_name: str
    session_key: str
    item_key: str
    written: str
    doing: str
    hardest: str
    variant: When
    kit: When
    week: int
    weeks: int

    def within(self, when: When) -> bool:
        """Is the middle of `when` a week of the programme?"""
        return when.middle is not None and self.week + when.middle <= self.weeks


@dataclass(frozen=True, slots=True)
class RegionLoad:
    """What one week asks of one region and side, exercises that only touch it on the way included; runs are not counted.

    level    0 none, 1 light, 2 some, 3 much
    sets     in hard sets: each set weighs by its share of best, landings by their level
    hidden   the part of `sets` from exercises that are dosed on something else
    days     on which it is worked, Monday 0;  in_a_row: most days running
    """

    region: Region
    side: Literal["left", "right"]
    level: int
    sets: float
    hidden: float
    days: tuple[int, ...]
    in_a_row: int


@dataclass(frozen=True, slots=True)
class SquadWeek:
    """Everything the coach reads before signing one week."""

    programme: str
    monday: date
    outcomes: tuple[Outcome, ...]
    spread: tuple[LineSpread, ...]
    departures: int
    change_budget: int
    findings: tuple[Finding, ...]
    lanes: SquadLanes | None = None
    runs_out: tuple[RunsOut, ...] = ()
    region_loads: Mapping[str, tuple[RegionLoad, ...]] = field(default_factory=dict)
