"""What a runner told about one set, one test, one time away: facts, as they were told. Nothing here is a judgement."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Literal

from ferrule.model.squad import TestKind
from ferrule.model.words import Band, Place, Side

Outcome = Literal["counted", "tapped", "failed", "not said"]
"""counted: how many were done was told. tapped: a bare tap on Done, which says "at least what was asked".
failed: one more was tried and not managed. not said: nothing was told of this set."""

Stopped = Literal["pain", "time", "kit", "other"]
"""Why a set ended before what was asked. A set stopped by pain says nothing about capacity."""

AwayKind = Literal["holiday", "illness", "injury", "other"]


@dataclass(frozen=True, slots=True)
class Reserve:
    """The answer to "how many more?". high None: "4 or more" is Reserve(4, None); one number is Reserve(2, 2)."""

    low: int
    high: int | None


@dataclass(frozen=True, slots=True)
class LoggedSet:
    """One set as it was told.

    entry_id     UUID version 7, made where the entry arose
    day, at      local day and, where known, time it was done; order within a day is by `at`, then session, item, number
    copy_id      the sent copy it answers, "" when none
    number       1 for the first set of this item in this session
    side         `both` for exercises that are not sided, and for a set done the same on each side
    load_kg      in all; 0 without load
    asked        repetitions or seconds asked for (least of the range), None when not known
    done         repetitions or seconds told; None unless counted or failed
    reserve      None when it was not told;  effort_asked: whether it was asked (None then means "don't know")
    recorded_at  when the entry was made, with its time zone, by the clock of the device
    """

    entry_id: str
    runner_id: str
    day: date
    session_key: str
    item_key: str
    variant_id: str
    number: int
    outcome: Outcome
    unit: Literal["reps", "s"] = "reps"
    asked: float | None = None
    done: float | None = None
    reserve: Reserve | None = None
    effort_asked: bool = False
    side: Side = "both"
    load_kg: float = 0.0
    place: Place | None = None
    band: Band | None = None
    stopped: Stopped | None = None
    at: time | None = None
    copy_id: str = ""
    recorded_at: datetime | None = None

    @property
    def order(self) -> tuple[date, time, str, str, int, str]:
        """The one order of sets, whenever they arrived: by day, time (unknown first), session, item, number, entry."""
        return self.day, self.at or time(), self.session_key, self.item_key, self.number, self.entry_id


@dataclass(frozen=True, slots=True)
class LoggedTest:
    """A home test done on a day. value: repetitions, or seconds for planks."""

    entry_id: str
    runner_id: str
    day: date
    kind: TestKind
    value: float
    side: Side = "both"


@dataclass(frozen=True, slots=True)
class TimeAway:
    """Days on which the runner did not train, both ends included.

    kit   what is at hand meanwhile, in the words of the squad list ("" the runner's own);  None: no training at all
    ramp  shares of the usual demand for the weeks after it, set by the coach: (0.6, 0.8) eases two weeks; () none set
    by    who said so, "" the runner
    """

    runner_id: str
    first: date
    last: date
    kind: AwayKind
    kit: str | None = None
    ramp: tuple[float, ...] = ()
    by: str = ""
