"""From drafts to the Programme: keys, block sets against item sets, tables, weeks of cycles."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields, replace

from ferrule.model.programme import Block, Cycle, Dose, Item, Programme, Session, WeekCell, WeekTable
from ferrule.model.quantity import Range
from ferrule.programme.by_week import BLOCK_FIELDS, EVERY, read_table
from ferrule.programme.cycle_weeks import check_weeks, with_weeks
from ferrule.programme.drafts import BlockDraft, CycleDraft, SessionDraft
from ferrule.programme.items import ItemDraft
from ferrule.programme.leans import tell_empty_cycle, tell_leans
from ferrule.programme.reading import Reading
from ferrule.programme.same_sessions import filled, told_in_vain
from ferrule.programme.text import name_text
from ferrule.programme.weeks import with_cell

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVXY"


def assemble(reading: Reading, file: str) -> Programme:
    """The programme of a finished pass; adds the findings that need the whole of it."""
    report, front = reading.report, reading.front
    cycles = with_weeks(reading)
    last = max((c.head.more.get("repeat_to") or c.head.weeks[1] for c in cycles if c.head.weeks), default=0)
    weeks = front.weeks or last or 1
    check_weeks(reading, cycles, weeks)
    made = filled(tuple(_cycle(c, reading) for c in cycles), reading.report)
    title = front.title or reading.heading or file.rsplit("/", 1)[-1].removesuffix(".md")
    if not any(s.blocks for c in made for s in c.sessions) and not any(
        f.code.startswith("file-") for f in report.findings()
    ):
        report.add(
            "nothing-to-do", "error", 1, 1, 1, "No exercise was found in the file.",
            "A programme holds sessions, blocks and lists of exercises.", "See docs/notation.md for a first example.",
        )  # fmt: skip
    return Programme(
        file, title, weeks, front.sessions, front.needs, tuple(front.entries), made,
        tuple(reading.said.notes), tuple(reading.said.coach), tuple(reading.allows), tuple(reading.said.conditions), front.at_least,
    )  # fmt: skip


def _cycle(draft: CycleDraft, reading: Reading) -> Cycle:
    weeks = draft.head.weeks or (1, 1)
    used: Counter[str] = Counter()
    sessions = []
    for place, session in enumerate(draft.sessions):
        key = session.head.label or str(place + 1)
        if session.head.more.get("level"):
            key = f"{key} {session.head.more['level']}"
        if key in used:
            reading.report.add(
                "session-twice", "error", session.span.line, session.span.column, session.span.end_column,
                f"Session {key} stands twice in this cycle.", "Each session needs its own number or letter.",
                "Give it the next free one.",
            )  # fmt: skip
            count = 2
            while f"{key}-{count}" in used:
                count += 1
            key = f"{key}-{count}"
        used[key] += 1
        sessions.append(_session(session, key, weeks, reading))
    key = draft.head.label or str(reading.cycles.index(draft) + 1)
    tell_empty_cycle(draft, key, reading.report)
    told_in_vain(sessions, weeks, bool(draft.head.more.get("open_end")), reading.report)
    return Cycle(
        key, draft.head.name, weeks[0], weeks[1], tuple(sessions), draft.span, draft.aim,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions), **draft.head.more,
    )  # fmt: skip


def _session(draft: SessionDraft, key: str, weeks: tuple[int, int], reading: Reading) -> Session:
    labels = _labels(draft.blocks)
    shared = Counter(labels)
    counts: Counter[str] = Counter()
    blocks = []
    for block, label in zip(draft.blocks, labels, strict=True):
        single = block.head.block == "straight" and len(block.items) == 1 and shared[label] == 1
        items = []
        for item in block.items:
            counts[label] += 1
            items.append(_item(item, label if single else f"{label}{counts[label]}"))
        blocks.append(_block(block, tuple(items), weeks, reading))
    head = draft.head
    if blocks and head.more.get("same_as"):
        del head.more["same_as"]
        reading.report.add(
            "session-own-blocks", "error", draft.span.line, draft.span.column, draft.span.end_column,
            "The session is to be as another one, but has exercises of its own.", "Its own were kept.",
            "Take `as ...` out of its head, or the exercises below it.",
        )  # fmt: skip
    tell_leans(draft, key, reading.report)
    return Session(
        key, head.name, head.minutes, tuple(blocks), draft.span, head.day,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions), **head.more,
    )  # fmt: skip


def _labels(blocks: list[BlockDraft]) -> list[str]:
    """The letter of each block: W for warm-ups, the one written, else the next that nobody has."""
    written = {b.head.label.upper() for b in blocks if b.head.label}
    free = iter([c for c in _LETTERS if c not in written] + [f"Y{n}" for n in range(2, len(blocks) + 2)])
    return [
        "W"
        if b.head.block == "warm-up"
        else "Z"
        if b.head.block == "cool-down"
        else b.head.label.upper()
        if b.head.label and b.head.label.upper() != "W"
        else next(free)
        for b in blocks
    ]


def _item(draft: ItemDraft, key: str) -> Item:
    others = tuple(_item(a, f"{key}{chr(98 + n) if n < 25 else f'b{n}'}") for n, a in enumerate(draft.alternatives))
    return Item(
        key, draft.exercise, draft.dose, draft.span, others, draft.picks, draft.optional,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions), weeks=draft.weeks,
    )  # fmt: skip


def _block(draft: BlockDraft, items: tuple[Item, ...], weeks: tuple[int, int], reading: Reading) -> Block:
    report, head = reading.report, draft.head
    word = "sets" if head.block == "straight" else "rounds"
    timed_easy = head.block in ("warm-up", "cool-down") and (
        head.more.get("minutes") is not None or head.more.get("name")
    )
    if not items and not timed_easy:
        report.add(
            "block-empty", "error", draft.span.line, draft.span.column, draft.span.end_column, "This block holds no exercise.",
            "A head of a block is followed by a list.", "Write the list, or begin the line differently when it is prose.",
        )  # fmt: skip
    checked = []
    for item, source in zip(items, draft.items, strict=True):
        dose = _own_sets(item, draft, word, reading)
        if dose is not item.dose:
            source.dose = dose
            item = replace(item, dose=dose)
        if head.sets is not None and any(a.dose.sets == head.sets for a in item.alternatives):
            alternatives = (
                replace(a, dose=replace(a.dose, sets=None)) if a.dose.sets == head.sets else a
                for a in item.alternatives
            )
            item = replace(item, alternatives=tuple(alternatives))
            for a in source.alternatives:
                a.dose = replace(a.dose, sets=None) if a.dose.sets == head.sets else a.dose
        checked.append(item)
    block = Block(
        head.block, head.label, head.sets, head.rest_s, head.between_s, tuple(checked), draft.span, None,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions), **head.more,
    )  # fmt: skip
    return replace(block, table=_table(draft, block, word, weeks, reading))


def _own_sets(item: Item, draft: BlockDraft, word: str, reading: Reading) -> Dose:
    """The item's dose; sets that only repeat the block's are taken out, other ones are told."""
    sets, head = item.dose.sets, draft.head
    if sets is None:
        return item.dose
    span = item.span
    if head.sets is not None and head.sets == sets:
        return replace(item.dose, sets=None)
    if head.sets is not None:
        reading.report.add(
            "sets-twice", "error", span.line, span.column, span.end_column,
            f"`{name_text(item.exercise)}` says {sets} sets, its block says {head.sets} {word}.",
            "The block owns sets and rounds; which of the two is meant cannot be known.",
            f"Write the number in the head of the block only, or give the item a block of its own: `Straight, {sets} sets`.",
            related=(draft.span,),
        )  # fmt: skip
    elif head.block != "straight":
        reading.report.add(
            "sets-in-round", "error", span.line, span.column, span.end_column,
            f"`{name_text(item.exercise)}` says {sets} sets inside a {head.block}.",
            "In a warm-up, pair or circuit all exercises are done once a round.",
            f"Write `{sets} rounds` in the head of the block, and only the repetitions here.", related=(draft.span,),
        )  # fmt: skip
    return item.dose


def _table(draft: BlockDraft, block: Block, word: str, weeks: tuple[int, int], reading: Reading) -> WeekTable | None:
    report = reading.report
    made: WeekTable | None = None
    for place, (table, written) in enumerate(draft.tables):
        if place:
            line = table.lines[0]
            report.add(
                "table-twice", "error", line.number, line.column, line.column + len(line.text),
                "This block has a by-week table already.", "Only the first one was read.", "Put the rows into one table.",
            )  # fmt: skip
            continue
        before = len(report)
        read = read_table(table, block.items, word, weeks, reading.names, report)
        if read is None:
            continue
        made = read.table
        if len(report) == before or not any(
            c in ("week-column-not-read", "week-twice") for c in report.codes_since(before)
        ):
            written[:] = read.text
    if made is not None:
        _never_true(block, made, weeks, reading)
    return made


def _never_true(block: Block, table: WeekTable, weeks: tuple[int, int], reading: Reading) -> None:
    """A line above a table whose value is true in no week of the cycle misleads whoever reads it."""
    every = {i.key: i for item in block.items for i in (item, *item.alternatives)}
    for row in table.rows:
        cells = dict(zip(table.weeks, row.cells, strict=True))
        found = [cells.get(w) for w in range(weeks[0], weeks[1] + 1)]
        if not found or any(c is None for c in found):
            continue
        told = (
            [every[row.item_key]] if row.item_key in every else list(block.items) if row.item_key == EVERY.key else []
        )
        what = ""
        for item in told:
            states = any(c is not None and c.dose is not None and _states(item.dose, c.dose) for c in found)
            if states and not any(c is not None and _holds(item.dose, c) for c in found):
                what = f"`{row.field}` of `{name_text(item.exercise)}`"
                break
        if row.item_key is None:
            name = BLOCK_FIELDS.get(row.field, "")
            base = getattr(block, name, None)
            if base is not None and all(c is not None and (c.leaves_out or getattr(c, name) != base) for c in found):
                what = f"`{row.field}` in the head of the block"
        if what:
            reading.report.add(
                "base-never-true", "advice", row.span.line, row.span.column, row.span.end_column,
                f"{what}, as written above the table, is true in no week.", "Whoever reads the line alone is misled.",
                "Write the value of most weeks in the line, and leave those cells empty.", related=(block.span,),
            )  # fmt: skip


def _holds(base: Dose, cell: WeekCell) -> bool:
    """Is the line true in the week of this cell: the same, or a range that holds the cell's value?"""
    if cell.leaves_out or cell.dose is None:
        return False
    changed = with_cell(base, cell)
    for part in fields(Dose):
        old, new = getattr(base, part.name), getattr(changed, part.name)
        if old != new and not (
            isinstance(old, Range) and isinstance(new, Range) and old.low <= new.low and new.high <= old.high
        ):
            return False
    return True


def _states(base: Dose, changed: Dose) -> bool:
    """Does the line itself state what the cell changes?"""
    names = ("reps", "hold_s", "work_s", "distance_m", "contacts", "per_set", "cluster", "sets", "load", "rir", "rm", "percent", "tempo",
             "pause_s", "rest_s", "side_rest_s", "drop", "left", "right", "loads", "height_cm", "inertia_kg_m2", "intensity")  # fmt: skip
    amounts = names[:7]
    for name in names:
        if getattr(changed, name) not in (None, ()):
            pool = amounts if name in amounts else (name,)
            if any(getattr(base, n) not in (None, ()) for n in pool):
                return True
    return False
