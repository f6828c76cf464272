"""A programme as the coach meant it. `None` is "not stated" and is kept apart from zero."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.finding import Span
from ferrule.model.quantity import Load, Percent, Range, SetLoads, Step, Tempo
from ferrule.model.words import Pattern

BlockKind = Literal["warm-up", "straight", "pair", "circuit", "cool-down"]
LIGHT: frozenset[BlockKind] = frozenset(("warm-up", "cool-down"))
"""Blocks that prepare or settle: never heavy work, and no effort is asked after them."""
Sides = Literal["each", "alternating", "total"]


@dataclass(frozen=True, slots=True)
class Named:
    """A line that names an exercise. `variant_id` is None when the library does not know the name."""

    text: str
    variant_id: str | None


@dataclass(frozen=True, slots=True)
class Slot:
    """A line that leaves the exercise open: `any hinge, one leg`.

    legs   1 or 2 when written ("one leg", "two legs"), else None
    """

    pattern: Pattern
    legs: Literal[1, 2] | None = None


@dataclass(frozen=True, slots=True)
class Dose:
    """What is to be done in each set of a line. Every field None or empty when not stated.

    sets          own sets of a straight line (`3 x 8`)
    per_set       a different number in each set (`sets 12, 10, 8`)
    reps          repetitions a set; each side when `sides == "each"`
    reps_open     how to read `reps`: `at least` (8+), `up to`, or `max` (to failure; reps may be None)
    left, right   repetitions where the two sides are written apart
    hold_s        seconds held; with `reps`, the hold inside is `pause_s` instead
    work_s        seconds of timed work (`work 40 s`); not a hold
    distance_m    metres
    contacts      foot contacts as the dose
    rir           repetitions left in reserve; `effort_word` says whether the coach wrote RIR or RPE
    rm            repetition maximum (`8RM`)
    pause_s       pause inside each repetition
    side_rest_s   rest between the two sides
    cluster       `2+2+2`;  drop: repetitions of a drop set
    unfitted      forms that were read and are printed, but that the fit does not model; all of the following are among
                  them, `step` only where week_of cannot add it up
    to_failure    the set goes on until no further repetition is possible; `reps` is then what is expected
    max_sets      as many sets as possible;  sore_side_only: the other side does nothing, or only helps
    lead_in       repetitions before the counted ones
    rest_pause_s, rest_pause_times   short rests inside the set, each followed by as many repetitions as possible
    part_rest_s   rest between the parts of a cluster
    loads         a load for each set
    step          what is added as weeks go by;  load_days: days a week with the load, the others go without
    height_cm, height_of   of a box, step, hurdle, bench or drop
    down_s, up_s  seconds of one phase where the other phases are not stated (else `tempo`)
    intensity     percentage of HRmax, top speed or effort
    kit           what the load is, from a closed list (`rucksack`, `barbell`, `machine` ...)
    rpe           RPE as written beside `rir`, where the two are no mirror images
    With `reps_open` "max", `work_s` is the time in which as many as possible are done.
    """

    sets: Range | None = None
    per_set: tuple[int, ...] = ()
    reps: Range | None = None
    reps_open: Literal["at least", "up to", "max"] | None = None
    left: int | None = None
    right: int | None = None
    sides: Sides | None = None
    hold_s: Range | None = None
    work_s: Range | None = None
    distance_m: Range | None = None
    contacts: Range | None = None
    load: Load | None = None
    rir: Range | None = None
    effort_word: Literal["RIR", "RPE"] = "RIR"
    rm: Range | None = None
    percent: Percent | None = None
    tempo: Tempo | None = None
    pause_s: Range | None = None
    rest_s: Range | None = None
    side_rest_s: Range | None = None
    cluster: tuple[int, ...] = ()
    drop: int | None = None
    unfitted: tuple[str, ...] = ()
    to_failure: bool = False
    max_sets: bool = False
    sore_side_only: bool = False
    lead_in: Range | None = None
    rest_pause_s: Range | None = None
    rest_pause_times: int | None = None
    part_rest_s: Range | None = None
    loads: SetLoads | None = None
    step: Step | None = None
    load_days: Range | None = None
    inertia_kg_m2: Range | None = None
    height_cm: Range | None = None
    height_of: Literal["box", "step", "hurdle", "bench", "drop"] | None = None
    down_s: Range | None = None
    up_s: Range | None = None
    intensity: Percent | None = None
    kit: str | None = None
    rpe: Range | None = None


@dataclass(frozen=True, slots=True)
class Condition:
    """A written condition. `acts` is False when it only prints; then what follows is empty.

    when      what is looked at, from a closed list (`all reps`, `reps over`, `pain above`, `technique`, `easy` ...)
    number    its number (repetitions, pain of 10, percent);  sessions: in how many sessions one after the other
    moment    pain: "", during, after, next morning, week to week
    action    what follows, from a closed list (`add`, `harder`, `easier`, `next band`, `less`, `stop`, `ask` ...)
    step      of the action `add`;  exercise: of the action `do`
    """

    text: str
    acts: bool
    span: Span
    when: str = ""
    number: Range | None = None
    sessions: int = 1
    moment: str = ""
    action: str = ""
    step: Step | None = None
    exercise: str = ""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a block.

    key            stable name of the line inside its session ("A1", "W2", "C"), unique there
    alternatives   `- or ...` lines in the coach's order, unwritten fields already inherited
    runner_picks   the alternatives are the runner's free choice
    optional       may be left out when short of time
    left_out       a by-week table leaves this line out (only in a resolved week)
    weeks          first and last week of the programme in which the line is done; last None: to the end
    """

    key: str
    exercise: Named | Slot
    dose: Dose
    span: Span
    alternatives: tuple[Item, ...] = ()
    runner_picks: bool = False
    optional: bool = False
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    left_out: bool = False
    weeks: tuple[int, int | None] | None = None


