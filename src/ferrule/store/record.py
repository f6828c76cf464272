"""The record: sent weeks, clearances and entries, kept. What it promises; `store.opening` gives the one kept in SQLite."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Protocol, Self

from ferrule.model.fact import Entry
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import HoldReason
from ferrule.store.kept import Kept

RECORD_FILE = "ferrule.db"
"""The file in the workspace."""


class RecordError(Exception):
    """The record cannot be opened or trusted; `finding` says what, why and what to do."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.what)
        self.finding = finding


@dataclass(frozen=True, slots=True)
class SentWeek:
    """An immutable copy of one runner's week, as signed.

    copy_id     UUID version 7; logs will refer to it
    digest      SHA-256 of the stored JSON, hexadecimal
    sequence    1 for the first copy of this runner and Monday, one more for each changed one
    signed_at   with its time zone (UTC)
    """

    copy_id: str
    digest: str
    sequence: int
    runner_id: str
    monday: date
    signed_by: str
    signed_at: datetime
    week: FittedWeek


@dataclass(frozen=True, slots=True)
class Clearance:
    """A named human cleared a runner of one reason that held sending."""

    runner_id: str
    reason: HoldReason
    cleared_by: str
    on: date


@dataclass(frozen=True, slots=True)
class Added:
    """What became of the entries handed over.

    new        kept now for the first time, those set apart included
    known      were there already, told in the same words
    findings   one for each entry that was set apart or could not be kept
    """

    new: int
    known: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Apart:
    """An entry that is kept and does not count, and why."""

    entry: Entry
    arrived_at: datetime
    finding: Finding


@dataclass(frozen=True, slots=True)
class Erased:
    """What went when a runner was erased: how many rows of each kind.

    findings   where the runner's id or name still stands in what others told or were sent
    """

    weeks: int
    clearances: int
    entries: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Erasure:
    """That somebody was erased, by whom and when. Not who."""

    erased_by: str
    at: datetime


class Record(Protocol):
    """What every record does, whatever keeps it. Facts are only ever added. `now` must have a time zone."""

    def send(self, week: FittedWeek, signed_by: str, now: datetime) -> SentWeek:
        """Keep a copy of `week` for good. When the newest copy says the same, that one is returned unchanged."""

    def send_all(self, weeks: Iterable[FittedWeek], signed_by: str, now: datetime) -> tuple[SentWeek, ...]:
        """`send` for each week, all of them or none."""

    def latest(self, runner_id: str, monday: date) -> SentWeek | None:
        """The copy with the highest sequence. Raises RecordError when it was altered."""

    def sent(self, monday: date) -> tuple[SentWeek, ...]:
        """Every copy of that week, by runner and sequence. Raises RecordError when one was altered."""

    def sent_mondays(self, runner_id: str) -> Mapping[date, int]:
        """Every Monday of which a copy was sent to this runner, in order, with its highest sequence. Reads no copy."""

    def copy(self, copy_id: str) -> SentWeek | None:
        """The copy of that id. Raises RecordError when it was altered."""

    def clear(self, runner_id: str, reason: HoldReason, cleared_by: str, on: date, now: datetime) -> Clearance:
        """Keep a clearance; the same one again changes nothing."""

    def clearances(self, runner_id: str | None = None) -> tuple[Clearance, ...]:
        """Clearances in the order they were written, of one runner or of all."""

    def add(self, entries: Iterable[Entry], now: datetime) -> Added:
        """Keep entries for good; `now` is when they arrived. A fault of the disk keeps none of them.

        The same id told in the same words again is known, whatever moment of recording it then carries. Kept and set
        apart, with a finding, so that it does not count: the same id with other words (the one recorded first counts,
        whichever arrived first), an entry that replaces one of another runner, a fact of another runner than its
        envelope's. An entry that cannot be kept at all has a finding and blocks no other.
        """

    def entries(self, runner_id: str | None = None, sets_from: date | None = None) -> tuple[Entry, ...]:
        """Entries that count, of one runner or of all, in the order they arrived; corrections are not applied.

        sets_from   leaves out sets done before that day, which are most of a long record; all else stays

        Raises RecordError when one was altered.
        """

    def known_as_of(self, moment: datetime, runner_id: str | None = None) -> tuple[Entry, ...]:
        """`entries` as it was at that moment: of those that had arrived by then. Raises RecordError."""

    def apart(self) -> tuple[Apart, ...]:
        """Entries kept apart, in the order they arrived. Raises RecordError when one was altered."""

    def runners(self) -> tuple[str, ...]:
        """Ids of all runners of whom anything is kept, sorted."""

    def erase(self, runner_id: str, erased_by: str, now: datetime, names: Iterable[str] = ()) -> Erased:
        """Remove everything kept of a runner, from the bytes of the file too, and note that an erasure happened.

        names   further names the runner is known by; those of sent weeks are known. Used only to say where they remain.
        Doing it again removes nothing and cleans the file again. Raises RecordError when the file could not be cleaned.
        """

    def erasures(self) -> tuple[Erasure, ...]:
        """Every erasure, oldest first."""

    def everything(self) -> Kept:
        """All rows as they are kept, for an export: the bytes of what was signed or told are not touched."""

    def take(self, kept: Kept) -> Added:
        """Keep rows of an export; `everything` of that record and this one are then in this one.

        Rows that are there are known. One that no longer has its digest, or that contradicts a row that is there, has a
        finding and is left out. A fault of the disk keeps none of them.
        """

    def altered(self) -> tuple[Finding, ...]:
        """A finding for each copy or entry whose content no longer has its digest or cannot be read."""

    def close(self) -> None:
        """Let go of the file."""

    def __enter__(self) -> Self: ...

    def __exit__(self, *_: object) -> None: ...
