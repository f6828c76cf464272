"""One runner's week as plain numbers: what the solver sees, and nothing else.

Every cost and time is a whole number, so that an optimum is exact. The same value feeds CP-SAT, the HiGHS peer of the
benchmark and the brute force of the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.model.words import Group


@dataclass(frozen=True, slots=True)
class Option:
    """One choice of a line.

    text    price of leaving the text (0: as written);  effort: expected loss, hundredths of a repetition
    same    1 when last week had another variant in this line
    tie     place in the fixed order
    line_s  seconds in the block for each reduction of its rounds (index 0: as written);  contacts: foot contacts, the same way
    settings  adjustable pieces this choice needs, each with what it must be set to
    new, grown  the runner meets the variant for the first time;  it is more than a step above last week's
    moved   changes against what the runner was already given this week
    sites   numbers of the sites whose kit it needs: the session is done at each of them and at no other; empty: anywhere
    """

    id: str
    text: int
    effort: int
    same: int
    tie: int
    line_s: tuple[int, ...]
    contacts: tuple[int, ...]
    settings: tuple[tuple[str, str], ...]
    group: Group | None
    new: bool = False
    grown: bool = False
    moved: int = 0
    sites: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One line: exactly one option, or omitted at `omit` (price). session: the first time its session is done.

    moved   changes when it is omitted, against what the runner was given
    """

    key: str
    session: int
    block: int
    options: tuple[Option, ...]
    omit: int
    moved: int = 0


@dataclass(frozen=True, slots=True)
class BlockOfWeek:
    """reductions: for each number of rounds or sets taken away (index), the price and the block's own seconds.

    given   the reduction the runner was given, None when there is none: any other is a change
    """

    session: int
    kind: str
    reductions: tuple[tuple[int, int], ...]
    written_clash: bool
    given: int | None = None


@dataclass(frozen=True, slots=True)
class Slot:
    """One time a session may start.

    at_min   minutes from Monday 00:00;  cost: how good the time is (0 best)
    blocked  names of the rules that forbid it, empty when it is free
    moved    changes against the time the runner was given
    site     number of the site the runner trains at on that day; -1 where the kit is the same everywhere
    """

    day: int
    at_min: int
    cost: int
    same: int
    blocked: tuple[str, ...]
    moved: int = 0
    site: int = -1


@dataclass(frozen=True, slots=True)
class SessionOfWeek:
    """One time a session is done. promised_s: minutes promised, seconds;  limit_s: hard limit;  drop: price of leaving it out.

    track    sessions of one track keep their order and `gap_min` between them; "" for those spread out together
    gap_min  least minutes to the next of the track: counted in whole days of 24 h, below a day from start to start
    base     index of the first time of the same written session; None: this is the first
    """

    key: str
    promised_s: int
    limit_s: int
    drop: int
    slots: tuple[Slot, ...]
    track: str = ""
    gap_min: int = 0
    base: int | None = None


def too_near(first: SessionOfWeek, slot: Slot, second: SessionOfWeek, later: Slot) -> bool:
    """May `second`, which stands after `first` in the text, not be at `later` when `first` is at `slot`?

    In one track: before it, or nearer than the gap. Tracks do not mind each other: what is done nearly every day is
    short, and stands before or after a session of the same evening.
    """
    if first.track != second.track:
        return False
    if first.gap_min >= 24 * 60:
        return (later.day - slot.day) * 24 * 60 < first.gap_min
    return later.at_min - slot.at_min < max(first.gap_min, 1)


@dataclass(frozen=True, slots=True)
class Problem:
    """The whole week.

    free_days   days without a run;  rest_days: how many of them stay without a session
    cover       groups that the text works in two sessions or more
    contacts    most foot contacts of one session
    new_cap     most new variants in the week, None when last week is not known
    """

    sessions: tuple[SessionOfWeek, ...]
    blocks: tuple[BlockOfWeek, ...]
    lines: tuple[Line, ...]
    free_days: tuple[int, ...]
    rest_days: int
    cover: tuple[Group, ...]
    contacts: int
    new_cap: int | None = None


def times_of(problem: Problem, session: int) -> list[int]:
    """Indices of the times a written session is done, by the index of its first."""
    return [n for n, s in enumerate(problem.sessions) if (n if s.base is None else s.base) == session]


@dataclass(frozen=True, slots=True)
class Answer:
    """What the solver chose. option, reduction, slot: index by line, block, session; None is omitted or dropped.

    levels  value of each level of the objective, in order;  proven: each was proven optimal
    floors  what each level is proven to be at least, those before it held: equal to `levels` when proven
    """

    option: tuple[int | None, ...]
    reduction: tuple[int, ...]
    slot: tuple[int | None, ...]
    levels: tuple[int, ...]
    proven: bool
    floors: tuple[int, ...] = ()


LEVELS: tuple[tuple[str, str], ...] = (
    ("coach's text", "price of departures"),
    ("as given", "changes"),
    ("minutes", "s over the promise"),
    ("effort", "hundredths of a rep"),
    ("days", "price of times"),
    ("as last week", "changes"),
    ("fixed order", ""),
)
"""Names and units of the levels, in order."""


def slot_tie(session: int, slot: int) -> int:
    """Place of a slot in the fixed order: earlier first, and no two sums alike for up to seven sessions."""
    return (slot << 24) + (slot + 1) * int(15 ** min(session, 5))