@dataclass(frozen=True, slots=True)
class WeekCell:
    """A cell of a by-week table. `text` as written; empty when the value is as before; `-` leaves out.

    dose carries an item's field, `sets` a block's sets or rounds, `rest_s`/`between_s` a block's rests.
    """

    text: str
    span: Span
    dose: Dose | None = None
    sets: Range | None = None
    rest_s: Range | None = None
    between_s: Range | None = None
    leaves_out: bool = False
    minutes: int | None = None
    on_s: Range | None = None
    off_s: Range | None = None
    exercises: Range | None = None


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One row: a block field (`item_key` None), an item's field, or a field of every item (`item_key` "*"), a cell a week."""

    field: str
    item_key: str | None
    cells: tuple[WeekCell | None, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class WeekTable:
    """A by-week table: the programme weeks of its columns and its rows."""

    weeks: tuple[int, ...]
    rows: tuple[WeekRow, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Block:
    """Items done together.

    sets        sets (straight) or rounds (warm-up, pair, circuit)
    rest_s      after a set or a round;  between_s: between the exercises of a pair or circuit
    minutes     go round for this time;  every_s: a set or round begins each time so many seconds have gone
    on_s, off_s work and rest at each station
    max_sets    as many sets or rounds as possible
    exercises   how many exercises of the list are done;  reps_in_all: repetitions of the whole block together
    tempo, intensity   of every item that states none
    """

    kind: BlockKind
    label: str
    sets: Range | None
    rest_s: Range | None
    between_s: Range | None
    items: tuple[Item, ...]
    span: Span
    table: WeekTable | None = None
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    name: str = ""
    minutes: int | None = None
    every_s: int | None = None
    on_s: Range | None = None
    off_s: Range | None = None
    max_sets: bool = False
    exercises: Range | None = None
    reps_in_all: Range | None = None
    tempo: Tempo | None = None
    intensity: Percent | None = None


@dataclass(frozen=True, slots=True)
class Session:
    """One home session. key: its number or letter as written, unique inside a cycle. day: as written, Monday 1.

    times_a_week   how often in a week; with `at_least`, its low end is the least
    every_days     1 every day, 2 every second day;  twice_a_day: on each of its days
    days           more than one day as written, Monday 1;  hours_apart: the least from one time to the next
    weeks          first and last week of the programme in which it is done; last None: to the end
    minutes_from   low end of the time, where it is a range
    level          one of several versions of the session of this number; its key is then number and level
    choose         keys of sessions of which one is done in place of this one
    same_as        (cycle key or "", session key) whose blocks these are
    beside_run     after or before the run of that day, or on the day of a run
    part_of_day    morning, afternoon, evening;  supervised: somebody is there, or (False) nobody
    contacts       foot contacts of the whole session; `contacts_open` "from" or "up to"
    """

    key: str
    name: str
    minutes: int | None
    blocks: tuple[Block, ...]
    span: Span
    day: int | None = None
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    times_a_week: Range | None = None
    at_least: bool = False
    every_days: int | None = None
    twice_a_day: bool = False
    days: tuple[int, ...] = ()
    hours_apart: int | None = None
    weeks: tuple[int, int | None] | None = None
    minutes_from: int | None = None
    level: str = ""
    choose: tuple[str, ...] = ()
    same_as: tuple[str, str] | None = None
    beside_run: Literal["after", "before", "same day"] | None = None
    part_of_day: Literal["morning", "afternoon", "evening"] | None = None
    supervised: bool | None = None
    contacts: Range | None = None
    contacts_open: Literal["from", "up to"] | None = None


@dataclass(frozen=True, slots=True)
class Cycle:
    """Weeks `first_week` to `last_week` of the programme, both included.

    times_a_week   sessions a week, taken in turn; with `at_least`, its low end is the least
    open_end       goes on after `last_week`, until the coach ends it
    repeat_to      the weeks begin again after the last, up to this week
    overlaps       shares weeks with another cycle on purpose: when the runner changes over is decided from case to case
    sessions_span  first and last session it covers, counted through the programme, where it is not counted in weeks
    start          weeks in which it may begin, which depends on the person; `first_week` is what is laid
    """

    key: str
    name: str
    first_week: int
    last_week: int
    sessions: tuple[Session, ...]
    span: Span
    aim: str = ""
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    times_a_week: Range | None = None
    at_least: bool = False
    open_end: bool = False
    repeat_to: int | None = None
    overlaps: bool = False
    sessions_span: tuple[int, int] | None = None
    start: Range | None = None


@dataclass(frozen=True, slots=True)
class FrontEntry:
    """`key: rest of the line` in the front matter."""

    key: str
    value: str
    span: Span


@dataclass(frozen=True, slots=True)
class Allow:
    """`<!-- allow rule: why -->`: the coach sets a check aside. Covers the block that follows, or the file at its top."""

    rule: str
    why: str
    span: Span


@dataclass(frozen=True, slots=True)
class Programme:
    """The whole programme. `weeks` is as stated, else the last week of the last cycle.

    own   weeks whose sessions one runner's record has changed: (week, its sessions, resolved), in place of the written ones
    """

    file: str
    title: str
    weeks: int
    sessions_per_week: Range | None
    needs: tuple[str, ...]
    front: tuple[FrontEntry, ...]
    cycles: tuple[Cycle, ...]
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    allows: tuple[Allow, ...] = ()
    conditions: tuple[Condition, ...] = ()
    sessions_at_least: bool = False
    own: tuple[tuple[int, tuple[Session, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class ProgrammeWeek:
    """One week with every by-week table applied: blocks carry no table, left-out items are gone.

    notes, conditions   for the runner, of the programme and of the cycle
    """

    programme: str
    week: int
    cycle_key: str
    cycle_name: str
    cycle_week: int
    sessions: tuple[Session, ...]
    aim: str = ""
    notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
