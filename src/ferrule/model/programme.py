"""A programme as the coach meant it. `None` is "not stated" and is kept apart from zero."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.finding import Span
from ferrule.model.quantity import Load, Percent, Range, Tempo
from ferrule.model.words import Pattern

BlockKind = Literal["warm-up", "straight", "pair", "circuit"]
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
    unfitted      forms that were read and are printed, but that the fit does not model
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


@dataclass(frozen=True, slots=True)
class Condition:
    """A written condition. `acts` is False when it only prints."""

    text: str
    acts: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a block.

    key            stable name of the line inside its session ("A1", "W2", "C"), unique there
    alternatives   `- or ...` lines in the coach's order, unwritten fields already inherited
    runner_picks   the alternatives are the runner's free choice
    optional       may be left out when short of time
    left_out       a by-week table leaves this line out (only in a resolved week)
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


@dataclass(frozen=True, slots=True)
class WeekRow:
    """One row: a block field (`item_key` None) or an item's field, a cell a week."""

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


@dataclass(frozen=True, slots=True)
class Session:
    """One home session. key: its number or letter as written, unique inside a cycle. day: as written, Monday 1."""

    key: str
    name: str
    minutes: int | None
    blocks: tuple[Block, ...]
    span: Span
    day: int | None = None
    notes: tuple[str, ...] = ()
    coach_notes: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()


@dataclass(frozen=True, slots=True)
class Cycle:
    """Weeks `first_week` to `last_week` of the programme, both included."""

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
    """The whole programme. `weeks` is as stated, else the last week of the last cycle."""

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
