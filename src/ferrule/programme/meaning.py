"""What a part of a programme means to the runner: values without places, keys and words for the coach, and their names.

Works over the fields of the types, so that a field added to the model is compared and told without more code here.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Hashable, Iterator
from functools import cache
from typing import Any, Final

from ferrule.model.programme import Block, Condition, Cycle, Dose, Item, Named, Programme, Session, Slot
from ferrule.model.quantity import Load, Percent, Range, number
from ferrule.model.words import DAYS
from ferrule.programme.text import GROUPS, amount_text, free_forms, load_text, name_text, percent_text, seconds_text

NOT_STATED: Final = "not stated"

UNSAID: Final[frozenset[str]] = frozenset({"span", "coach_notes", "left_out", "effort_word", "allows", "file"})
"""Fields that change nothing in what a runner does. RPE is 10 minus RIR, so the word alone is no difference."""

_UNSAID_OF: Final[dict[type, frozenset[str]]] = {
    Item: frozenset({"key", "weeks"}),
    Block: frozenset({"label"}),
    Session: frozenset({"weeks", "same_as"}),
}
"""Keys and letters that follow from the place (a line put before others would change all of them), and what a resolved
week has already followed: in which weeks a part is done, and whose blocks it has."""

_WORDS: Final[dict[str, str]] = {
    "reps_open": "how to read reps", "hold_s": "hold", "work_s": "work", "distance_m": "distance", "rir": "RIR",
    "per_set": "sets", "rm": "RM", "percent": "%", "pause_s": "pause", "rest_s": "rest", "side_rest_s": "side rest",
    "between_s": "between", "unfitted": "as written", "cycle_name": "cycle", "programme": "title",
    "sessions_per_week": "sessions a week", "minutes": "length", "runner_picks": "free choice",
}  # fmt: skip

_UNITS: Final = {"_s": " s", "_cm": " cm", "_m": " m", "_kg": " kg", "_kg_m2": " kg m2"}
"""The unit is the end of a field's name."""


def meaning(value: Any) -> Hashable:
    """A value that two parts share when a runner does the same: nested tuples, hashable."""
    kind: type = type(value)
    if kind is tuple:
        return tuple(map(meaning, value))
    names = _walked(kind)
    if names is None:
        known: Hashable = value
        return known
    if kind is Named:
        return value.variant_id or ("unknown", " ".join(value.text.casefold().split()))
    if kind is Condition:
        return str(value.text)
    return (kind.__name__, *[meaning(_said(value, name)) for name in names])


@cache
def _walked(kind: type) -> tuple[str, ...] | None:
    """The fields that `meaning` walks into; None for numbers, texts and quantities, which mean what they are."""
    if not dataclasses.is_dataclass(kind) or kind.__module__ == Range.__module__:
        return None
    return said_fields(kind)


@cache
def said_fields(kind: type) -> tuple[str, ...]:
    """Names of the fields of a type that a runner may notice."""
    left_out = UNSAID | _UNSAID_OF.get(kind, frozenset())
    return tuple(f.name for f in dataclasses.fields(kind) if f.name not in left_out)


def _said(value: Any, name: str) -> Any:
    """The field; for forms that are printed as written, those that no field of their own holds."""
    return free_forms(value) if name == "unfitted" and isinstance(value, Dose) else getattr(value, name)


def field_changes(
    old: Any, new: Any, *, besides: frozenset[str] = frozenset()
) -> Iterator[tuple[str, str, str]]:  # fmt: skip
    """(field in words, old, new) for every field of two values of one type that differs in meaning.

    besides   fields that are compared elsewhere
    """
    kind: type = type(new)
    for name in said_fields(kind):
        if name in besides:
            continue
        before, after = _said(old, name), _said(new, name)
        if meaning(before) != meaning(after):
            yield field_word(name), value_text(name, before), value_text(name, after)


def dose_changes(old: Dose, new: Dose) -> Iterator[tuple[str, str, str]]:
    """As `field_changes`; fields of the amount that change together (reps become a hold) are told as one."""
    amount = frozenset(GROUPS["amount"])
    changed = [n for n in GROUPS["amount"] if meaning(getattr(old, n)) != meaning(getattr(new, n))]
    before, after = amount_text(old), amount_text(new)
    together = len(changed) > 1 and before != after
    if together:
        yield "amount", before or NOT_STATED, after or NOT_STATED
    yield from field_changes(old, new, besides=amount if together else frozenset())


def field_word(name: str) -> str:
    """The trade's word for a field; a field that has none yet is told by its own name."""
    if name in _WORDS:
        return _WORDS[name]
    bare = next((name.removesuffix(end) for end in _UNITS if name.endswith(end)), name)
    return bare.replace("_", " ")


def _unit(name: str) -> str:
    return next((unit for end, unit in _UNITS.items() if name.endswith(end)), "")


def value_text(name: str, value: Any) -> str:
    """A field's value as the notation writes it; `not stated` for none, never an empty text."""
    if value is None or value == "" or value == ():
        return NOT_STATED
    if isinstance(value, bool):
        return "yes" if value else "no"
    if name == "day" and isinstance(value, int) and 1 <= value <= len(DAYS):
        return DAYS[value - 1]
    if isinstance(value, Range):
        return seconds_text(value) if name.endswith("_s") else f"{value}{_unit(name)}"
    if isinstance(value, Load):
        return load_text(value)
    if isinstance(value, Percent):
        return percent_text(value)
    if isinstance(value, Named | Slot):
        return name_text(value)
    if isinstance(value, Condition):
        return value.text
    if isinstance(value, tuple):
        return ", ".join(value_text("", v) for v in value)
    if name == "minutes":
        return f"{value} min"
    if isinstance(value, int | float):
        return f"{number(value)}{_unit(name)}"
    if dataclasses.is_dataclass(value) and not isinstance(value, type) and type(value).__str__ is object.__str__:
        parts = [(n, getattr(value, n)) for n in said_fields(type(value))]
        stated = [f"{field_word(n)} {value_text(n, v)}" for n, v in parts if v not in (None, "", (), False)]
        return ", ".join(stated) or NOT_STATED
    return str(value)


COMPARED_ELSEWHERE: Final[dict[type, frozenset[str]]] = {
    Item: frozenset({"exercise", "dose", "alternatives", "notes", "conditions"}),
    Block: frozenset({"items", "table", "notes", "conditions"}),
    Session: frozenset({"key", "name", "blocks", "notes", "conditions"}),
    Cycle: frozenset({"key", "name", "first_week", "last_week", "sessions", "aim", "notes", "conditions"}),
    Programme: frozenset({"title", "weeks", "front", "cycles", "notes", "conditions"}),
}
"""Fields that `compare` walks into or tells in its own way."""
