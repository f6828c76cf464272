"""A table of logs from a spreadsheet (CSV) -> entries: a row a set, a row an exercise, or a row a session."""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library, Variant
from ferrule.model.fact import Entry, Fact, PainTold, SessionTold
from ferrule.model.finding import Finding, Level, Span, in_order
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import Anchor, Squad
from ferrule.programme.naming import Names, names_of
from ferrule.programme.scan import plain
from ferrule.record.content_id import entry_of
from ferrule.record.sent import SentLine
from ferrule.record.set_facts import Where, line_for, pain_told, sets_told
from ferrule.record.set_words import LineTold, read_line, read_pain
from ferrule.record.table_columns import COLUMNS, column_named
from ferrule.record.typed_file import Weeks, no_weeks, runner_names, session_named
from ferrule.squad.dates import NoDate, read_date

MOST_ROWS = 200_000
_NUMBER = re.compile(r"\d{1,5}(?:[.,]\d{1,2})?")
_OF_SETS = ("reps", "seconds", "side", "outcome", "load", "RIR", "RPE")
"""The columns that `_as_line` reads."""
_FAILED = frozenset(("yes", "y", "x", "true", "1", "failed", "fail", "f"))
_NOT_FAILED = frozenset(("", "no", "n", "false", "0", "-", "done", "ok"))


@dataclass(slots=True)
class _Row:
    """One row: its cells by column, and where it stands."""

    file: str
    line: int
    cells: dict[str, str]
    columns: dict[str, int]

    def text(self, name: str) -> str:
        return self.cells.get(name, "")

    def span(self, name: str = "") -> Span:
        return Span(self.file, self.line, self.columns.get(name, 1))


