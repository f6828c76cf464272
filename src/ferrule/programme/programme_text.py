"""A whole Programme as canonical text: what `read_programme` reads back as the same value, spans aside."""

from __future__ import annotations

from collections.abc import Iterable

from ferrule.model.programme import Block, Condition, Dose, Item, Programme, WeekTable
from ferrule.programme.by_week import table_text
from ferrule.programme.head_text import head_of_block, head_of_cycle, head_of_session
from ferrule.programme.text import line_text, name_text, own_part


def programme_text(programme: Programme) -> str:
    """The canonical text. Comments that set checks aside stand at the top; prose stands under its head."""
    parts: list[list[str]] = []
    if programme.front:
        parts.append(["---", *(f"{e.key}: {e.value}".strip() for e in programme.front), "---"])
    parts += [[f"<!-- allow {a.rule}: {a.why} -->"] for a in programme.allows]
    parts += _words(programme.notes, programme.conditions, programme.coach_notes)
    for cycle in programme.cycles:
        parts.append([head_of_cycle(cycle), *([f"Aim: {cycle.aim}"] if cycle.aim else [])])
        parts += _words(cycle.notes, cycle.conditions, cycle.coach_notes)
        for session in cycle.sessions:
            parts.append([head_of_session(session)])
            parts += _words(session.notes, session.conditions, session.coach_notes)
            if session.same_as is None:
                for block in session.blocks:
                    parts += _block(block)
    return "\n\n".join("\n".join(part) for part in parts) + "\n" if parts else ""


def _words(notes: Iterable[str], conditions: Iterable[Condition], coach: Iterable[str]) -> list[list[str]]:
    return [[n] for n in notes] + [[c.text] for c in conditions] + [[f"coach: {c}".strip()] for c in coach]


def _block(block: Block) -> list[list[str]]:
    lines: list[str] = []
    for item in block.items:
        shown = item_lines(item)
        lines += ["- " + shown[0], *shown[1:]]
    found = [[head_of_block(block)]]
    if lines:
        found.append(lines)
    if block.table is not None:
        found.append(week_table_text(block.table, block))
    return found + _words(block.notes, block.conditions, block.coach_notes)


def item_lines(item: Item, base: Dose | None = None) -> list[str]:
    """The lines of an item, the first without its list mark; `base` is the dose an alternative inherits from."""
    dose = item.dose if base is None else own_part(item.dose, base)
    first = line_text(item.exercise, dose, optional=item.optional, weeks=item.weeks)
    lines = [("or " if base is not None else "") + ("runner picks: " if item.runner_picks else "") + first]
    lines += ["  note: " + n for n in item.notes]
    lines += ["  " + c.text for c in item.conditions]
    lines += [f"  coach: {c}".rstrip() for c in item.coach_notes]
    for other in item.alternatives:
        inner = item_lines(other, item.dose)
        lines += ["  - " + inner[0], *("  " + line for line in inner[1:])]
    return lines


def week_table_text(table: WeekTable, block: Block) -> list[str]:
    """The by-week table as aligned lines."""
    every = {i.key: i for item in block.items for i in (item, *item.alternatives)}
    rows = [["week", *map(str, table.weeks)]]
    for row in table.rows:
        label = row.field
        if row.item_key == "*":
            label = f"all: {row.field}"
        elif row.item_key is not None:
            name = name_text(every[row.item_key].exercise)
            label = name if row.field == "dose" else f"{name}: {row.field}"
        rows.append([label, *("" if c is None else c.text for c in row.cells)])
    return table_text(rows)
