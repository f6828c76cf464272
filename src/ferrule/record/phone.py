"""The file a phone gives back -> entries. The form is docs/log.md; what is odd is named, and what is whole is taken."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from uuid import NAMESPACE_OID, UUID, uuid5

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.model.finding import Finding, Level, Span, in_order
from ferrule.model.fitted import FittedWeek
from ferrule.record.fields import Fields, Unread, shown
from ferrule.record.phone_facts import Told, fact_of
from ferrule.record.phone_text import RawEntry, RawFile, objects
from ferrule.record.sent import Copies, believed, day_instead, line_of, no_copies
from ferrule.record.standing import once

VERSION = 1
_ENVELOPE = frozenset(("id", "at", "replaces", "kind", "day", "copy", "time"))
_HEAD = frozenset(("ferrule", "copy", "runner", "made", "entries", "end"))
FIRST_YEAR, LAST_YEAR = 2000, 2100


@dataclass(slots=True)
class _Odd:
    """What is told once a file, however often it came: days that cannot be, keys that are not known, lines not sent."""

    days: dict[tuple[date, str], tuple[Span, int]] = field(default_factory=dict)
    keys: dict[str, Span] = field(default_factory=dict)
    lines: dict[str, Span] = field(default_factory=dict)


def read_phone_file(data: bytes, file: str, sent: Copies = no_copies) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Entries of a phone file, each id once, in the order of the file; and what is odd in it.

    sent   the week of a copy id: fills in what the file leaves to its line, and tells whose copy it is
    """
    found = objects(data, file)
    if not found:
        return (), (_nothing(data, file),)
    findings: list[Finding] = []
    entries: list[Entry] = []
    for raw in found:
        entries += _object(raw, sent, findings)
    kept = once(entries)
    return kept, in_order([*findings, *_two_contents(entries, file)])


def runner_of_file(data: bytes, file: str) -> str:
    """The runner a phone file says it is of; "" when it says none, or is no phone file."""
    return next((str(raw.head.get("runner", "")) for raw in objects(data, file)), "")


def _object(raw: RawFile, sent: Copies, findings: list[Finding]) -> list[Entry]:
    head = Fields(raw.head, raw.span, findings)
    version, runner_id, copy_id = raw.head.get("ferrule"), head.text("runner"), head.text("copy")
    if version != VERSION and raw.head:
        findings.append(_version(raw.span, version))
        return []
    if not runner_id:
        findings.append(_no_runner(raw))
        return []
    week = sent(copy_id) if copy_id else None
    if week is not None and week.runner_id != runner_id:
        findings.append(_other_runner(raw.span, runner_id, week))
        return []
    if copy_id and week is None:
        findings.append(_copy_unknown(raw.span, copy_id))
    odd = _Odd(keys={k: raw.span for k in raw.head if k not in _HEAD})
    made = head.moment("made")
    entries = [
        e for one in raw.entries if (e := _entry(one, runner_id, copy_id, made, sent, findings, odd)) is not None
    ]
    findings += _cut_off(raw, len(raw.entries))
    findings += _oddities(odd, week)
    return entries


def _entry(
    raw: RawEntry, runner_id: str, copy_id: str, made: datetime | None, sent: Copies, findings: list[Finding], odd: _Odd
) -> Entry | None:
    if not isinstance(raw.value, dict):
        findings.append(_unread(raw.span, "it is no object"))
        return None
    fields = Fields(raw.value, raw.span, findings)
    kind, own_copy = fields.text("kind"), fields.text("copy") or copy_id
    week = sent(own_copy) if own_copy else None
    if week is not None and week.runner_id != runner_id:
        findings.append(_other_runner(raw.span, runner_id, week))
        return None
    at = fields.moment("at") or made or datetime(1970, 1, 1, tzinfo=UTC)
    told = Told(_id(fields), runner_id, at, fields.day("day") or at.date(), own_copy, week)
    try:
        fact = fact_of(kind, fields, told)
    except Unread as why:
        findings.append(_unread(raw.span, str(why)))
        return None
    kept = _day_mended(fact, raw.span, week, odd)
    if kept is None:
        findings.append(_unread(raw.span, f"its day is {_day(fact)}, and no sent week says which day it was"))
        return None
    if isinstance(kept, LoggedSet) and week is not None and line_of(week, kept.session_key, kept.item_key) is None:
        odd.lines.setdefault(f"{kept.session_key} {kept.item_key}".strip(), raw.span)
    fields.used |= _ENVELOPE
    for key in fields.unknown():
        odd.keys.setdefault(key, raw.span)
    return Entry(told.entry_id, runner_id, at, "page", kept, _uuid(fields.text("replaces")))