@dataclass(slots=True)
class _Reading:
    """What is known while the rows are read."""

    file: str
    names: Names
    runners: dict[str, str]
    weeks: Weeks
    near: date | None
    now: datetime | None
    counts: dict[tuple[str, date, str, str], int] = field(default_factory=lambda: defaultdict(int))
    sessions: dict[tuple[str, date, str], SessionTold] = field(default_factory=dict)
    facts: list[tuple[str, date, Fact]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    days: dict[str, date | NoDate] = field(default_factory=dict)
    named: dict[str, Variant | None] = field(default_factory=dict)
    told: dict[tuple[str, ...], tuple[LineTold, str]] = field(default_factory=dict)
    lines: dict[tuple[str, str, date, str], SentLine | None] = field(default_factory=dict)
    """Cells that stand in many rows are read once; what was read of them is not changed."""

    def say(self, code: str, level: Level, span: Span, what: str, why: str, fix: str) -> None:
        self.findings.append(Finding(code, level, what, why, fix, span))


def read_log_table(
    data: bytes,
    file: str,
    squad: Squad,
    library: Library,
    weeks: Weeks = no_weeks,
    *,
    near: date | None = None,
    now: datetime | None = None,
) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Entries of a CSV table; a fault is named with its row and its field, and the other rows are read.

    weeks   the newest sent week of a runner and day;  near: a day without a year is looked for before it
    now     when it was handed over; noon UTC of the day when left out
    Several rows of one exercise on one day are sets in the order of the file, unless a column numbers them.
    """
    reading = _Reading(file, names_of(library), runner_names(squad), weeks, near, now)
    for row in _rows(data, reading):
        _read(row, reading)
    reading.facts += [(runner_id, day, told) for (runner_id, day, _), told in reading.sessions.items()]
    entries = (
        entry_of(runner_id, fact, now or datetime.combine(day, time(12), UTC), "table")
        for runner_id, day, fact in reading.facts
    )
    once = {entry.entry_id: entry for entry in entries}
    return tuple(once.values()), in_order(reading.findings)


def is_table(data: bytes) -> bool:
    """Does this begin with a heading line that names a day and an exercise or a session?"""
    lines = _text(data[:4000]).splitlines()
    known = set(_heading(next((x for x in lines if x.strip(" ,;\t")), ""))[1].values())
    return "date" in known and bool(known & {"exercise", "rating", "session", "pain"})


def _text(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _heading(line: str) -> tuple[str, dict[int, str]]:
    """The separator under which most headings are known, and the column of each field."""
    best: tuple[str, dict[int, str]] = (",", {})
    for mark in (",", ";", "\t"):
        found: dict[int, str] = {}
        for i, heading in enumerate(next(csv.reader([line], delimiter=mark), [])):
            column = column_named(heading)
            if column is not None and column not in found.values():
                found[i] = column
        if len(found) > len(best[1]):
            best = (mark, found)
    return best


def _rows(data: bytes, reading: _Reading) -> Iterator[_Row]:
    lines = _text(data).replace("\0", "").splitlines()
    first = next((i for i, x in enumerate(lines) if x.strip(" ,;\t") and not x.lower().startswith("sep=")), len(lines))
    mark, columns = _heading(lines[first]) if first < len(lines) else (",", {})
    missing = [c for c in ("runner", "date") if c not in columns.values()]
    if missing or not set(columns.values()) & {"exercise", "rating", "minutes", "pain", "session"}:
        need = " and ".join(f"`{c}`" for c in missing) or "`exercise`"
        reading.say("log-not-read", "error", Span(reading.file, min(first, max(len(lines) - 1, 0)) + 1),
                    f"The heading line has no column {need}.", "Nothing was taken from this file.",
                    f"Columns are {', '.join(COLUMNS)}; `runner`, `date` and `exercise` are needed.")  # fmt: skip
        return
    heads = next(csv.reader([lines[first]], delimiter=mark), [])
    strange = [h.strip() for i, h in enumerate(heads) if i not in columns and h.strip()]
    if strange:
        reading.say("log-column", "note", Span(reading.file, first + 1, heads.index(strange[0]) + 1 if strange[0] in heads else 1),
                    f"Columns that are not read: {', '.join(s[:30] for s in strange[:8])}.", "Nothing was done with them.",
                    f"Columns are {', '.join(COLUMNS)}.")  # fmt: skip
    places = {name: i + 1 for i, name in columns.items()}
    for number, line in enumerate(lines[first + 1 : first + 1 + MOST_ROWS], first + 2):
        if not line.strip(' ,;\t"'):
            continue
        try:
            cells = next(csv.reader([line], delimiter=mark, strict=True), [])
        except csv.Error:
            reading.say("log-row", "error", Span(reading.file, number), "A cell of this row opens with a quote that is never closed.",
                        "The row was not taken; the others were.", "Close it with a double quote.")  # fmt: skip
            continue
        if any(c.strip() for c in cells[len(heads) :]):
            reading.say("log-row", "error", Span(reading.file, number, len(heads) + 1), "This row has more cells than the heading.",
                        "Cells may have moved, so the row was not taken.", "Put a cell that holds a comma in double quotes.")  # fmt: skip
            continue
        yield _Row(
            reading.file,
            number,
            {n: plain(cells[i]).strip() for i, n in columns.items() if i < len(cells) and cells[i]},
            places,
        )


def _read(row: _Row, reading: _Reading) -> None:
    runner_id, day = _whose(row, reading), _day(row, reading)
    if runner_id is None or day is None:
        return
    found = reading.weeks(runner_id, day)
    week, copy_id = found if found is not None else (None, "")
    session_key = ""
    if row.text("session") and week is not None:
        session = session_named(week, row.text("session"))
        session_key = session or ""
        if session is None:
            reading.say("log-session-unclear", "advice", row.span("session"), f"The week that was sent has no session `{row.text('session')[:40]}`.",
                        "The session of the day is taken.", "It has " + ", ".join(f"`{s.key}`" for s in week.sessions) + ".")  # fmt: skip
    where: Where | None = None
    if row.text("exercise"):
        variant = _variant(row.text("exercise"), reading)
        if variant is None:
            near = ", ".join(f"`{n}`" for n in reading.names.nearest(row.text("exercise")))
            reading.say("log-not-understood", "error", row.span("exercise"), f"`{row.text('exercise')[:60]}` is no exercise of the library.",
                        "The row was not taken.", f"Write {near or 'a name of the library'}.")  # fmt: skip
            return
        line = _line(week, copy_id, variant.id, day, session_key, reading) if week is not None else None
        where = Where(runner_id, day, variant, line, copy_id)
        _sets(row, where, reading)
    if not session_key and week is not None:
        session_key = (
            where.session_key if where is not None else next((s.key for s in week.sessions if s.day == day), "")
        )
    _session(row, runner_id, day, session_key, copy_id, reading)
    _pain(row, runner_id, day, session_key, where, reading)


def _whose(row: _Row, reading: _Reading) -> str | None:
    said = " ".join(row.text("runner").lower().split())
    found = reading.runners.get(said)
    if found is None:
        reading.say("log-runner-unknown", "error", row.span("runner"), f"The squad list has no runner `{row.text('runner')[:40]}`.",
                    "The row was not taken.", "Write the id of the runner, as in the squad list.")  # fmt: skip
    return found


def _day(row: _Row, reading: _Reading) -> date | None:
    said = row.text("date")
    if said not in reading.days:
        anchor = Anchor("from", reading.near, row.span("date")) if reading.near is not None else None
        reading.days[said] = read_date(re.sub(r"[ T]\d{1,2}:\d{2}.*$", "", said), anchor, "behind")
    found = reading.days[said]
    if isinstance(found, NoDate):
        reading.say(
            "log-no-day",
            "error",
            row.span("date"),
            f"`{row.text('date')[:40]}` {'may be two days' if found.code == 'ambiguous-date' else 'is no day'}. {found.why}",
            "The row was not taken.",
            found.fix,
        )
        return None
    return found


def _variant(said: str, reading: _Reading) -> Variant | None:
    if said not in reading.named:
        found = reading.names.find(said)
        reading.named[said] = None if found is None else reading.names.library.variants[found[1]]
    return reading.named[said]


def _line(
    week: FittedWeek, copy_id: str, variant_id: str, day: date, session_key: str, reading: _Reading
) -> SentLine | None:
    key = (copy_id, variant_id, day, session_key)
    if key not in reading.lines or not copy_id:
        reading.lines[key] = line_for(week, variant_id, day, session_key, frozenset())
    return reading.lines[key]


def _sets(row: _Row, where: Where, reading: _Reading) -> None:
    cells = tuple(map(row.text, _OF_SETS))
    if cells not in reading.told:
        text, column = _as_line(row)
        reading.told[cells] = read_line(text), column
    line, column = reading.told[cells]
    sets, slips = sets_told(line, where)
    for slip in (*line.slips, *slips):
        reading.findings.append(Finding(slip.code, slip.level, slip.what, slip.why, slip.fix, row.span(column)))
    if not sets:
        if not line.slips and not (row.text("rating") or row.text("pain") or row.text("minutes")):
            reading.say("log-nothing-told", "error", row.span("exercise"), f"The row tells nothing of {where.variant.name}.",
                        "The row was not taken.", "Write how many were done under `reps` or `seconds`.")  # fmt: skip
        return
    sets = tuple(_numbered(sets, row, where, reading))
    reading.facts += [(where.runner_id, where.day, one) for one in sets]
    reading.facts += [(where.runner_id, where.day, pain_told(p, where)) for p in line.pains]


def _as_line(row: _Row) -> tuple[str, str]:
    """The row in the shorthand of a typed line, and the column its amount stands in."""
    reps, seconds, side = row.text("reps"), row.text("seconds"), row.text("side").lower()
    parts, column = [], "reps" if reps else "seconds"
    if reps:
        parts.append(f"{side} {reps}" if side in ("left", "right", "l", "r") and _NUMBER.fullmatch(reps) else reps)
    elif seconds:
        amounts = re.split(r"[,;]\s*", seconds)
        parts.append(", ".join(f"{a} s" if _NUMBER.fullmatch(a) else a for a in amounts))
    outcome = row.text("outcome").lower()
    if outcome in _FAILED:
        parts.append("failed")
    elif outcome.isdigit():
        parts.append(f"failed at {outcome}" if not reps else "failed")
    elif outcome not in _NOT_FAILED:
        parts.append(outcome)
    load = row.text("load")
    if load and load not in ("-", "none", "no"):
        parts.append(f"{load} kg" if _NUMBER.fullmatch(load) else load)
    for name in ("RIR", "RPE"):
        told = row.text(name)
        if told and told != "-":
            words = bool(re.search(r"[a-z]", told, re.IGNORECASE))
            parts.append(told if words else f"{told} RIR" if name == "RIR" else f"RPE {told}")
    return _joined_failure(parts), column


def _joined_failure(parts: list[str]) -> str:
    """`8` and `failed` are one set."""
    for i in range(1, len(parts)):
        if parts[i] == "failed":
            return ", ".join([*parts[: i - 1], f"{parts[i - 1]} failed", *parts[i + 1 :]])
    return ", ".join(parts)


def _numbered(sets: tuple[LoggedSet, ...], row: _Row, where: Where, reading: _Reading) -> Iterator[LoggedSet]:
    """The sets with the number of the row, or those after the rows before."""
    said = row.text("set")
    if said.isdigit() and 0 < int(said) <= 60 and len({s.number for s in sets}) == 1:
        yield from (s if s.number == int(said) else replace(s, number=int(said)) for s in sets)
        return
    if said and not (said.isdigit() and len({s.number for s in sets}) == int(said)):
        reading.say("log-value", "advice", row.span("set"), f"`{said[:20]}` is no number of a set.",
                    "The sets were counted in the order of the file.", "Write 1 for the first set.")  # fmt: skip
    for one in sets:
        key = (where.runner_id, where.day, where.item_key or where.variant.id, one.side)
        reading.counts[key] += 1
        yield one if one.number == reading.counts[key] else replace(one, number=reading.counts[key])


def _session(row: _Row, runner_id: str, day: date, session_key: str, copy_id: str, reading: _Reading) -> None:
    """What is told of a session, gathered over its rows."""
    rating, minutes, note = _number(row, "rating", 10, reading), _number(row, "minutes", 600, reading), row.text("note")
    if rating is None and minutes is None and not note:
        return
    key = (runner_id, day, session_key)
    before = reading.sessions.get(key, SessionTold(day, session_key, "did", copy_id=copy_id))
    rated = before.rating if rating is None else round(rating)
    if before.rating not in (None, rated) or (minutes is not None and before.minutes not in (None, minutes)):
        reading.say("log-told-twice", "advice", row.span("rating" if rating is not None else "minutes"),
                    f"Another rating or other minutes were told of this session of {runner_id} above.",
                    "The last row stands.", "Rate a session in one row.")  # fmt: skip
    words = before.words if note in before.words.split("; ") else "; ".join(w for w in (before.words, note) if w)
    reading.sessions[key] = replace(
        before, rating=rated, minutes=before.minutes if minutes is None else minutes, words=words
    )


def _number(row: _Row, name: str, most: float, reading: _Reading) -> float | None:
    said = row.text(name)
    if not said or said == "-":
        return None
    if _NUMBER.fullmatch(said) and float(said.replace(",", ".")) <= most:
        return float(said.replace(",", "."))
    reading.say("log-value", "advice", row.span(name), f"`{said[:20]}` is no {name}; it goes from 0 to {most:g}.", "It was left out.",
                "Mend the cell and log the table again.")  # fmt: skip
    return None


def _pain(row: _Row, runner_id: str, day: date, session_key: str, where: Where | None, reading: _Reading) -> None:
    said = row.text("pain")
    if said.lower() in ("", "-", "no", "none", "0", "n"):
        return
    pain = read_pain(said) or read_pain(f"pain {said}")
    morning = _number(row, "morning", 10, reading)
    if pain is None:
        worst = int(said) if said.isdigit() and int(said) <= 10 else None
        told = PainTold(
            day,
            None,
            "both",
            worst,
            None if morning is None else int(morning),
            session_key,
            words="" if worst else said,
        )
    else:
        pain = pain if morning is None else replace(pain, morning=int(morning))
        told = PainTold(day, pain.region, pain.side, pain.worst, pain.morning, session_key)
    if where is not None:
        told = replace(told, item_key=where.item_key, variant_id=where.variant.id)
    reading.facts.append((runner_id, day, told))
