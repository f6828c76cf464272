"""A block in plain words: its title with how much of it, its rests and its clock, what is chosen of it."""

from __future__ import annotations

import re

from ferrule.deliver import amounts
from ferrule.deliver.plain import clean, sentence
from ferrule.model.fitted import FittedBlock, FittedItem
from ferrule.model.programme import LIGHT
from ferrule.model.quantity import Range

_OF_THE_HEAD = re.compile(r"\d+ min|every [\d.:]+ (s|min)|[\d.-]+ (s|min) (on|off)|max (sets|rounds)|[\d-]+ exercises?")
"""What the programme's week also gives as words for the runner; here it is said from the fields."""


def open_count(block: FittedBlock) -> bool:
    """Whether the runner counts no rounds: they go by the clock, or there are as many as possible."""
    return block.max_sets or (block.minutes is not None and block.rounds == 1)


def block_title(block: FittedBlock) -> str:
    """`Pair A, 4 rounds`, `Circuit B, go round for 12 minutes: legs and trunk`, `Cool-down`."""
    kind = block.kind.capitalize()
    label = clean(block.label)
    head = label if label.lower().startswith(block.kind) else f"{kind} {label}".strip()
    title = ", ".join(p for p in (head, _how_much(block)) if p)
    name = clean(block.name)
    return f"{title}: {name}" if name else title


def _how_much(block: FittedBlock) -> str:
    straight = block.kind == "straight"
    noun = "set" if straight else "round"
    time = "" if block.minutes is None else f"{block.minutes} {'minute' if block.minutes == 1 else 'minutes'}"
    if block.max_sets:
        return f"as many {noun}s as you can" + (f" in {time}" if time else "")
    if time and block.rounds == 1:
        return f"go on for {time}" if straight or len(block.items) == 1 else f"go round for {time}"
    if block.kind in LIGHT and block.rounds == 1:
        return ""
    if straight and len({i.sets for i in block.items}) > 1:
        return ""
    return f"{block.rounds} {noun}{'' if block.rounds == 1 else 's'}" + (f" in {time}" if time else "")


def counted_by_block(item: FittedItem, block: FittedBlock) -> bool:
    """Whether the block's title already says how many sets or rounds of `item` there are."""
    if item.per_set:
        return False
    if open_count(block):
        return item.sets == block.rounds
    if block.kind == "straight":
        return {i.sets for i in block.items} == {block.rounds}
    return item.sets == block.rounds


def block_rest(block: FittedBlock) -> str:
    """The clock and the rests of a block in words; empty when none is stated."""
    after = "set" if block.kind == "straight" else "round"
    several = block.rounds > 1 or len(block.items) > 1 or open_count(block)
    said = [_stations(block), _every(block, after), amounts.rest_words(block.rest_s, after) if several else ""]
    between = None if block.on_s is not None and block.between_s == block.off_s else block.between_s
    if between is not None and len(block.items) > 1:
        if between.high == 0:
            said.append("Straight from one exercise to the next.")
        else:
            said.append(f"{amounts.seconds(between)} between the exercises.")
    return " ".join(s for s in said if s)


def _stations(block: FittedBlock) -> str:
    """`40 s work, 20 s rest at each.`"""
    if block.on_s is None:
        return ""
    each = " at each" if len(block.items) > 1 else ""
    work = f"{amounts.seconds(block.on_s)} work"
    if block.off_s is None:
        return f"{work}{each}."
    if block.off_s.high == 0:
        return f"{work}{each}, then straight on."
    return f"{work}, {amounts.seconds(block.off_s)} rest{each}."


def _every(block: FittedBlock, noun: str) -> str:
    if block.every_s is None:
        return ""
    return f"A {noun} every {amounts.seconds(block.every_s)}: what is left of it is rest."


def block_notes(block: FittedBlock) -> tuple[str, ...]:
    """What is chosen of the list, then the coach's notes; what title and rests say is not said again."""
    chosen = () if block.exercises is None else (f"Choose {_some(block.exercises)} of these.",)
    return (*chosen, *(s for s in map(sentence, block.notes) if s and not _said(s, block)))


def _some(span: Range) -> str:
    return amounts.either(span) if not span.single else amounts.counted(span)


def _said(note: str, block: FittedBlock) -> bool:
    bare = note.rstrip(".").lower()
    by_field = (block.minutes, block.every_s, block.on_s, block.off_s, block.exercises)
    if any(f is not None for f in by_field) or block.max_sets:
        return bool(_OF_THE_HEAD.fullmatch(bare)) or bare == clean(block.name).rstrip(".").lower()
    return bool(block.name) and bare == clean(block.name).rstrip(".").lower()