def _id(fields: Fields) -> str:
    """The id of an entry; one that is none is made from what the entry says, so that it is the same the next time."""
    told = fields.text("id")
    found = _uuid(told)
    if found != told.lower() or not found:
        fields.wrong("id", told, "a UUID; one was made from what the entry says")
    return found or str(uuid5(NAMESPACE_OID, json.dumps(fields.raw, sort_keys=True, default=str)))


def _uuid(text: str) -> str:
    try:
        return str(UUID(text)) if text else ""
    except ValueError:
        return ""


def _day(fact: Fact) -> date | None:
    return fact.day if isinstance(fact, (LoggedSet, LoggedTest, PainTold, SessionTold, RunTold, Asked)) else None


def _day_mended(fact: Fact, span: Span, week: FittedWeek | None, odd: _Odd) -> Fact | None:
    """The fact with a day that can be; None when it cannot be known. A pain or a question is kept whatever its day."""
    if isinstance(fact, (TakenBack, TimeAway, WeekTold, Decided)):
        return fact
    day = fact.day
    session = fact.session_key if isinstance(fact, (LoggedSet, SessionTold)) else ""
    if week is None:
        if FIRST_YEAR <= day.year <= LAST_YEAR:
            return fact
        if isinstance(fact, (PainTold, Asked)):
            _count(odd, day, day, span)
            return fact
        return None
    if believed(week, day, session=bool(session)):
        return fact
    told = fact.session_key if isinstance(fact, (LoggedSet, SessionTold, PainTold)) else ""
    instead = day_instead(week, told)
    _count(odd, day, instead, span)
    if isinstance(fact, (LoggedSet, SessionTold, RunTold)):
        return replace(fact, day=instead, at=None)
    return replace(fact, day=instead)


def _count(odd: _Odd, day: date, instead: date, span: Span) -> None:
    key = (day, "" if instead == day else instead.isoformat())
    first, many = odd.days.get(key, (span, 0))
    odd.days[key] = (first, many + 1)


def _nothing(data: bytes, file: str) -> Finding:
    said = "The file is empty." if not data.strip() else "Nothing in this file is a log of a phone page."
    return Finding(
        "log-not-read", "error", said, "Nothing was taken from it.",
        "Ask the runner to hand it over again from the page; docs/log.md says what the file looks like.", Span(file, 1),
    )  # fmt: skip


def _version(span: Span, version: object) -> Finding:
    return Finding(
        "log-version", "error", f"This file has the form {shown(version)}; form {VERSION} can be read.",
        "Nothing was taken from it.", "Use a newer Ferrule, or ask for the page of the week to be sent again.", span,
    )  # fmt: skip


def _no_runner(raw: RawFile) -> Finding:
    return Finding(
        "log-cut-off" if not raw.head else "log-no-runner", "error", "This file does not say whose it is.",
        "Nothing was taken from it.", "Ask the runner to hand it over again from the page.", raw.span,
    )  # fmt: skip


