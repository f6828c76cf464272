"""What the log on the page has to know of a line: its key in the sent copy, its sets, what was asked, other ways of it."""

from __future__ import annotations

import json
from typing import Final

from ferrule.deliver import cautions
from ferrule.deliver.plain import clean
from ferrule.model.exercise import Variant
from ferrule.model.fact import RedFlag
from ferrule.model.fitted import FittedBlock, FittedItem, Recourse
from ferrule.model.programme import LIGHT

FLAG_KINDS: Final[tuple[RedFlag, ...]] = (
    "bone or hop",
    "night or rest",
    "cannot bear weight",
    "calf swelling",
    "numb or weak",
    "numb or weak",
    "bladder or bowel",
    "chest or faint",
    "chest or faint",
    "fever",
    "pop",
)
"""The kind of each of `cautions.RED_FLAGS`, in its order."""

RATINGS: Final = (
    "rest, no effort",
    "very, very easy",
    "easy",
    "moderate",
    "somewhat hard",
    "hard",
    "",
    "very hard",
    "",
    "",
    "as hard as it can be",
)
"""The words beside a session's rating, 0 to 10: the category-ratio scale as it is used for sessions (Foster et al. 2001,
J Strength Cond Res 15:109-115, words from memory)."""


def red_flags() -> tuple[tuple[RedFlag, str], ...]:
    """Each red flag as it is ticked: its kind and its words, those of one kind together."""
    words: dict[RedFlag, list[str]] = {}
    for kind, said in zip(FLAG_KINDS, cautions.RED_FLAGS, strict=True):
        words.setdefault(kind, []).append(said)
    return tuple((kind, ", or ".join(said)) for kind, said in words.items())


def ratings() -> tuple[str, ...]:
    """`0 rest, no effort`, ... `6`, ... `10 as hard as it can be`."""
    return tuple(f"{n} {words}".strip() for n, words in enumerate(RATINGS))


def item_log(item: FittedItem, block: FittedBlock, variant: Variant | None) -> str:
    """JSON for one line; what is empty is left out.

    k      key of the line in the sent copy;  n: how many sets
    low, high   asked for in one set, repetitions or seconds; equal when one number, left out when the sides differ or none is said
    per    asked for in each set, where the text has a list;  hold: the amounts are seconds
    more   high is not the most: "at least", or as many as possible
    ask    the effort is asked;  kg: what is carried, in all
    ways   the two printed ways out: (variant, words, kg in all, band)
    """
    low, high, hold = _asked(item)
    main = variant is not None and any(a.main for a in variant.asks)
    told: dict[str, object] = {
        "k": item.item_key,
        "n": len(item.per_set) or item.sets,
        "low": low,
        "high": high,
        "per": list(item.per_set),
        "hold": hold,
        "more": item.open_reps in ("at least", "max"),
        "ask": main and item.contacts is None and item.distance_m is None and block.kind not in LIGHT,
        "kg": item.load.kg if item.load is not None and item.load.band is None else 0,
        "ways": [_way(w) for w in (item.too_hard, item.too_easy) if w is not None],
    }
    return json.dumps(
        {k: v for k, v in told.items() if v not in (None, [], False, 0) or k in ("k", "n")},
        ensure_ascii=False,
        separators=(",", ":"),
    )


def _asked(item: FittedItem) -> tuple[float | None, float | None, bool]:
    if item.left_right is not None or item.per_set:
        return None, None, False
    if item.hold_s is not None:
        return item.hold_s.low, item.hold_s.high, True
    if item.reps is None:
        return None, None, False
    return item.reps.low, item.reps.high, False


def _way(way: Recourse) -> list[object]:
    load = way.load
    kg, band = (0.0, "") if load is None else (0.0 if load.band else load.kg, load.band or "")
    return [way.variant_id, clean(way.text) or clean(way.name), kg, band]
