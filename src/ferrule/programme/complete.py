"""What may be written at the cursor. Knows no editor; docs/editor.md says how one uses it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from ferrule.model.exercise import Library
from ferrule.programme.cursor import Cursor, colon_of, cursor_in
from ferrule.programme.field_offers import Asked, Offer, field_offers, groups_in
from ferrule.programme.fields import FieldReader
from ferrule.programme.line_offers import allow_choices, below_choices, front_choices, head_choices, start_choices
from ferrule.programme.name_offers import name_choices
from ferrule.programme.naming import Names, names_of
from ferrule.programme.offer import Choice as Choice
from ferrule.programme.row_offers import table_choices
from ferrule.programme.scan import plain
from ferrule.programme.source import SIZE_LIMIT_BYTES

MOST_CHOICES = 400
LINE_LIMIT = 1000
"""A longer line is no prescription; nothing is offered on it."""


def complete(
    text: str, line: int, column: int, library: Library, rules: Sequence[str] = ()
) -> tuple[Choice, ...]:  # fmt: skip
    """What may be written before column `column` of line `line` (both from 1), the likeliest first, at most 400.

    text    the programme as it is while it is written, errors and all
    rules   names of the checks that `<!-- allow` may set aside

    Never raises; a place outside the text has no choices. A choice that is not a `beginning` adds no error to its line.
    Time grows linearly with the text, some 2 ms for 200 lines.
    """
    if len(text) > SIZE_LIMIT_BYTES:
        return ()
    cursor = cursor_in(text, line, column)
    if cursor is None or len(cursor.line) > LINE_LIMIT:
        return ()
    kept: dict[tuple[str, int, int], Choice] = {}
    for choice in _choices(cursor, library, rules):
        kept.setdefault((choice.text, choice.from_column, choice.to_column), choice)
        if len(kept) >= MOST_CHOICES:
            break
    return tuple(kept.values())


def _choices(cursor: Cursor, library: Library, rules: Sequence[str]) -> Iterator[Choice]:
    if cursor.where == "front":
        yield from front_choices(cursor)
    elif cursor.where == "comment":
        yield from allow_choices(cursor, rules)
    elif cursor.where == "head":
        yield from head_choices(cursor)
    elif cursor.where == "start":
        yield from start_choices(cursor)
    elif cursor.where == "below":
        yield from below_choices(cursor)
    elif cursor.where == "table":
        yield from table_choices(cursor, names_of(library))
    elif cursor.where == "item" and cursor.at >= cursor.start:
        colon = colon_of(plain(cursor.line), cursor.start)
        if colon is None or cursor.at <= colon:
            yield from name_choices(cursor, library)
        else:
            yield from _fields(cursor, colon, names_of(library))


def _fields(cursor: Cursor, colon: int, names: Names) -> Iterator[Choice]:
    """Fields after the colon: those of the same exercise elsewhere when there are none yet, then one at a time."""
    line, at = cursor.line, cursor.at
    name = plain(line[cursor.start : colon]).strip()
    said = plain(line[colon + 1 :])
    faults = _faults(said)
    low, high = _segment(said, at - colon - 1)
    fragment = said[low : at - colon - 1]
    whole = said[low:high].strip()
    if not said.strip():
        yield from _as_before(cursor, name, at)
    before, after = said[:low], said[high:]
    joined = not fragment.strip() and bool(whole)
    rest = said if joined else before + "," + after
    stated = groups_in(FieldReader(rest).read())
    for offer in field_offers(Asked.of(name, names), fragment, sets=_own_sets(cursor)):
        if not _stated(offer, stated):
            lead = "" if fragment[:1].isspace() or (not fragment and said[:low].endswith(" ")) else " "
            start, end = (at, at) if joined else (colon + 1 + low, colon + 1 + high)
            made = Choice(
                lead + offer.text + (", " if joined else ""), start + 1, end + 1, "field", offer.detail, offer.begins
            )
            if not joined and fragment[:1].isspace():
                start += len(fragment) - len(fragment.lstrip())
                made = Choice(offer.text, start + 1, end + 1, "field", offer.detail, offer.begins)
            if made.beginning or _faults(plain(made.applied(line)[colon + 1 :])) <= faults:
                yield made
    reader = FieldReader(said).read()
    if whole and at == colon + 1 + high and not reader.unread and not reader.slips:
        yield from _next_field(cursor, colon, said, names, name)


def _next_field(cursor: Cursor, colon: int, said: str, names: Names, name: str) -> Iterator[Choice]:
    """After a whole field: a comma and the next one."""
    at = cursor.at
    stated = groups_in(FieldReader(said).read())
    for offer in field_offers(Asked.of(name, names), "", sets=_own_sets(cursor)):
        made = Choice(f", {offer.text}", at + 1, at + 1, "field", offer.detail, offer.begins)
        if not _stated(offer, stated) and (
            made.beginning or not _faults(plain(made.applied(cursor.line)[colon + 1 :]))
        ):
            yield made


def _as_before(cursor: Cursor, name: str, at: int) -> Iterator[Choice]:
    """What other lines of the programme prescribe for the same exercise."""
    low = " ".join(name.lower().split())
    same = [i for i in cursor.items if i.index != cursor.index and i.fields and " ".join(i.name.lower().split()) == low]
    for fields, line in {i.fields: i.index + 1 for i in same}.items():
        lead = "" if cursor.line[:at].endswith((" ", "\t")) else " "
        if not _faults(fields):
            yield Choice(lead + fields, at + 1, len(cursor.line) + 1, "field", f"as in line {line}")


def _own_sets(cursor: Cursor) -> bool:
    """May a line of this block say its own sets?"""
    block = cursor.part("block")
    return block is None or (block.head.block == "straight" and block.head.sets is None)


def _stated(offer: Offer, stated: set[str]) -> bool:
    return offer.text in stated or any(g in stated for g in _group_names(offer.group))


def _group_names(group: str) -> list[str]:
    return ["sets", "amount"] if group == "sets amount" else [group]


def _faults(fields: str) -> Counter[str]:
    """What the reader would call an error in these fields, by kind."""
    reader = FieldReader(fields).read()
    reader.dose()
    return Counter([s.code for s in reader.slips if s.level == "error"] + ["unread"] * len(reader.unread))


def _segment(said: str, at: int) -> tuple[int, int]:
    """The field the cursor is in: from after the comma before it to the comma after it. A decimal comma parts nothing."""
    cuts = [
        n for n, c in enumerate(said) if c in ",;" and not (said[n - 1 : n].isdigit() and said[n + 1 : n + 2].isdigit())
    ]
    low = max((n + 1 for n in cuts if n < at), default=0)
    high = min((n for n in cuts if n >= at), default=len(said))
    return low, high
