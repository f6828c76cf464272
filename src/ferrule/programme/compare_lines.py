"""One line of a block in two versions: its dose field by field, its notes, its alternatives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ferrule.model.programme import Dose, Item, Named
from ferrule.programme.align import in_gaps, matched, reordered, unmatched
from ferrule.programme.change import Change, Where
from ferrule.programme.compare_texts import text_changes
from ferrule.programme.meaning import COMPARED_ELSEWHERE, dose_changes, field_changes, meaning, said_fields
from ferrule.programme.text import item_text, name_text


def said_with_alternatives(item: Item) -> str:
    """The whole line: `Press-up: 8-10, 3 RIR, or Press-up, knees: 8-12`."""
    head = ("runner picks: " if item.runner_picks else "") + item_text(item).rstrip(":")
    return ", or ".join([head, *(item_text(a).rstrip(":") for a in item.alternatives)])


def alike(old: Item, new: Item) -> float:
    """How much two lines of different exercises have in common, above 0 to 2: their dose, and whether both name one."""
    names = said_fields(Dose)
    same: int = sum(meaning(getattr(old.dose, n)) == meaning(getattr(new.dose, n)) for n in names)
    alike_kind = isinstance(old.exercise, Named) == isinstance(new.exercise, Named)
    return 0.1 + same / len(names) + (0.5 if alike_kind else 0.0)


def line_changes(old: Item, new: Item, where: Where) -> Iterator[Change]:
    """Changes of one line whose exercise is the same."""
    alternatives = _alternatives(old, new, where)
    for what, was, now in dose_changes(old.dose, new.dose):
        same = [c for c in alternatives if (c.kind, c.what, c.old, c.new) == ("changed", what, was, now)]
        alternatives = [c for c in alternatives if c not in same]
        yield Change("changed", where, what, was, now, tuple(c.where.alternative for c in same))
    yield from _rest(old, new, where)
    yield from alternatives


def swap_changes(old: Item, new: Item, where: Where) -> Iterator[Change]:
    """Another exercise in the same line; both doses are in the texts."""
    yield Change("swapped", where, "line", item_text(old).rstrip(":"), item_text(new).rstrip(":"))
    yield from _rest(old, new, where)
    yield from _alternatives(old, new, where)


def _rest(old: Item, new: Item, where: Where) -> Iterator[Change]:
    for what, was, now in field_changes(old, new, besides=COMPARED_ELSEWHERE[Item]):
        yield Change("changed", where, what, was, now)
    yield from text_changes("note", old.notes, new.notes, where)
    yield from text_changes("condition", [c.text for c in old.conditions], [c.text for c in new.conditions], where)


def _alternatives(old: Item, new: Item, where: Where) -> list[Change]:
    before, after = old.alternatives, new.alternatives
    if meaning(before) == meaning(after):
        return []
    pairs = matched([meaning(a.exercise) for a in before], [meaning(a.exercise) for a in after])
    swaps = in_gaps(len(before), len(after), pairs, lambda a, b: alike(before[a], after[b]))
    source, swapped = {b: a for a, b in pairs}, {b: a for a, b in swaps}
    out: list[Change] = []
    if reordered(pairs):
        out.append(Change("order", where, "alternatives", _names(before), _names(after)))
    for place, item in enumerate(after):
        at = replace(where, alternative=name_text(item.exercise))
        if place in source:
            out += line_changes(before[source[place]], item, at)
        elif place in swapped:
            out += swap_changes(before[swapped[place]], item, at)
        else:
            out.append(Change("added", at, "alternative", "", item_text(item).rstrip(":")))
    for place in unmatched(len(before), [*source.values(), *swapped.values()]):
        name = name_text(before[place].exercise)
        out.append(Change("gone", replace(where, alternative=name), "alternative", name, ""))
    return out


def _names(items: Sequence[Item]) -> str:
    return "; ".join(name_text(i.exercise) for i in items)
