"""One week of a programme, with every by-week table applied."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.programme import Block, Condition, Cycle, Dose, Item, Programme, ProgrammeWeek, WeekCell
from ferrule.programme.text import EMPTY, GROUPS, free_forms, marked


def cycle_of(programme: Programme, week: int) -> Cycle | None:
    """The cycle that holds a week of the programme; the first one where two overlap."""
    return next((c for c in programme.cycles if c.first_week <= week <= c.last_week), None)


def week_of(programme: Programme, week: int) -> ProgrammeWeek | None:
    """Week `week`, from 1, of the programme: its sessions without tables; None when no cycle holds it.

    An empty cell, and a week without a column, are as the lines above the table say; `-` leaves an item out (in a block's own
    row: the block). A block whose items are all left out is gone.
    """
    cycle = cycle_of(programme, week)
    if cycle is None:
        return None
    sessions = tuple(
        replace(s, blocks=tuple(b for b in (block_in_week(b, week) for b in s.blocks) if b is not None))
        for s in cycle.sessions
    )
    return ProgrammeWeek(
        programme.title, week, cycle.key, cycle.name, week - cycle.first_week + 1, sessions, cycle.aim,
        (*programme.notes, *cycle.notes), conditions_of(programme, cycle),
    )  # fmt: skip


def conditions_of(programme: Programme, cycle: Cycle) -> tuple[Condition, ...]:
    """Conditions that bind the cycle's weeks beyond single items: of the programme, the cycle, its sessions and blocks."""
    inner = [c for s in cycle.sessions for c in (*s.conditions, *(k for b in s.blocks for k in b.conditions))]
    return (*programme.conditions, *cycle.conditions, *inner)


def block_in_week(block: Block, week: int) -> Block | None:
    """The block as it is in that week, without its table; None when nothing of it is left."""
    table = block.table
    if table is None:
        return block
    if week not in table.weeks:
        return replace(block, table=None)
    column = table.weeks.index(week)
    items = block.items
    changes: dict[str, object] = {}
    for row in table.rows:
        cell = row.cells[column]
        if cell is None:
            continue
        if row.item_key is None:
            if cell.leaves_out:
                return None
            for name in ("sets", "rest_s", "between_s"):
                if getattr(cell, name) is not None:
                    changes[name] = getattr(cell, name)
        else:
            items = tuple(changed for i in items if (changed := _item(i, row.item_key, cell)) is not None)
    if block.items and not items:
        return None
    return replace(block, items=items, table=None, **changes)  # type: ignore[arg-type]


def _item(item: Item, key: str, cell: WeekCell) -> Item | None:
    if item.key == key:
        if cell.leaves_out:
            return None
        new = with_cell(item.dose, cell)
        others = tuple(replace(a, dose=_follow(a.dose, item.dose, new)) for a in item.alternatives)
        return replace(item, dose=new, alternatives=others)
    others = tuple(
        a if a.key != key else replace(a, dose=with_cell(a.dose, cell))
        for a in item.alternatives
        if not (a.key == key and cell.leaves_out)
    )
    return replace(item, alternatives=others) if others != item.alternatives else item


def with_cell(dose: Dose, cell: WeekCell) -> Dose:
    """The dose with the cell's fields. Sides, place and hands of the line stay where the cell says none."""
    new = cell.dose
    if new is None:
        return dose
    changes: dict[str, object] = {}
    for group, names in GROUPS.items():
        if all(getattr(new, n) == getattr(EMPTY, n) for n in names):
            continue
        if group == "amount" and all(getattr(new, n) == getattr(EMPTY, n) for n in names if n != "sides"):
            changes["sides"] = new.sides
            continue
        changes |= {n: getattr(new, n) for n in names}
        if group == "amount" and new.sides is None and new.left is None and new.right is None:
            changes["sides"] = dose.sides
        if group == "load" and new.load is not None and dose.load is not None and new.load.kg is not None:
            place = new.load.place or dose.load.place
            each = new.load.each_hand or dose.load.each_hand
            changes["load"] = replace(new.load, place=place, each_hand=each)
    made = replace(dose, **changes)  # type: ignore[arg-type]
    return marked(made, tuple(dict.fromkeys((*free_forms(dose), *free_forms(new)))))


def _follow(alternative: Dose, before: Dose, after: Dose) -> Dose:
    """An alternative follows its item in what it inherited: the groups in which the two were the same."""
    changes: dict[str, object] = {}
    for names in GROUPS.values():
        if all(getattr(alternative, n) == getattr(before, n) for n in names):
            changes |= {n: getattr(after, n) for n in names}
    same = free_forms(alternative) == free_forms(before)
    return marked(replace(alternative, **changes), free_forms(after) if same else free_forms(alternative))  # type: ignore[arg-type]
