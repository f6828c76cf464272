"""From drafts to the Programme: keys, block sets against item sets, tables, weeks of cycles."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields, replace

from ferrule.model.programme import Block, Cycle, Dose, Item, Programme, Session, WeekCell, WeekTable
from ferrule.model.quantity import Range
from ferrule.programme.by_week import read_table
from ferrule.programme.drafts import BlockDraft, CycleDraft, SessionDraft
from ferrule.programme.items import ItemDraft
from ferrule.programme.reading import Reading
from ferrule.programme.text import name_text
from ferrule.programme.weeks import with_cell

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVXYZ"


def assemble(reading: Reading, file: str) -> Programme:
    """The programme of a finished pass; adds the findings that need the whole of it."""
    report, front = reading.report, reading.front
    cycles = _with_weeks(reading)
    last = max((c.head.weeks[1] for c in cycles if c.head.weeks), default=0)
    weeks = front.weeks or last or 1
    _check_weeks(reading, cycles, weeks)
    made = tuple(_cycle(c, reading) for c in cycles)
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
        tuple(reading.said.notes), tuple(reading.said.coach), tuple(reading.allows), tuple(reading.said.conditions),
    )  # fmt: skip


def _with_weeks(reading: Reading) -> list[CycleDraft]:
    """Cycles with their weeks; a cycle that is only a title over weeks of its own gives them its aim and is gone."""
    report, drafts = reading.report, reading.cycles
    kept: list[CycleDraft] = []
    for place, draft in enumerate(drafts):
        following = drafts[place + 1] if place + 1 < len(drafts) else None
        if (
            not draft.sessions
            and draft.head.kind == "cycle"
            and draft.head.weeks
            and following
            and following.head.kind == "week"
        ):
            inside = [d for d in drafts[place + 1 :] if d.head.kind == "week" and d.head.weeks]
            for d in inside:
                if d.head.weeks and draft.head.weeks[0] <= d.head.weeks[0] <= draft.head.weeks[1]:
                    d.aim = d.aim or draft.aim
                    d.said.notes[:0] = draft.said.notes
                    d.said.coach[:0] = draft.said.coach
            continue
        kept.append(draft)
    for place, draft in enumerate(kept):
        if draft.head.weeks is None:
            before = kept[place - 1].head.weeks if place else None
            first = before[1] + 1 if before else 1
            last = max(first, reading.front.weeks or first) if place == len(kept) - 1 else first
            draft.head.weeks = (first, last)
            if not draft.implied and (len(kept) > 1 or reading.front.weeks is None):
                report.add(
                    "cycle-without-weeks", "error", draft.span.line, draft.span.column, draft.span.end_column,
                    "The cycle does not say which weeks it covers.", f"It was read as weeks {first}-{last}.",
                    "Write for example `## Cycle 1, weeks 1-3: name`.",
                )  # fmt: skip
        low, high = draft.head.weeks
        if low > high or low < 1:
            report.add(
                "cycle-weeks-wrong", "error", draft.span.line, draft.span.column, draft.span.end_column,
                f"Weeks {low}-{high} are no span of weeks.", "Weeks are counted from 1, the first one first.",
                f"Write `weeks {max(1, min(low, high))}-{max(1, low, high)}`.",
            )  # fmt: skip
            draft.head.weeks = (max(1, min(low, high)), max(1, low, high))
    return kept


def _check_weeks(reading: Reading, cycles: list[CycleDraft], weeks: int) -> None:
    report = reading.report
    ordered = sorted(((d.head.weeks, d) for d in cycles if d.head.weeks), key=lambda pair: pair[0])
    reached = 0
    for (low, high), draft in ordered:
        span = draft.span
        if low <= reached:
            report.add(
                "cycles-overlap", "error", span.line, span.column, span.end_column,
                f"Week {low} is in two cycles.", "The first of them is used for that week.", f"Begin this cycle with week {reached + 1}.",
            )  # fmt: skip
        elif low > reached + 1:
            gap = f"week {reached + 1}" if low == reached + 2 else f"weeks {reached + 1}-{low - 1}"
            report.add(
                "weeks-left-out", "error", span.line, span.column, span.end_column,
                f"No cycle covers {gap}.", "A runner in that place of the programme has nothing to do.",
                "Let the cycles follow one another, or write a cycle for it.",
            )  # fmt: skip
        if high > weeks:
            report.add(
                "weeks-beyond-end", "error", span.line, span.column, span.end_column,
                f"The cycle ends with week {high}, the programme has {weeks} weeks.", "Weeks beyond the end are never done.",
                "Change `weeks:` in the front matter, or the weeks of the cycle.",
            )  # fmt: skip
        reached = max(reached, high)
    if ordered and reached < weeks:
        span = ordered[-1][1].span
        gap = f"week {weeks}" if reached + 1 == weeks else f"weeks {reached + 1}-{weeks}"
        report.add(
            "weeks-left-out", "error", span.line, span.column, span.end_column, f"No cycle covers {gap}.",
            "A runner in that place of the programme has nothing to do.", "Lengthen the last cycle, or change `weeks:` in the front matter.",
        )  # fmt: skip


def _cycle(draft: CycleDraft, reading: Reading) -> Cycle:
    weeks = draft.head.weeks or (1, 1)
    used: Counter[str] = Counter()
    sessions = []
    for place, session in enumerate(draft.sessions):
        key = session.head.label or str(place + 1)
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
    return Cycle(
        key, draft.head.name, weeks[0], weeks[1], tuple(sessions), draft.span, draft.aim,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions),
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
    return Session(
        key, head.name, head.minutes, tuple(blocks), draft.span, head.day,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions),
    )  # fmt: skip


def _labels(blocks: list[BlockDraft]) -> list[str]:
    """The letter of each block: W for warm-ups, the one written, else the next that nobody has."""
    written = {b.head.label.upper() for b in blocks if b.head.label}
    free = iter([c for c in _LETTERS if c not in written] + [f"Z{n}" for n in range(2, len(blocks) + 2)])
    return [
        "W"
        if b.head.block == "warm-up"
        else b.head.label.upper()
        if b.head.label and b.head.label.upper() != "W"
        else next(free)
        for b in blocks
    ]


def _item(draft: ItemDraft, key: str) -> Item:
    others = tuple(_item(a, f"{key}{chr(98 + n) if n < 25 else f'b{n}'}") for n, a in enumerate(draft.alternatives))
    return Item(
        key, draft.exercise, draft.dose, draft.span, others, draft.picks, draft.optional,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions),
    )  # fmt: skip


def _block(draft: BlockDraft, items: tuple[Item, ...], weeks: tuple[int, int], reading: Reading) -> Block:
    report, head = reading.report, draft.head
    word = "sets" if head.block == "straight" else "rounds"
    if not items:
        report.add(
            "block-empty", "error", draft.span.line, draft.span.column, draft.span.end_column, "This block holds no exercise.",
            "A head of a block is followed by a list.", "Write the list, or begin the line differently when it is prose.",
        )  # fmt: skip
    checked = []
    for item, source in zip(items, draft.items, strict=True):
        dose = _own_sets(item, draft, word, reading)
        if dose is not item.dose:
            source.dose = dose
            item = replace(item, dose=dose, alternatives=tuple(
                replace(a, dose=replace(a.dose, sets=None)) if a.dose.sets == item.dose.sets else a for a in item.alternatives
            ))  # fmt: skip
            for a in source.alternatives:
                a.dose = replace(a.dose, sets=None) if a.dose.sets == head.sets else a.dose
        checked.append(item)
    block = Block(
        head.block, head.label, head.sets, head.rest_s, head.between_s, tuple(checked), draft.span, None,
        tuple(draft.said.notes), tuple(draft.said.coach), tuple(draft.said.conditions),
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
        _never_true(block, made, weeks, word, reading)
    return made


def _never_true(block: Block, table: WeekTable, weeks: tuple[int, int], word: str, reading: Reading) -> None:
    """A line above a table whose value is true in no week of the cycle misleads whoever reads it."""
    every = {i.key: i for item in block.items for i in (item, *item.alternatives)}
    for row in table.rows:
        cells = dict(zip(table.weeks, row.cells, strict=True))
        found = [cells.get(w) for w in range(weeks[0], weeks[1] + 1)]
        if not found or any(c is None for c in found):
            continue
        item = every.get(row.item_key or "")
        what = ""
        if item is not None:
            states = any(c is not None and c.dose is not None and _states(item.dose, c.dose) for c in found)
            if states and not any(c is not None and _holds(item.dose, c) for c in found):
                what = f"`{row.field}` of `{name_text(item.exercise)}`"
        elif row.item_key is None:
            name = "sets" if row.field == word else f"{row.field}_s"
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
             "pause_s", "rest_s", "side_rest_s", "drop", "left", "right")  # fmt: skip
    amounts = names[:7]
    for name in names:
        if getattr(changed, name) not in (None, ()):
            pool = amounts if name in amounts else (name,)
            if any(getattr(base, n) not in (None, ()) for n in pool):
                return True
    return False
