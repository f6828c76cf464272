"""What was asked or done, in brief: `3 x 8-10 a side, 12 kg at chest`. For the coach's and the physiotherapist's tables."""

from __future__ import annotations

from collections.abc import Sequence

from ferrule.deliver import amounts
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Variant
from ferrule.model.fitted import FittedItem, LoadChoice
from ferrule.model.quantity import Range, number


def asked_words(item: FittedItem, variant: Variant | None = None) -> str:
    """`3 x 8-10 a side, 12 kg at chest`. `variant` tells whether a load could have been carried.

    A hold without one says nothing of it: holds are done without as a rule.
    """
    sets = len(item.per_set) or item.sets
    side = " a side" if item.per_side else " in all" if item.alternating else ""
    if item.left_right is not None:
        what = f"{sets} x left {item.left_right[0]}, right {item.left_right[1]}"
    elif item.per_set:
        what = ", ".join(map(str, item.per_set)) + side
    else:
        what = f"{sets} x {_amount(item)}{side}"
    return ", ".join(part for part in (what, load_words(item.load, None if item.hold_s else variant)) if part)


def _amount(item: FittedItem) -> str:
    open_ended = {"at least": "at least ", "up to": "up to ", "max": "", None: ""}[item.open_reps]
    if item.open_reps == "max":
        return "as many as you can"
    if item.reps is not None:
        return f"{open_ended}{_span(item.reps)}"
    if item.hold_s is not None:
        return f"{open_ended}{_span(item.hold_s)} s"
    if item.distance_m is not None:
        return f"{_span(item.distance_m)} m"
    if item.contacts is not None:
        return f"{_span(item.contacts)} contacts"
    return "no number given"


def _span(value: Range) -> str:
    return number(value.low) if value.single else f"{number(value.low)}-{number(value.high)}"


def load_words(load: LoadChoice | None, variant: Variant | None) -> str:
    """`12 kg at chest`; `no weight` where one could be carried; empty where none ever is."""
    return amounts.load_brief(load) or ("no weight" if variant is not None and variant.loading else "")


def told_words(sets: Sequence[LoggedSet]) -> str:
    """What was told of the sets of one line on one side: `8, 8, 6`, `30, 25 s`; a bare tap is `as asked`.

    A set that is not said of is `-`; one that was tried for more and not managed is `6 (failed)`, one that pain ended
    `4 (stopped: pain)`.
    """
    said = [_one(s) for s in sorted(sets, key=lambda s: s.number)]
    if said and set(said) == {"as asked"}:
        return f"{len(said)} as asked"
    unit = " s" if any(s.unit == "s" for s in sets) and any(c.isdigit() for c in "".join(said)) else ""
    return ", ".join(said) + unit


def _one(told: LoggedSet) -> str:
    if told.outcome == "not said" and told.stopped is None:
        return "-"
    count = number(told.done) if told.done is not None else "as asked" if told.outcome == "tapped" else "-"
    why = "failed" if told.outcome == "failed" else ""
    stopped = f"stopped: {told.stopped}" if told.stopped else ""
    notes = ", ".join(n for n in (why, stopped) if n)
    return f"{count} ({notes})" if notes else count
