"""Single changes of the text of one line, as text: each is a whole new programme to be read again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ferrule.model.exercise import Variant
from ferrule.model.programme import Block, Dose, Item, Named
from ferrule.model.quantity import Range
from ferrule.programme.text import item_text

Kind = Literal["alternative", "effort", "range", "load", "rounds", "swap"]
KINDS: tuple[Kind, ...] = ("alternative", "effort", "range", "load", "rounds", "swap")
"""From what changes the plan least to what changes it most: the order among equals (ours)."""
_MARKED = re.compile(r"(?P<mark>\s*[-*+]\s+)")
_COUNT = re.compile(r"\b(?P<n>\d+)(?P<rest>(?:\s*(?:-|to)\s*\d+)?\s*(?:rounds?|sets?))\b")
REPS_WIDER = 2
HOLD_WIDER_S = 10


@dataclass(frozen=True, slots=True)
class Edit:
    """One change: the lines it changes (number from 1, old, new; old empty for a line put in), and the whole new text."""

    kind: Kind
    what: str
    lines: tuple[tuple[int, str, str], ...]
    text: str


def edits(text: str, item: Item, block: Block, given: Sequence[Variant]) -> Iterator[Edit]:
    """Every change of one line that is tried.

    text    the programme;  item, block: as written (not as a by-week table leaves them)
    given   what the runners who were moved do instead, those of most runners first
    """
    named = item.exercise.variant_id if isinstance(item.exercise, Named) else None
    said = {named, *(a.exercise.variant_id for a in item.alternatives if isinstance(a.exercise, Named))}
    for variant in given:
        if variant.id not in said:
            yield _alternative(text, item, variant)
    for dose, kind, what in _doses(item.dose):
        if (edit := _line(text, item, replace(item, dose=dose), kind, what)) is not None:
            yield edit
    if (fewer := _fewer(text, block)) is not None:
        yield fewer
    for variant in given:
        if variant.id != named and isinstance(item.exercise, Named):
            other = replace(item, exercise=Named(variant.name, variant.id))
            if (edit := _line(text, item, other, "swap", f"{variant.name} in its place")) is not None:
                yield _with_rows(edit, item.exercise.text, variant.name)


def _doses(dose: Dose) -> Iterator[tuple[Dose, Kind, str]]:
    if dose.rir is not None:
        yield replace(dose, rir=Range(dose.rir.low + 1, dose.rir.high + 1)), "effort", "one more in reserve"
        if dose.rir.low >= 1:
            yield replace(dose, rir=Range(dose.rir.low - 1, dose.rir.high - 1)), "effort", "one less in reserve"
    if dose.reps is not None and dose.reps_open is None:
        low, high = dose.reps.low, dose.reps.high
        if low > REPS_WIDER:
            yield replace(dose, reps=Range(low - REPS_WIDER, high)), "range", "a lower bottom of the range"
        yield replace(dose, reps=Range(low, high + REPS_WIDER)), "range", "a higher top of the range"
    if dose.hold_s is not None:
        low, high = dose.hold_s.low, dose.hold_s.high
        if low > HOLD_WIDER_S:
            yield replace(dose, hold_s=Range(low - HOLD_WIDER_S, high)), "range", "a shorter hold allowed"
    if dose.load is not None and not dose.load.none:
        yield replace(dose, load=None), "load", "no load named"
    if dose.sets is not None and dose.sets.low > 1:
        yield replace(dose, sets=Range(dose.sets.low - 1, dose.sets.high - 1)), "rounds", "one set less"


def _line(text: str, item: Item, new: Item, kind: Kind, what: str) -> Edit | None:
    """The text with the item's line written anew; None where it is no line of its own or stays the same."""
    rows = text.split("\n")
    at = item.span.line - 1
    mark = _MARKED.match(rows[at]) if 0 <= at < len(rows) else None
    if mark is None:
        return None
    old, rows[at] = rows[at], mark["mark"] + item_text(new)
    if rows[at] == old:
        return None
    return Edit(kind, what, ((at + 1, old.strip(), rows[at].strip()),), "\n".join(rows))


def _alternative(text: str, item: Item, variant: Variant) -> Edit:
    """The text with one more `- or` under the item, after what stands under it already."""
    rows = text.split("\n")
    at = item.span.line
    while at < len(rows) and rows[at].strip() and rows[at][0] in " \t":
        at += 1
    lead = rows[item.span.line - 1]
    indent = " " * (len(lead) - len(lead.lstrip()) + 2)
    line = f"{indent}- or {variant.name}"
    return Edit(
        "alternative", f"or {variant.name}", ((at + 1, "", line.strip()),), "\n".join([*rows[:at], line, *rows[at:]])
    )


def _fewer(text: str, block: Block) -> Edit | None:
    """The text with one round or set less in the head of the block."""
    if block.sets is None or block.sets.low < 2:
        return None
    rows = text.split("\n")
    at = block.span.line - 1
    found = _COUNT.search(rows[at]) if 0 <= at < len(rows) else None
    if found is None:
        return None
    less = re.sub(r"\d+", lambda m: str(int(m[0]) - 1), found[0])
    old = rows[at]
    rows[at] = old[: found.start()] + less + old[found.end() :]
    what = "one set less" if block.kind == "straight" else "one round less"
    return Edit("rounds", what, ((at + 1, old.strip(), rows[at].strip()),), "\n".join(rows))


def _with_rows(edit: Edit, old: str, new: str) -> Edit:
    """By-week rows that name the line go with it: those of the table below it, up to the next head."""
    rows = edit.text.split("\n")
    changed = list(edit.lines)
    at = edit.lines[0][0]
    table = False
    while at < len(rows) and not rows[at].startswith("#"):
        row = rows[at]
        if row.startswith("|"):
            table = True
            cell = row[1:].split("|")[0]
            name, colon, rest = cell.partition(":")
            if colon and name.strip().lower() == old.strip().lower():
                rows[at] = f"| {new}:{rest}" + row[1 + len(cell) :]
                changed.append((at + 1, row, rows[at]))
        elif table:
            break
        at += 1
    return replace(edit, lines=tuple(changed), text="\n".join(rows))
