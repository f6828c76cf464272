"""Runs in a CSV file from a spreadsheet -> entries. Headings are read tolerantly; every fault has its line and column."""

from __future__ import annotations

import csv
import io
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Literal, get_args

from ferrule.model.fact import Entry, RunTold
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.squad import RunKind
from ferrule.notice.run_entries import run_entry
from ferrule.squad.dates import NoDate, read_date

MOST_BYTES = 5_000_000
FASTEST_MIN_KM = 2.0
"""Nobody runs a kilometre in less: two numbers of a time are then hours and minutes."""
MILE_KM, FOOT_M = 1.609344, 0.3048

Field = Literal["date", "distance", "time", "climb", "kind", "rating", "at"]
HEADINGS: Mapping[Field, tuple[str, ...]] = {
    "date": ("date", "day", "when"),
    "distance": ("distance", "dist", "length", "km", "miles", "kilometres", "kilometers", "metres"),
    "time": ("time", "duration", "moving time", "elapsed time", "minutes", "min"),
    "climb": ("climb", "ascent", "elevation gain", "elevation", "total ascent", "up", "height gain"),
    "kind": ("kind", "type", "run"),
    "rating": ("rating", "effort"),
    "at": ("at", "start", "start time"),
}
_KINDS: Mapping[str, RunKind] = {
    "easy": "easy", "key": "key", "long": "long", "race": "race", "intervals": "key", "tempo": "key", "hills": "key",
    "long run": "long", "easy run": "easy", "key run": "key", "recovery": "easy",
}  # fmt: skip
_CLOCK = re.compile(r"(?:(\d+):)?(\d+):(\d\d(?:[.,]\d+)?)")
_MOMENT = re.compile(r"\d{4}-\d\d-\d\d[T ]\d")
_WORDS = re.compile(r"(?:(\d+) ?h(?:ours?)?)? ?(?:(\d+(?:[.,]\d+)?) ?m(?:in(?:utes)?)?)? ?(?:(\d+) ?s)?")
_HEAD = re.compile(r"^(.*?)[ (\[]*\b(km|mi|miles|m|ft|min|h|kilometres|kilometers|metres)?[)\]]?$")
_TO_KM: Mapping[str, float] = {
    "km": 1, "kilometres": 1, "kilometers": 1, "m": 0.001, "metres": 0.001, "mi": MILE_KM, "miles": MILE_KM
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Column:
    """Where a field stands (from 0), and the unit its heading names."""

    index: int
    unit: str


def read_run_table(data: bytes, file: str, runner_id: str) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """The runs of a table: date and distance at least; time, climb, kind, rating and start where there are such columns.

    Distance in km unless its heading or the cell says m or miles; climb in m unless it says ft. `45:10` is minutes and
    seconds, unless that is faster than anybody runs; a bare number is minutes. A row that cannot be read is told and
    left out; the rest is read. Two rows that say the same are two runs.
    """
    if len(data) > MOST_BYTES or b"\0" in data[:4000]:
        return (), (_fault("runs-other-file", "this is not a table of runs", Span(file, 1), "Save it as CSV."),)
    text = _decoded(data)
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text)))
    first = next((i for i, row in enumerate(rows) if any(c.strip() for c in row)), None)
    if first is None:
        return (), (_fault("runs-empty", "the file is empty", Span(file, 1), "Give a table with a heading row."),)
    columns = _columns(rows[first])
    missing = [name for name in ("date", "distance") if name not in columns]
    if missing:
        what = f"no column for {' and '.join(missing)}; nothing was read"
        return (), (_fault("runs-columns", what, Span(file, first + 1), "Head two columns `date` and `distance km`."),)
    entries: list[Entry] = []
    findings: list[Finding] = []
    seen: Counter[RunTold] = Counter()
    for line, row in enumerate(rows[first + 1 :], first + 2):
        if not any(c.strip() for c in row):
            continue
        told = _run(row, columns, file, line, findings)
        if told is not None:
            seen[told] += 1
            entries.append(run_entry(runner_id, told, "table", f"{told!r} {seen[told]}"))
    return tuple(entries), in_order(findings)


def _decoded(data: bytes) -> str:
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _mark(text: str) -> str:
    head = next((line for line in text.splitlines() if line.strip()), "")
    return max(";\t,", key=head.count)


def _columns(heads: Sequence[str]) -> dict[Field, _Column]:
    out: dict[Field, _Column] = {}
    for i, head in enumerate(heads):
        key = " ".join(head.lower().replace("_", " ").split())
        found = _HEAD.match(key)
        name, unit = (found[1].strip(), found[2] or "") if found else (key, "")
        for field in get_args(Field):
            if field not in out and (key in HEADINGS[field] or name in HEADINGS[field]):
                out[field] = _Column(i, unit)
                break
    return out


