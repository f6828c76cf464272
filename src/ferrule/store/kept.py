"""The rows of a record as they are kept: what an export holds. Plain text, numbers, and the bytes that were digested."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A sent week. content: JSON of the week; digest: its SHA-256."""

    copy_id: str
    runner_id: str
    monday: str
    sequence: int
    digest: str
    format: int
    content: bytes
    signed_by: str
    signed_at: str


@dataclass(frozen=True, slots=True)
class ClearanceRow:
    """A clearance."""

    runner_id: str
    reason: str
    cleared_by: str
    cleared_on: str
    recorded_at: str


@dataclass(frozen=True, slots=True)
class EntryRow:
    """An entry. content: JSON of the envelope and its fact; digest: its SHA-256."""

    entry_id: str
    runner_id: str
    kind: str
    performed_on: str
    recorded_at: str
    arrived_at: str
    source: str
    replaces: str
    format: int
    content: bytes
    digest: str


@dataclass(frozen=True, slots=True)
class ErasureRow:
    """That somebody was erased."""

    erased_by: str
    erased_at: str


@dataclass(frozen=True, slots=True)
class Kept:
    """Everything, each kind in the order it was kept."""

    weeks: tuple[WeekRow, ...] = ()
    clearances: tuple[ClearanceRow, ...] = ()
    entries: tuple[EntryRow, ...] = ()
    erasures: tuple[ErasureRow, ...] = ()

    @property
    def count(self) -> int:
        """Rows in all."""
        return len(self.weeks) + len(self.clearances) + len(self.entries) + len(self.erasures)
