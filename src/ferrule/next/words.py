"""What a line asks, in one line of words: for the coach who compares last week with the next."""

from __future__ import annotations

from ferrule.model.fitted import FittedBlock, FittedItem
from ferrule.model.quantity import number
from ferrule.next.conditions import kg_words


def asked_words(item: FittedItem, block: FittedBlock) -> str:
    """`Step-up: 3 x 6-8/side, 12 kg, 2 RIR`."""
    parts = []
    for value, unit in ((item.reps, ""), (item.hold_s, " s"), (item.distance_m, " m"), (item.contacts, " contacts")):
        if value is not None:
            parts.append(f"{value}{unit}{'/side' if item.per_side else ''}")
    if item.per_set:
        parts = ["sets " + ", ".join(str(n) for n in item.per_set)]
    if item.left_right is not None:
        parts = [f"left {item.left_right[0]}, right {item.left_right[1]}"]
    count = item.sets if block.kind == "straight" else block.rounds
    first = f"{count} x {parts[0]}" if parts else f"{count} {'sets' if count != 1 else 'set'}"
    rest = [kg_words(item.load)] if item.load is not None else []
    if item.rir is not None:
        rest.append(f"{item.rir} RIR")
    if item.tempo is not None:
        rest.append(f"tempo {item.tempo}")
    if item.pause_s is not None:
        rest.append(f"pause {number(item.pause_s)} s")
    return f"{item.name}: {', '.join([first, *parts[1:], *rest])}"