def _run(
    row: Sequence[str], columns: Mapping[Field, _Column], file: str, line: int, findings: list[Finding]
) -> RunTold | None:
    """One row; None when it has no day or no distance that can be read, which is told."""

    def cell(name: Field) -> str:
        at = columns[name].index if name in columns else len(row)
        return row[at].strip() if at < len(row) else ""

    def odd(name: Field, code: str, what: str, fix: str) -> None:
        findings.append(_fault(code, what, Span(file, line, columns[name].index + 1), fix))

    written, _, clock = (
        cell("date").replace("T", " ").partition(" ") if _MOMENT.match(cell("date")) else (cell("date"), "", "")
    )
    day = read_date(written, None, "behind")
    if isinstance(day, NoDate):
        what = "may be two days" if day.code == "ambiguous-date" else "is no date"
        odd("date", f"runs-{day.code}", f'"{cell("date")[:40]}" {what}; the row was left out', day.fix)
        return None
    km = _distance_km(cell("distance"), columns["distance"].unit)
    if km is None:
        fix = 'Write kilometres: "12.4".'
        odd("distance", "runs-distance", f'"{cell("distance")[:40]}" is no distance; the row was left out', fix)
        return None
    minutes = _minutes(cell("time"), km, hours=columns["time"].unit == "h" if "time" in columns else False)
    if cell("time") and minutes is None:
        odd("time", "runs-time", f'"{cell("time")[:40]}" is no time; the run was kept without', 'Write "1:02:30".')
    climb = _climb_m(cell("climb"), columns["climb"].unit if "climb" in columns else "")
    if cell("climb") and climb is None:
        odd(
            "climb",
            "runs-climb",
            f'"{cell("climb")[:40]}" is no climb; the run was kept without',
            'Write metres: "320".',
        )
    kind = _KINDS.get(cell("kind").lower())
    rating = _rating(cell("rating"))
    if cell("rating") and rating is None:
        odd(
            "rating", "runs-rating", f'"{cell("rating")[:40]}" is no rating; the run was kept without', "Write 0 to 10."
        )
    return RunTold(day, km, minutes, climb, _at(cell("at") or clock), kind or "", rating)


def _number(text: str) -> float | None:
    """A number with a point or a comma before its decimals; a comma before three digits and a point parts thousands."""
    plain = text.replace("\u00a0", "").replace(" ", "").replace("'", "")
    if re.fullmatch(r"\d{1,3}(,\d{3})+\.\d+", plain):
        plain = plain.replace(",", "")
    try:
        value = float(plain.replace(",", "."))
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _parted(text: str) -> tuple[float | None, str]:
    """The number and the unit a cell ends with."""
    found = re.fullmatch(r"(.*?)\s*(km|mi|miles|m|ft)?", text.lower())
    return (_number(found[1]), found[2] or "") if found else (None, "")


def _distance_km(text: str, unit: str) -> float | None:
    value, own = _parted(text)
    if value is None or value <= 0:
        return None
    km = value * _TO_KM.get(own or unit or "km", 1)
    return round(km, 4) if km <= 1000 else None


def _climb_m(text: str, unit: str) -> float | None:
    value, own = _parted(text)
    if value is None or not 0 <= value <= 60_000:
        return None
    return round(value * (FOOT_M if (own or unit) == "ft" else 1), 1)


def _minutes(text: str, km: float, *, hours: bool) -> float | None:
    """Minutes; `hours`: the heading says so, of a bare number and of two numbers."""
    if found := _CLOCK.fullmatch(text):
        first, second, third = int(found[1] or 0), int(found[2]), float(found[3].replace(",", "."))
        if found[1] is None and (hours or (second + third / 60) / km < FASTEST_MIN_KM):
            first, second, third = second, int(third), 0.0
        taken = 60 * first + second + third / 60
    elif (found := _WORDS.fullmatch(text.lower())) and any(found.groups()):
        taken = 60 * int(found[1] or 0) + float((found[2] or "0").replace(",", ".")) + int(found[3] or 0) / 60
    else:
        taken = (_number(text) or 0.0) * (60 if hours else 1)
    return round(taken, 3) if 0 < taken < 7 * 24 * 60 else None


def _rating(text: str) -> int | None:
    value = _number(text)
    return int(value) if value is not None and value == int(value) and 0 <= value <= 10 else None


def _at(text: str) -> time | None:
    try:
        return time.fromisoformat(text if text[1:2] != ":" else f"0{text}").replace(tzinfo=None) if text else None
    except ValueError:
        return None


def day_words(day: date) -> str:
    """A day as the table of runs says it."""
    return f"{day:%a} {day.isoformat()}"


def _fault(code: str, what: str, span: Span, fix: str) -> Finding:
    return Finding(
        code, "error", what, "A run belongs to a day and has a distance; the rest may be missing.", fix, span
    )
