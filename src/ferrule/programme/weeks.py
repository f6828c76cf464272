"""One week of a programme, with every by-week table applied."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.programme import Block, Condition, Cycle, Dose, Item, Programme, ProgrammeWeek, Session, WeekCell
from ferrule.model.quantity import Range
from ferrule.programme.form_text import adds_up
from ferrule.programme.head_text import head_of_block
from ferrule.programme.laid import cycle_notes, laid, shared
from ferrule.programme.text import EMPTY, GROUP_VALUES, free_forms, marked

EVERY = "*"
"""`WeekRow.item_key` of a row for every item of its block."""


def cycle_of(programme: Programme, week: int) -> Cycle | None:
    """The cycle that holds a week of the programme; the first one where two overlap."""
    held = next((c for c in programme.cycles if c.first_week <= week <= (c.repeat_to or c.last_week)), None)
    return held or next((c for c in reversed(programme.cycles) if c.open_end and c.first_week <= week), None)


def week_of(programme: Programme, week: int, *, every_version: bool = False) -> ProgrammeWeek | None:
    """Week `week`, from 1, of the programme: its sessions without tables; None when no cycle holds it.

    An empty cell, and a week without a column, are as the lines above the table say; `-` leaves an item out (in a block's own
    row: the block). A block whose items are all left out is gone, and so are sessions and lines outside their weeks.
    What a head says once is given to what it is said of: a load that grows by the week has grown, the tempo of a block is that
    of its items. How often a session is done stays in its fields (see `occurrences`).

    every_version   all sessions to choose from and all levels; else the first of each, which names the others
    """
    cycle = cycle_of(programme, week)
    if cycle is None:
        return None
    place = (
        (week - cycle.first_week) % (cycle.last_week - cycle.first_week + 1)
        if cycle.repeat_to
        else week - cycle.first_week
    )
    own = cycle.first_week + place
    changed = dict(programme.own).get(week)
    sessions = [inside for s in cycle.sessions if (inside := _in_week(s, own, cycle)) is not None]
    return ProgrammeWeek(
        programme.title, week, cycle.key, cycle.name, place + 1, laid(sessions, cycle, programme, week, every_version=every_version) if changed is None else changed, cycle.aim,
        (*programme.notes, *cycle.notes, *cycle_notes(cycle)), conditions_of(programme, cycle),
    )  # fmt: skip


def _in_week(session: Session, week: int, cycle: Cycle) -> Session | None:
    if session.weeks is not None and not in_weeks(session.weeks, week):
        return None
    since = week - cycle.first_week
    blocks = (block_in_week(b, week, since) for b in session.blocks if b.items)
    words = tuple(head_of_block(b) for b in session.blocks if not b.items and (b.minutes is not None or b.name))
    return replace(
        session, blocks=tuple(b for b in blocks if b is not None), notes=(*words, *session.notes)
    )  # fmt: skip


def in_weeks(weeks: tuple[int, int | None], week: int) -> bool:
    """Is the week one of those, first and last included?"""
    return weeks[0] <= week and (weeks[1] is None or week <= weeks[1])


def conditions_of(programme: Programme, cycle: Cycle) -> tuple[Condition, ...]:
    """Conditions that bind the cycle's weeks beyond single items: of the programme, the cycle, its sessions and blocks."""
    inner = [c for s in cycle.sessions for c in (*s.conditions, *(k for b in s.blocks for k in b.conditions))]
    return (*programme.conditions, *cycle.conditions, *inner)


def block_in_week(block: Block, week: int, since: int = 0) -> Block | None:
    """The block as it is in that week, without its table; None when nothing of it is left.

    since   weeks since the cycle began: what a line adds by the week has been added so often
    """
    table = block.table
    items = tuple(_grown(i, since) for i in block.items if i.weeks is None or in_weeks(i.weeks, week))
    if block.items and not items:
        return None
    if table is None or week not in table.weeks:
        same = table is None and items == block.items
        return shared(block if same else replace(block, items=items, table=None))
    column = table.weeks.index(week)
    changes: dict[str, object] = {}
    for row in table.rows:
        cell = row.cells[column]
        if cell is None:
            continue
        if row.item_key is None:
            if cell.leaves_out:
                return None
            for name in ("sets", "rest_s", "between_s", "minutes", "on_s", "off_s", "exercises"):
                if getattr(cell, name) is not None:
                    changes[name] = getattr(cell, name)
        elif row.item_key == EVERY:
            items = tuple(changed for i in items if (changed := _item(i, i.key, cell)) is not None)
        else:
            items = tuple(changed for i in items if (changed := _item(i, row.item_key, cell)) is not None)
    if block.items and not items:
        return None
    return shared(replace(block, items=items, table=None, **changes))  # type: ignore[arg-type]


def _grown(item: Item, since: int) -> Item:
    """The line with the load it has grown to; lines it cannot be told of stay as written."""
    dose = item.dose
    if dose.step is None or not adds_up(dose.step, dose.load) or dose.load is None:
        return item
    added = dose.step.amount.low * since
    low = (dose.load.kg.low if dose.load.kg else 0.0) + added
    high = (dose.load.kg.high if dose.load.kg else 0.0) + added
    if dose.step.to is not None:
        low, high = min(low, max(dose.step.to, low - added)), min(high, max(dose.step.to, high - added))
    grown = dose.load if not added else replace(dose.load, kg=Range(round(low, 4), round(high, 4)), none=False)
    new = replace(dose, load=grown, step=None)
    others = tuple(replace(a, dose=_follow(a.dose, dose, new)) for a in item.alternatives)
    return replace(item, dose=new, alternatives=others)


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
    for group, (names, values, empty) in GROUP_VALUES.items():
        said = values(new)
        if said == empty:
            continue
        if group == "amount" and all(getattr(new, n) == getattr(EMPTY, n) for n in names if n != "sides"):
            changes["sides"] = new.sides
            continue
        changes.update(zip(names, said, strict=True))
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
    for names, values, _ in GROUP_VALUES.values():
        if values(alternative) == values(before):
            changes.update(zip(names, values(after), strict=True))
    same = free_forms(alternative) == free_forms(before)
    return marked(replace(alternative, **changes), free_forms(after) if same else free_forms(alternative))  # type: ignore[arg-type]
