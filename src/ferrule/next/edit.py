"""The written week as the rulings leave it: lines progressed, kept to what was sent, with fewer sets, or left out."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem
from ferrule.model.programme import LIGHT, Block, Dose, Item, Programme, ProgrammeWeek
from ferrule.model.quantity import Range
from ferrule.next.conditions import carried
from ferrule.next.ruling import GONE, Key, Ruling

On = Callable[[Key], Sequence[Ruling]]


def edited(
    programme: Programme, week: ProgrammeWeek, on: On, sent: Mapping[Key, FittedItem], rounds: Mapping[Key, int],
    before: ProgrammeWeek | None,
) -> tuple[Programme, tuple[Finding, ...]]:  # fmt: skip
    """The programme with the sessions of this week as they now are; the same programme where nothing changes.

    sent, rounds  what was sent last for the lines of this cycle, and with how many rounds;  before: that week's text
    """
    texts: dict[Key, Item] = {}
    if before is not None and before.cycle_key == week.cycle_key:
        texts = {(s.key, i.key): i for s in before.sessions for b in s.blocks for i in b.items}
    owed = Owed()
    made: dict[tuple[str, int], Block | None] = {}
    every = [(s.key, n, b) for s in week.sessions for n, b in enumerate(s.blocks)]
    for key, n, block in sorted(every, key=lambda e: -len(e[2].items)):  # the widest first: the others make up for it
        made[key, n] = _block(key, block, on, sent, rounds, texts, owed)
    sessions = []
    for session in week.sessions:
        blocks = [b for n in range(len(session.blocks)) if (b := made[session.key, n]) is not None]
        if any(b.items for b in blocks):
            sessions.append(replace(session, blocks=tuple(blocks)))
    if tuple(sessions) == week.sessions:
        return programme, ()
    return replace(programme, own=((week.week, tuple(sessions)),)), ()


class Owed:
    """Sets rounded away so far in this week, less those rounded up: the next rounding goes the other way.

    Without it a share of 48 % makes every three sets one, and the week a third.
    """

    def __init__(self) -> None:
        self.sets = 0.0

    def fewer(self, sets: float, share: float, lines: int = 1) -> int:
        """So many of `sets` on each of `lines`: the whole number below or above the share of them, at least one."""
        exact = sets * share
        down = math.floor(exact + 1e-9)
        up = exact - down + self.sets / lines >= 0.5 - 1e-9 and exact - down > 1e-9
        found = down + up
        if found < 1:
            return 1  # one is one; no other line pays for it
        self.sets += lines * (exact - found)
        return found


def _block(
    session: str, block: Block, on: On, sent: Mapping[Key, FittedItem], rounds: Mapping[Key, int],
    texts: Mapping[Key, Item], owed: Owed,
) -> Block | None:  # fmt: skip
    """The block with its lines edited; None when none is left."""
    if not block.items:
        return block
    items = []
    for item in block.items:
        key = (session, item.key)
        new = _item(item, on(key), sent.get(key), texts.get(key), light=block.kind in LIGHT)
        if new is not None:
            items.append(new)
    if not items:
        return None
    new_block = block if tuple(items) == block.items else replace(block, items=tuple(items))
    if block.kind in LIGHT:
        return new_block
    rulings = [r for i in items for r in on((session, i.key))]
    most = block.sets
    if most is not None and all(any(r.keep for r in on((session, i.key))) for i in items):
        was = [rounds[session, i.key] for i in items if (session, i.key) in rounds]
        if was and max(was) < most.high:
            most = Range(min(most.low, float(max(was))), float(max(was)))
    share = min((r.sets for r in rulings if r.sets is not None), default=None)
    if share is not None and most is not None:
        most = _fewer(most, owed.fewer(most.high, share, len(items)))
    if share is not None:
        new_block = replace(new_block, items=tuple(_fewer_sets(i, share, owed) for i in new_block.items))
    return new_block if most == block.sets else replace(new_block, sets=most)


def _fewer(sets: Range, high: int) -> Range:
    return Range(float(min(sets.low, high)), float(high))


def _fewer_sets(item: Item, share: float, owed: Owed) -> Item:
    """A line with sets of its own."""
    if item.dose.per_set:
        return _with(item, per_set=item.dose.per_set[: owed.fewer(len(item.dose.per_set), share)])
    if item.dose.sets is not None:
        return _with(item, sets=_fewer(item.dose.sets, owed.fewer(item.dose.sets.high, share)))
    return item


def _item(
    item: Item, rulings: Sequence[Ruling], sent: FittedItem | None, before: Item | None, *, light: bool
) -> Item | None:
    """The line as its rulings leave it; None when it is left out."""
    if any(r.move == "leave out" or (r.rule in GONE and r.move == "stop") for r in rulings):
        return None
    if light or sent is None:
        return item
    held = any(r.binds and (r.most is not None or r.keep) for r in rulings) or any(
        r.rule in ("easier week", "taper", "race week") for r in rulings
    )
    made = next((r.item for r in rulings if r.item is not None), None)
    new = made if made is not None and not held else carried(item, before, sent) or item
    return _kept(new, sent) if any(r.keep for r in rulings) else new


def _kept(item: Item, sent: FittedItem) -> Item:
    """No more repetitions, seconds, metres, contacts or sets than were sent, in every dose that says more."""
    new = replace(item, dose=_kept_dose(item.dose, sent))
    return replace(new, alternatives=tuple(replace(a, dose=_kept_dose(a.dose, sent)) for a in item.alternatives))


def _kept_dose(dose: Dose, sent: FittedItem) -> Dose:
    changes: dict[str, object] = {}
    pairs = (("reps", sent.reps), ("hold_s", None if sent.work else sent.hold_s), ("work_s", sent.hold_s if sent.work else None),
             ("distance_m", sent.distance_m), ("contacts", sent.contacts))  # fmt: skip
    for name, was in pairs:
        now = getattr(dose, name)
        if was is not None and now is not None and now.high > was.high:
            changes[name] = Range(min(now.low, was.low), was.high)
    if dose.sets is not None and dose.sets.high > sent.sets:
        changes["sets"] = Range(min(dose.sets.low, float(sent.sets)), float(sent.sets))
    return replace(dose, **changes) if changes else dose  # type: ignore[arg-type]


def _with(item: Item, **fields: object) -> Item:
    new = replace(item.dose, **fields)  # type: ignore[arg-type]
    others = tuple(a if a.dose != item.dose else replace(a, dose=new) for a in item.alternatives)
    return replace(item, dose=new, alternatives=others)