def _other_runner(span: Span, runner_id: str, week: FittedWeek) -> Finding:
    return Finding(
        "log-other-runner", "error",
        f"This says it is of {runner_id}, and its week was sent to {week.runner_id} {week.runner_name}.",
        "What one runner did would be counted for another; nothing of it was taken, and the file is as it was.",
        f"Ask both runners which page was used; {week.runner_id} can be logged in typed lines.", span,
    )  # fmt: skip


def _copy_unknown(span: Span, copy_id: str) -> Finding:
    return Finding(
        "log-copy-unknown", "advice", f"The record holds no sent week {shown(copy_id)}.",
        "Lines are taken as the file tells them; what it leaves to the sent week is not known.",
        "Log into the workspace the week was signed in.", span,
    )  # fmt: skip


def _unread(span: Span, why: str) -> Finding:
    return Finding(
        "log-entry-unread", "error", f"This entry was not taken: {why}.", "The others were.",
        "Ask the runner what it was, and log it in a typed line.", span,
    )  # fmt: skip


def _cut_off(raw: RawFile, many: int) -> list[Finding]:
    """What is missing of the object: damaged entries, its end, or entries it says it has."""
    level: Level = "error"
    taken = f"{many} whole {'entry was' if many == 1 else 'entries were'} read"
    if raw.damaged or not raw.whole:
        what = "An entry is damaged or cut off here" if raw.damaged else "The file is cut off: its end is not there"
        return [
            Finding(
                "log-cut-off", level, f"{what}; {taken}.", "What stood here, or after it, is not known.",
                "Ask the runner to hand it over again; nothing will be doubled.", raw.damaged[0] if raw.damaged else raw.span,
                related=tuple(raw.damaged[1:4]),
            )
        ]  # fmt: skip
    said = raw.head.get("end")
    if said is None or said == many:
        return [] if said is not None else [
            Finding("log-cut-off", level, f"The file does not say how many entries it has; {taken}.",
                    "It may have been cut off.", "Ask the runner to hand it over again; nothing will be doubled.", raw.span)
        ]  # fmt: skip
    return [
        Finding(
            "log-cut-off", level, f"The file says it has {shown(said)} entries; {taken}.", "Some may be lost.",
            "Ask the runner to hand it over again; nothing will be doubled.", raw.span,
        )
    ]  # fmt: skip


def _oddities(odd: _Odd, week: FittedWeek | None) -> list[Finding]:
    out = []
    for (day, instead), (span, many) in sorted(odd.days.items()):
        entries = "1 entry says" if many == 1 else f"{many} entries say"
        of = "" if week is None else f"; the week was sent for {week.monday}"
        out.append(
            Finding(
                "log-clock", "advice", f"{entries} {day}{of}. The clock of the phone may be wrong.",
                f"The day {instead} was taken instead." if instead else "Taken as told: nothing says which day it was.",
                "Ask the runner on which day it was when that matters.", span,
            )
        )  # fmt: skip
    out += [
        Finding("log-line-unknown", "advice", f"The sent week has no line {shown(key)}.",
                "It was taken as the file tells it.", "See whether the page was of another week.", span)
        for key, span in odd.lines.items()
    ]  # fmt: skip
    if odd.keys:
        names = ", ".join(f"`{shown(k)[1:-1]}`" for k in sorted(odd.keys)[:8])
        out.append(
            Finding(
                "log-key-unknown", "note", f"Keys that are not known: {names}.", "Nothing was done with them.",
                "A newer Ferrule may know them.", min(odd.keys.values()),
            )
        )  # fmt: skip
    return out


def _two_contents(entries: Iterable[Entry], file: str) -> list[Finding]:
    """An id that stands for two different things: an entry was changed where a new one should have been made."""
    contents = Counter(e.entry_id for e in set(entries))
    return [
        Finding("log-id-twice", "advice", f"Entry {entry_id} says two different things in this file.",
                "The one recorded first was taken.", "Ask the runner which is right.", Span(file, 1))
        for entry_id, many in contents.items() if many > 1
    ]  # fmt: skip
