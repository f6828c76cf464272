"""The by-week table of a block: which field of what changes in which week."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from ferrule.model.finding import Span
from ferrule.model.programme import Dose, Item, Named, Slot, WeekCell, WeekRow, WeekTable
from ferrule.programme.amounts import Amounts, tell
from ferrule.programme.fields import FieldReader
from ferrule.programme.markdown import Line, Table
from ferrule.programme.naming import Names, fold, read_slot
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain
from ferrule.programme.text import GROUPS, name_text
from ferrule.programme.traps import cells, rule

BLOCK_FIELDS = {
    "rounds": "sets",
    "round": "sets",
    "sets": "sets",
    "set": "sets",
    "rest": "rest_s",
    "between": "between_s",
    "minutes": "minutes",
    "min": "minutes",
    "on": "on_s",
    "off": "off_s",
    "exercises": "exercises",
}
ITEM_FIELDS: dict[str, tuple[str, str]] = {
    "reps": ("reps", "amount"), "rep": ("reps", "amount"), "hold": ("hold_s", "amount"), "time": ("hold_s", "amount"),
    "work": ("work_s", "amount"), "distance": ("distance_m", "amount"), "contacts": ("contacts", "amount"),
    "sets": ("sets", "sets"), "load": ("load", "load"), "weight": ("load", "load"), "kg": ("load", "load"),
    "rir": ("rir", "effort"), "rpe": ("rpe", "effort"), "rm": ("rm", "rm"), "percent": ("percent", "percent"),
    "%": ("percent", "percent"), "tempo": ("tempo", "tempo"), "pause": ("pause_s", "pause"), "rest": ("rest_s", "rest"),
    "side rest": ("side_rest_s", "side rest"), "drop": ("drop", "drop"), "dose": ("reps", ""),
    "height": ("height_cm", "height"), "inertia": ("inertia_kg_m2", "inertia"), "loads": ("loads", "loads"),
    "intensity": ("intensity", "intensity"),
}  # fmt: skip
"""Field word of a row -> (what a number alone means, group of Dose it may change; empty for any)."""
EVERY_ITEM = ("all", "each", "every exercise", "all exercises", "every item")
"""Before the colon of a row: the field of every item of the block."""
CANONICAL = {"min": "minutes", "rep": "reps", "time": "hold", "weight": "load", "kg": "load", "rir": "RIR", "rpe": "RPE", "rm": "RM", "%": "percent",
              "round": "rounds", "set": "sets"}  # fmt: skip
_WEEK_HEAD = re.compile(r"(?:weeks?|wks?)\.?$", re.IGNORECASE)
_COLUMN = re.compile(r"(?:weeks?|wks?|w)?\s*(\d{1,4})(?:\s*(?:-|to)\s*(\d{1,4}))?$", re.IGNORECASE)


EVERY = Item("*", Named("all", None), Dose(), Span("", 0))
"""Stands for every item of the block: the item of a row `all: field`."""


@dataclass(slots=True)
class ReadTable:
    """A table as read: the value, and its canonical lines."""

    table: WeekTable
    text: list[str]


@dataclass(slots=True)
class _Row:
    label: str
    written: list[str]
    cells: list[WeekCell | None] = field(default_factory=list)


def is_by_week(table: Table) -> bool:
    """Does the first cell of the table say `week`?"""
    head = cells(plain(table.lines[0].text))
    return bool(head) and bool(_WEEK_HEAD.match(head[0][0].strip("*_ ")))


def read_table(
    table: Table, items: tuple[Item, ...], block_word: str, weeks: tuple[int, int], names: Names, report: Report
) -> ReadTable | None:
    """The table as a by-week table of a block; None when its head names no week.

    Findings: week-column-not-read, week-not-in-cycle, week-twice, row-width, row-not-read, row-item-unknown,
    row-item-unclear, cell-not-read.
    """
    head = cells(plain(table.lines[0].text))
    columns = _columns(head, table.lines[0], weeks, report)
    numbers = [w for column in columns for w in column]
    if not numbers:
        return None
    rows: list[WeekRow] = []
    written = [["week", *(str(w) for w in numbers)]]
    for line in table.lines[2:]:
        row_cells = cells(plain(line.text))
        if not row_cells:
            continue
        if len(row_cells) != len(head):
            report.add(
                "row-width", "error" if len(row_cells) > len(head) else "advice", line.number, line.column, line.column + len(line.text),
                f"The row has {len(row_cells)} columns, the first row has {len(head)}.",
                "Each week needs its own column; " + ("what is too much was left out." if len(row_cells) > len(head) else "weeks without a cell stay as in the line above."),
                "Give the row one cell for each week; leave a cell empty for a week that stays as it is.",
            )  # fmt: skip
        row, shown = _row(row_cells, columns, line, items, block_word, names, report)
        written.append(shown)
        if row is not None:
            rows.append(row)
    first = table.lines[0]
    span = report.span(first.number, first.column, first.column + len(first.text))
    return ReadTable(WeekTable(tuple(numbers), tuple(rows), span), table_text(written))


def _columns(head: list[tuple[str, int]], line: Line, weeks: tuple[int, int], report: Report) -> list[list[int]]:
    columns: list[list[int]] = []
    seen: set[int] = set()
    for text, start in head[1:]:
        found = _COLUMN.match(text.strip("*_ "))
        low = int(found.group(1)) if found else 0
        high = int(found.group(2) or low) if found else 0
        place = (line.number, line.column + start, line.column + start + max(1, len(text)))
        if not found or low > high or high - low > 60:
            report.add(
                "week-column-not-read", "error", *place, f"`{short(text)}` is not a week number.",
                "The first row of a by-week table names the weeks; this column was left out.", "Write the number of the week.",
            )  # fmt: skip
            columns.append([])
            continue
        inside = [w for w in range(low, high + 1) if weeks[0] <= w <= weeks[1]]
        if len(inside) < high - low + 1:
            meant = weeks[0] + low - 1
            hint = (
                f"Write `{meant}`: weeks are counted through the whole programme."
                if low <= weeks[1] - weeks[0] + 1
                else "Leave the column out, or change the weeks of the cycle."
            )
            report.add(
                "week-not-in-cycle", "error", *place,
                f"Week {short(text)} is not in this cycle (weeks {weeks[0]}-{weeks[1]}).",
                "What stands in this column is never done.", hint,
            )  # fmt: skip
        twice = [w for w in inside if w in seen]
        if twice:
            report.add(
                "week-twice", "error", *place, f"Week {twice[0]} has two columns.", "The first one was kept.", "Leave one of them out.",
            )  # fmt: skip
        columns.append([w for w in range(low, high + 1) if w not in seen])
        seen.update(range(low, high + 1))
    return columns


def _row(
    row: list[tuple[str, int]],
    columns: list[list[int]],
    line: Line,
    items: tuple[Item, ...],
    block_word: str,
    names: Names,
    report: Report,
) -> tuple[WeekRow | None, list[str]]:
    label, start = row[0]
    label = label.strip("*_` ")
    target = _target(label, items, names)
    values = [*row[1:], *[("", len(line.text))] * (len(columns) + 1 - len(row))]
    shown = [label]
    for k, (text, _) in enumerate(values):
        shown += [text] * (len(columns[k]) if k < len(columns) else 1)
    if isinstance(target, str):
        code, _, rest = target.partition("|")
        what, _, fix = rest.partition("|")
        report.add(
            code, "error", line.number, line.column + start, line.column + start + max(1, len(label)), what,
            "A row must match the block or exactly one of its items; this one was left out.", fix,
        )  # fmt: skip
        return None, shown
    key, word, item = target
    found: list[WeekCell | None] = []
    canonical = [_label(word, item, block_word)]
    for k, weeks_of_column in enumerate(columns):
        text, place = values[k]
        spot = Line(text, line.number, line.column + place)
        cell = _cell(spot, word, item, report)
        found += [cell] * len(weeks_of_column)
        canonical += [text] * len(weeks_of_column)
    canonical += [text for text, _ in values[len(columns) :]]
    canonical = [c if n == 0 else _canonical_cell(c) for n, c in enumerate(canonical)]
    span = report.span(line.number, line.column + start, line.column + start + len(label))
    return WeekRow(_field_word(word, block_word if item is None else ""), key, tuple(found), span), canonical


def _canonical_cell(text: str) -> str:
    return " ".join(text.split())


def _field_word(word: str, block_word: str) -> str:
    if block_word and word in ("rounds", "round", "sets", "set"):
        return block_word
    return CANONICAL.get(word, word)


def _label(word: str, item: Item | None, block_word: str) -> str:
    if item is EVERY:
        return f"all: {_field_word(word, '')}"
    if item is None:
        return _field_word(word, block_word)
    if word == "dose":
        return name_text(item.exercise)
    return f"{name_text(item.exercise)}: {_field_word(word, '')}"


def _target(label: str, items: tuple[Item, ...], names: Names) -> tuple[str | None, str, Item | None] | str:
    """(item key or None, field word, item), or a fault `code|what|fix`."""
    low = " ".join(label.lower().split())
    if low in BLOCK_FIELDS:
        return None, low, None
    name, colon, word = label.rpartition(":")
    word = " ".join(word.lower().split())
    if colon and " ".join(name.lower().split()) in EVERY_ITEM and not _matching(name, items, names):
        if word not in ITEM_FIELDS:
            return _no_field(label)
        return (
            (EVERY.key, word, EVERY)
            if items
            else f"row-item-unknown|`{short(name)}` has no items.|Write the list first."
        )
    if not colon or (word not in ITEM_FIELDS and _matching(label, items, names)):
        name, word = label, "dose"
    if word not in ITEM_FIELDS:
        return _no_field(label)
    if not colon and low in ITEM_FIELDS and len(items) == 1:
        return items[0].key, low, items[0]
    found = _matching(name, items, names)
    shown = ", ".join(f"`{name_text(i.exercise)}`" for i in items[:6]) or "none"
    if not found:
        if not colon and low in ITEM_FIELDS:
            field_word = _field_word(low, "")
            fix = f"Write `item: {field_word}`, or `all: {field_word}` for every one; items of this block: {shown}."
            return f"row-item-unclear|`{short(label)}` does not say of which item.|{fix}"
        return f"row-item-unknown|`{short(name)}` is not an item of this block.|Items of this block: {shown}."
    if len(found) > 1:
        return f"row-item-unclear|`{short(name)}` is more than one item of this block.|Give each item its own name, or part the block."
    return found[0].key, word, found[0]


def _no_field(label: str) -> str:
    known = "reps, hold, load, RIR, RPE, RM, percent, tempo, pause, rest, side rest, sets, distance, contacts, work, height, inertia, loads, intensity"
    return f"row-not-read|`{short(label)}` does not end in a field that is known.|Fields of an item: {known}."


def _matching(name: str, items: tuple[Item, ...], names: Names) -> list[Item]:
    """The items a row names; alternatives only where no item of that name stands above them."""
    return _named(name, items, names) or _named(name, tuple(a for i in items for a in i.alternatives), names)


def _named(name: str, every: tuple[Item, ...], names: Names) -> list[Item]:
    key = fold(name)
    exact = [i for i in every if fold(name_text(i.exercise)) == key]
    if exact:
        return exact
    known = names.find(name.strip())
    if known:
        same = [i for i in every if isinstance(i.exercise, Named) and i.exercise.variant_id == known[1]]
        if same:
            return same
    slot = read_slot(name)
    if slot is not None:
        return [
            i
            for i in every
            if isinstance(i.exercise, Slot)
            and i.exercise.pattern == slot.pattern
            and (slot.legs is None or slot.legs == i.exercise.legs)
        ]
    return []


def _cell(spot: Line, word: str, item: Item | None, report: Report) -> WeekCell | None:
    text = spot.text
    if not text:
        return None
    span = report.span(spot.number, spot.column, spot.column + len(text))
    if text in ("-", "--"):
        return WeekCell(text, span, leaves_out=True)
    cell = _block_cell(spot, BLOCK_FIELDS[word], report) if item is None else _item_cell(spot, word, report)
    if cell is None:
        report.add(
            "cell-not-read", "error", spot.number, spot.column, spot.column + len(text),
            f"`{short(text)}` was not understood as {_field_word(word, '')}.", "That week stays as in the line above.",
            "Write a value of this field, leave the cell empty, or write `-` to leave the line out in that week.",
        )  # fmt: skip
    return cell


def _block_cell(spot: Line, name: str, report: Report) -> WeekCell | None:
    reader = Amounts(spot.text)
    reader.load()
    span = report.span(spot.number, spot.column, spot.column + len(spot.text))
    counted = {
        "sets": ("rounds", "round", "sets", "set"),
        "minutes": ("min", "minutes"),
        "exercises": ("exercises", "exercise"),
    }
    if name in counted:
        amount = reader.numbers(0)
        if amount is None:
            return None
        end = amount[2] + (reader.low(amount[2]) in counted[name])
        if end != len(reader.tokens) or amount[0] < 1 or not (amount[0].is_integer() and amount[1].is_integer()):
            return None
        value = reader.range_of(amount[0], amount[1], 0, end)
        if name == "minutes" and not value.single:
            return None
        tell(reader.slips, spot, report)
        if name == "sets":
            return WeekCell(spot.text, span, sets=value)
        if name == "minutes":
            return WeekCell(spot.text, span, minutes=int(value.low))
        return WeekCell(spot.text, span, exercises=value)
    timed = reader.time(0, bare="rest" if name == "rest_s" else "time")
    if timed is None or timed[1] != len(reader.tokens):
        return None
    tell(reader.slips, spot, report)
    if name == "rest_s":
        return WeekCell(spot.text, span, rest_s=timed[0])
    if name == "between_s":
        return WeekCell(spot.text, span, between_s=timed[0])
    return WeekCell(spot.text, span, on_s=timed[0]) if name == "on_s" else WeekCell(spot.text, span, off_s=timed[0])


def _item_cell(spot: Line, word: str, report: Report) -> WeekCell | None:
    bare, group = ITEM_FIELDS[word]
    text = spot.text
    if bare == "percent" and text.replace("-", "").replace(" ", "").isdigit():
        text += " % 1RM"
    if bare == "drop" and text.isdigit():
        text = f"drop {text}"
    if bare == "loads" and not text.lower().startswith("loads"):
        text = f"loads {text}"
    if bare == "height_cm" and text.replace("-", "").isdigit():
        text += " cm"
    reader = FieldReader(text, bare=bare).read()
    if reader.unread or not reader.values:
        return None
    allowed = set(GROUPS[group]) if group else None
    if allowed is not None and not set(reader.values) <= allowed:
        return None
    tell(reader.slips, spot, report)
    if any(s.level == "error" for s in reader.slips) and not reader.values:
        return None
    dose: Dose = reader.dose()
    return WeekCell(spot.text, report.span(spot.number, spot.column, spot.column + len(spot.text)), dose=dose)


def table_text(rows: list[list[str]]) -> list[str]:
    """Rows as aligned table lines with the rule under the first."""
    width = max(len(r) for r in rows)
    full = [[*r, *[""] * (len(rows[0]) - len(r))] for r in rows]
    widths = [max([3, *(len(r[k]) for r in full if k < len(r))]) for k in range(width)]
    lines = ["| " + " | ".join(c.ljust(widths[k]) for k, c in enumerate(r)) + " |" for r in full]
    bars = "|" + "|".join("-" * (w + 2) for w in widths[: len(rows[0])]) + "|"
    return [lines[0], bars if len(rows[0]) > 1 else rule(1), *lines[1:]]
