"""What was told or decided, kept for good: every kind of fact, in an envelope made where it arose.

Nothing is ever changed: a correction is a new entry that names the one it replaces. What stands is read in `ferrule.record`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Literal

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.words import Region, Side

Source = Literal["page", "table", "typed", "coach", "device"]
RedFlag = Literal[
    "bone or hop",
    "night or rest",
    "cannot bear weight",
    "calf swelling",
    "numb or weak",
    "bladder or bowel",
    "chest or faint",
    "fever",
    "pop",
]


@dataclass(frozen=True, slots=True)
class PainTold:
    """Pain, as told. worst: 0-10 during; morning: 0-10 the next morning, None when not yet told. item_key "" when not at one exercise."""

    day: date
    region: Region | None
    side: Side
    worst: int | None
    morning: int | None = None
    session_key: str = ""
    item_key: str = ""
    variant_id: str = ""
    flags: tuple[RedFlag, ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True)
class SessionTold:
    """One session as told. outcome: `did` all of it, `part`, `none`. rating 0-10 of the whole session; minutes it took."""

    day: date
    session_key: str
    outcome: Literal["did", "part", "none"]
    at: time | None = None
    rating: int | None = None
    minutes: float | None = None
    why: Literal["", "time", "ill", "pain", "away", "kit", "other"] = ""
    words: str = ""
    copy_id: str = ""


@dataclass(frozen=True, slots=True)
class WeekTold:
    """The one weekly question of those who log nothing."""

    monday: date
    did: Literal["all", "some", "none"]
    felt: Literal["too easy", "right", "too hard"] | None
    pain: bool | None
    words: str = ""
    copy_id: str = ""


@dataclass(frozen=True, slots=True)
class RunTold:
    """One run: distance km, moving or whole minutes, climb m (None when not known)."""

    day: date
    distance_km: float
    minutes: float | None
    climb_m: float | None = None
    at: time | None = None
    kind: Literal["easy", "key", "long", "race", ""] = ""
    rating: int | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """Something has changed, ask me: needs no reason. answered_by "" while it waits."""

    day: date
    words: str
    answers: str = ""
    answered_by: str = ""


@dataclass(frozen=True, slots=True)
class Decided:
    """The coach's word on one line of one week: it stands over the proposal. choice: the proposal taken instead, or the text as written."""

    monday: date
    session_key: str
    item_key: str
    proposed: str
    choice: str
    by: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The entry it replaces no longer stands."""

    why: str = ""


Fact = LoggedSet | LoggedTest | TimeAway | PainTold | SessionTold | WeekTold | RunTold | Asked | Decided | TakenBack


@dataclass(frozen=True, slots=True)
class Entry:
    """A fact in its envelope.

    entry_id     UUID version 7, made where the entry arose;  replaces: the entry it corrects, "" when none
    recorded_at  by the clock of the device that made it, with its time zone (a clock may be wrong: arrival is kept by the store)
    """

    entry_id: str
    runner_id: str
    recorded_at: datetime
    source: Source
    fact: Fact
    replaces: str = ""
