"""Values that a line gives week by week (`15RM week 1, 12RM weeks 2-3`): told once, with the by-week table they make."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ferrule.model.programme import Dose
from ferrule.programme.amounts import Slip
from ferrule.programme.fields import FieldReader
from ferrule.programme.text import dose_text

_WEEKS = r"(?:weeks?|wks?|w)\s*(\d{1,3})(?:\s*(?:-|to)\s*(\d{1,3}))?\b"
_AFTER = re.compile(
    rf"(?P<value>[^,;|]*?\d[^,;|]*?)[\s(]*(?:\b(?:in|for|from|during|on)\s+)?\b{_WEEKS}\)?", re.IGNORECASE
)
_BEFORE = re.compile(
    rf"\b{_WEEKS}\s*[:=-]?\s*(?P<value>[^,;|]*?\d[^,;|]*?)(?=\s*(?:[,;|]|$|\b(?:weeks?|wks?|w)\s*\d))", re.IGNORECASE
)
_ROWS = {
    "sets": "sets", "reps": "reps", "hold_s": "hold", "work_s": "work", "distance_m": "distance", "load": "load", "rir": "RIR",
    "rm": "RM", "percent": "percent", "tempo": "tempo", "rest_s": "rest", "contacts": "contacts",
}  # fmt: skip


@dataclass(slots=True)
class _Clause:
    start: int
    end: int
    weeks: str
    text: str
    dose: Dose
    value_start: int
    value_end: int


def values_by_week(text: str, start: int, name: str) -> FieldReader | None:
    """The fields from `start` on, read with the values of the first weeks; None when the line gives none by week.

    The reader's one slip, values-by-week, shows the table the line stands for.
    """
    if len(re.findall(_WEEKS, text[start:], re.IGNORECASE)) < 2:
        return None
    first = re.match(r"[\s,:;-]*" + _WEEKS, text[start:], re.IGNORECASE)
    found = [_clause(m) for m in (_BEFORE if first else _AFTER).finditer(text, start)]
    if len(found) < 2:
        return None
    kept = list(text)
    for place, clause in enumerate(found):
        for at in range(clause.start, clause.end):
            if place or not clause.value_start <= at < clause.value_end:
                kept[at] = " "
    reader = FieldReader("".join(kept)).read(start)
    low, high = found[0].start, found[-1].end
    low += len(text[low:high]) - len(text[low:high].lstrip(" ,;"))
    reader.unread = [(a, b) for a, b in reader.unread if b <= low or a >= high]
    reader.weeks = None
    reader.slips = [s for s in reader.slips if s.end <= low or s.start >= high]
    reader.slips.append(
        Slip(
            "values-by-week", "error", low, high, f"`{name}` gives a value for each of {len(found)} stretches of weeks.",
            "A line holds one value, that of the first weeks was kept; what changes by the week stands in a by-week table.",
            f"Write the first value in the line, and below the list of the block: {_table(found, name)}.",
        )
    )  # fmt: skip
    return reader


def _clause(found: re.Match[str]) -> _Clause:
    weeks = "-".join(g for g in found.groups() if g and g.isdigit() and g is not found["value"])
    text = found["value"].strip(" ,:()")
    reader = FieldReader(text).read()
    return _Clause(found.start(), found.end(), weeks, text, reader.dose(), *found.span("value"))


def _table(clauses: list[_Clause], name: str) -> str:
    rows = [f"`| week | {' | '.join(c.weeks for c in clauses)} |`"]
    for field, label in _ROWS.items():
        values = [getattr(c.dose, field) for c in clauses]
        if all(v is None for v in values) or len({str(v) for v in values}) == 1:
            continue
        cells = ["" if v is None else _cell(field, c.dose) for v, c in zip(values, clauses, strict=True)]
        rows.append(f"`| {name}: {label} | {' | '.join(cells)} |`")
    if len(rows) == 1:
        rows.append(f"`| {name}: reps | {' | '.join(c.text for c in clauses)} |`")
    return ", `|---|`, ".join(rows[:1]) + "".join(f", {r}" for r in ["`|---|`", *rows[1:]])


def _cell(field: str, dose: Dose) -> str:
    only = replace(Dose(), **{field: getattr(dose, field)})
    if field == "reps":
        only = replace(only, sides=dose.sides, reps_open=dose.reps_open)
    text = dose_text(only)
    return text.removesuffix(" sets").removesuffix(" set") if field == "sets" else text.removesuffix("RM")
