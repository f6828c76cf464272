"""The by-week table: its weeks, the names of its rows, and a cell that leaves out."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.model.finding import Span
from ferrule.model.programme import Dose, Item, Named
from ferrule.programme.by_week import BLOCK_FIELDS, ITEM_FIELDS, read_table
from ferrule.programme.cursor import Cursor, Written
from ferrule.programme.fields import FieldReader
from ferrule.programme.line_offers import weeks_around
from ferrule.programme.markdown import Line, Table
from ferrule.programme.naming import Names
from ferrule.programme.offer import Choice
from ferrule.programme.report import Report
from ferrule.programme.text import GROUPS
from ferrule.programme.traps import cells

MOST_ITEMS = 12


def table_choices(cursor: Cursor, names: Names) -> Iterator[Choice]:
    """In the first row the weeks; in the first column the rows; in an empty cell `-`."""
    lines = _rows(cursor)
    row = [n for n, _ in lines].index(cursor.index)
    low, high = _cell(cursor)
    number = cursor.line.count("|", 0, cursor.at) - cursor.line.count("\\|", 0, cursor.at) - 1
    empty = not cursor.line[low:high].strip()
    if row == 0:
        if number == 0:
            yield from _replace(cursor, low, high, ["week"], "what changes from week to week")
        elif empty:
            there = {text for text, _ in cells(cursor.line)}
            first, last = weeks_around(cursor)
            weeks = [str(w) for w in range(first, min(last, first + 51) + 1) if str(w) not in there]
            yield from _replace(cursor, low, high, weeks, "a week of this cycle")
    elif row > 1 and number == 0:
        yield from _names(cursor, lines, names, low, high)
    elif row > 1 and number > 0 and empty:
        yield from _replace(
            cursor, low, high, ["-"], "left out in that week; an empty cell is as the line above the table says"
        )


def _rows(cursor: Cursor) -> list[tuple[int, str]]:
    first = last = cursor.index
    while first > 0 and cursor.lines[first - 1].lstrip().startswith("|"):
        first -= 1
    while last + 1 < len(cursor.lines) and cursor.lines[last + 1].lstrip().startswith("|"):
        last += 1
    return [(n, cursor.lines[n]) for n in range(first, last + 1)]


def _cell(cursor: Cursor) -> tuple[int, int]:
    """Where the cell of the cursor begins and ends, from 0, bars excluded."""
    low = cursor.line.rfind("|", 0, cursor.at) + 1
    high = cursor.line.find("|", cursor.at)
    return low, len(cursor.line) if high < 0 else high


def _replace(cursor: Cursor, low: int, high: int, texts: list[str], detail: str) -> Iterator[Choice]:
    typed = cursor.line[low : cursor.at].strip().lower()
    closed = high < len(cursor.line)
    for text in texts:
        if text.lower().startswith(typed) and text.lower() != cursor.line[low:high].strip().lower():
            shown = f" {text} ".ljust(high - low) if closed else f" {text} |"
            yield Choice(shown, low + 1, high + 1, "row", detail, not closed)


def _names(cursor: Cursor, lines: list[tuple[int, str]], names: Names, low: int, high: int) -> Iterator[Choice]:
    block = cursor.part("block")
    if block is None:
        return
    word = "sets" if block.head.block == "straight" else "rounds"
    values = [text for text, _ in cells(cursor.line)][1:]
    known = _words_that_read(values, [text for _, text in lines[:2]], word, weeks_around(cursor), names)
    written = [i for i in cursor.items_of_block() if i.index < cursor.index][:MOST_ITEMS]
    wanted = [(known[w], "of the block, week by week") for w in _block_words(word) if w in known]
    wanted += [row for w in written for row in _item_rows(w, known)]
    there = {" ".join(cells(text)[0][0].lower().split()) for n, text in lines if n != cursor.index and cells(text)}
    for label, detail in wanted:
        if " ".join(label.lower().split()) not in there:
            yield from _replace(cursor, low, high, [label], detail)


_ANY_NAME = "Any item"
_ANY = Item("1", Named(_ANY_NAME, None), Dose(), Span("", 1))
"""Whether cells read under a field word does not depend on the item."""


def _words_that_read(
    values: list[str], first: list[str], word: str, weeks: tuple[int, int], names: Names
) -> dict[str, str]:
    """The field words under which the cells that are there read without an error, each with its canonical spelling."""
    wanted = [*_block_words(word), *(f"{_ANY_NAME}: {w}" for w in _item_words() if w != "dose"), _ANY_NAME]
    tail = " | ".join(values) + " |" if values else "|"
    report = Report("")
    rows = tuple(Line(f"| {row} | {tail}", n + 10, 1) for n, row in enumerate(wanted))
    read = read_table(Table((Line(first[0], 1, 1), Line(first[1], 2, 1), *rows)), (_ANY,), word, weeks, names, report)
    wrong = {f.span.line for f in report.findings() if f.span is not None and f.level == "error"}
    if read is None:
        return {}
    shown = [cells(text)[0][0] for text in read.text[2:]]
    pairs = [(w, s) for n, (w, s) in enumerate(zip(wanted, shown, strict=True)) if n + 10 not in wrong]
    return {("dose" if w == _ANY_NAME else w): s for w, s in pairs}


def _block_words(word: str) -> list[str]:
    """One field word for each meaning: `sets` or `rounds`, as the block counts."""
    meant: dict[str, str] = {"sets": word}
    for other, meaning in BLOCK_FIELDS.items():
        meant.setdefault(meaning, other)
    return [w for m, w in meant.items() if not (m == "between_s" and word == "sets")]


def _item_words() -> dict[str, tuple[str, str]]:
    """One field word for each meaning."""
    meant: dict[tuple[str, str], str] = {}
    for word, meaning in ITEM_FIELDS.items():
        meant.setdefault(meaning, word)
    return {word: meaning for meaning, word in meant.items()}


def _item_rows(written: Written, known: dict[str, str]) -> list[tuple[str, str]]:
    """A row for each field the item states or may state; of the amounts only its own."""
    reader = FieldReader(written.fields).read()
    amounts = [n for n in GROUPS["amount"] if n in reader.values]
    rows: list[tuple[str, str]] = []
    for word, (field, group) in _item_words().items():
        if group == "" and word in known:
            rows.append((written.name, "this item, any of its fields; `-` leaves it out"))
        elif f"{_ANY_NAME}: {word}" in known and (group != "amount" or not amounts or field in amounts):
            shown = known[f"{_ANY_NAME}: {word}"].rpartition(":")[2].strip()
            rows.append((f"{written.name}: {shown}", f"{shown} of this item, week by week"))
    return rows
