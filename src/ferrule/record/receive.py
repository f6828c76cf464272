"""One file handed over, whatever it is: entries of the squad's runners, and everything odd in them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.squad import Squad
from ferrule.record.phone import read_phone_file, runner_of_file
from ferrule.record.phone_text import objects
from ferrule.record.questions import as_corrections, clashes, doubtful, in_place
from ferrule.record.sent import Copies, no_copies
from ferrule.record.standing import day_of
from ferrule.record.table import is_table, read_log_table
from ferrule.record.typed_file import Weeks, no_weeks, read_log_text
from ferrule.squad.place import monday_of

Kind = Literal["phone", "table", "typed"]
Known = Callable[[str, date], tuple[Entry, ...]]
"""Entries of a runner that the record has; sets done before the day may be left out."""


@dataclass(frozen=True, slots=True)
class Handed:
    """What a file is read against.

    near            the day it is;  now: the moment, with its zone
    copies, weeks   sent weeks by copy id, and by runner and day;  known: what the record has of a runner
    runner_id, day  whose and of which day typed lines without a head line are; a file of another runner is refused
    instead         typed lines and tables are the coach's word: they stand over what was told in any way
    """

    squad: Squad
    library: Library
    near: date
    now: datetime
    copies: Copies = no_copies
    weeks: Weeks = no_weeks
    known: Known = lambda _runner_id, _since: ()
    runner_id: str = ""
    day: date | None = None
    instead: bool = False


@dataclass(frozen=True, slots=True)
class Read:
    """What a file gave. corrected: entries that replace what the same way in told before."""

    kind: Kind
    entries: tuple[Entry, ...]
    findings: tuple[Finding, ...]
    corrected: int = 0


def receive(data: bytes, file: str, handed: Handed) -> Read:
    """Read a file of any kind. Never raises; nothing that was read is left out without a finding."""
    kind = kind_of(data, file)
    if kind == "phone":
        entries, findings = read_phone_file(data, file, handed.copies)
    elif kind == "table":
        entries, findings = read_log_table(
            data, file, handed.squad, handed.library, handed.weeks, near=handed.near, now=handed.now
        )
    else:
        entries, findings = read_log_text(
            data, file, handed.squad, handed.library, handed.near, handed.weeks,
            runner_id=handed.runner_id, day=handed.day, now=handed.now,
        )  # fmt: skip
    entries, refused = _of_the_squad(entries, file, handed)
    known = known_beside(entries, handed)
    corrected = 0
    if kind != "phone":
        entries, corrected = (in_place if handed.instead else as_corrections)(entries, known)
    there = {e.entry_id for e in known}
    new = tuple(e for e in entries if e.entry_id not in there)
    asked = (
        (*clashes(new, known, file, handed.library), *doubtful(new, handed.library, handed.copies, file)) if new else ()
    )
    ahead = _ahead(new, handed.near, file)
    return Read(kind, entries, in_order((*findings, *refused, *asked, *ahead)), corrected)


def known_beside(entries: tuple[Entry, ...], handed: Handed) -> tuple[Entry, ...]:
    """What the record has of the runners of `entries`, from the first of their weeks on."""
    first: dict[str, date] = {}
    for entry in entries:
        day = day_of(entry.fact)
        first[entry.runner_id] = (
            min(day, first.get(entry.runner_id, day)) if day > date.min else first.get(entry.runner_id, handed.near)
        )
    return tuple(e for runner_id, day in first.items() for e in handed.known(runner_id, monday_of(day)))


def kind_of(data: bytes, file: str) -> Kind:
    """What a file is, by what it holds; a file that begins neither as a phone's nor as a table is typed lines."""
    if objects(data, file):
        return "phone"
    name = file.lower()
    if is_table(data) or name.endswith((".csv", ".tsv")):
        return "table"
    return (
        "phone" if name.endswith(".json") or (data[:1] in (b"{", b"\x89", b"P") and b"\0" in data[:2000]) else "typed"
    )


def runner_in(data: bytes, file: str) -> str:
    """The runner a phone file says it is of; "" for other files."""
    return runner_of_file(data, file)


def _of_the_squad(entries: tuple[Entry, ...], file: str, handed: Handed) -> tuple[tuple[Entry, ...], list[Finding]]:
    """The entries of runners of the squad, and of the runner asked for when one was; the others are refused by name."""
    ids = {r.id for r in handed.squad.runners}
    names = {r.id: r.name for r in handed.squad.runners}
    findings = []
    for runner_id in dict.fromkeys(e.runner_id for e in entries):
        many = sum(e.runner_id == runner_id for e in entries)
        if runner_id not in ids:
            findings.append(
                Finding("log-runner-unknown", "error", f"This is of {runner_id!r}, who is not in the squad list.",
                        f"{many} entries were not taken; the file is as it was.",
                        "See whether it belongs to another workspace, or mend the id in the squad list.", Span(file, 1))
            )  # fmt: skip
            ids.discard(runner_id)
        elif handed.runner_id and runner_id != handed.runner_id:
            findings.append(
                Finding("log-other-runner", "error", f"This is of {runner_id} {names[runner_id]}, and {handed.runner_id} was asked for.",
                        f"{many} entries were not taken; the file is as it was.", "Leave `--runner` out, or name the right one.",
                        Span(file, 1))
            )  # fmt: skip
            ids.discard(runner_id)
    return tuple(e for e in entries if e.runner_id in ids), findings


def _ahead(entries: tuple[Entry, ...], near: date, file: str) -> list[Finding]:
    """Entries done on a day that is still to come, once a file; a time away may lie ahead."""
    days = sorted({d for e in entries if isinstance(d := getattr(e.fact, "day", None), date) and (d - near).days > 1})
    if not days:
        return []
    return [
        Finding("log-ahead", "advice", f"Something was done on {days[0]}, and today is {near}.", "It is kept as told.",
                "Ask on which day it was, and log it again when that matters.", Span(file, 1))
    ]  # fmt: skip
