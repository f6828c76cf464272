"""Where in a programme the cursor stands: what kind of line it is on, and the parts and items around it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from ferrule.programme.heads import Head, read_head
from ferrule.programme.scan import plain

Where = Literal["front", "comment", "item", "table", "head", "below", "start", "nowhere"]
"""nowhere: inside a fence, or beyond the text."""

_MARK = re.compile(r"\s*(?:[-*+]|\d{1,9}[.)])(?:\s+|$)")
_LEAD = re.compile(r"(?:runner(?:'s)? (?:picks|choice|chooses)\s*:?\s*)?(?:or\b[\s:,]*)?", re.IGNORECASE)
_FENCE = re.compile(r"\s{0,3}(?:```|~~~)")
_COMMENT = re.compile(r"\s*<!--")


@dataclass(frozen=True, slots=True)
class Part:
    """A head in the text. index: its line, from 0."""

    index: int
    head: Head


@dataclass(frozen=True, slots=True)
class Written:
    """An item line: its name as written and the fields after the colon. index: its line, from 0."""

    index: int
    name: str
    fields: str


@dataclass(frozen=True, slots=True)
class Cursor:
    """The cursor at `at` (signs from 0) of line `index` (from 0).

    start    where the content of the line begins: after the list mark, the leading words `or` and `runner picks:`, the `#` signs
    items    every item line of the text;  parts: every head of it
    """

    where: Where
    lines: tuple[str, ...]
    index: int
    at: int
    start: int
    parts: tuple[Part, ...]
    items: tuple[Written, ...]

    @property
    def line(self) -> str:
        return self.lines[self.index]

    def part(self, *kinds: str) -> Part | None:
        """The last head of these kinds above the cursor, unless a larger part has begun since."""
        larger = {"block": ("session", "cycle", "week"), "session": ("cycle", "week")}.get(kinds[0], ())
        for part in reversed([p for p in self.parts if p.index < self.index]):
            if part.head.kind in kinds:
                return part
            if part.head.kind in larger:
                return None
        return None

    def siblings(self, *kinds: str) -> tuple[Part, ...]:
        """The heads of these kinds in the same larger part as the cursor, those below it included."""
        larger = {"block": ("session", "cycle", "week"), "session": ("cycle", "week")}.get(kinds[0], ())
        first = max((p.index for p in self.parts if p.head.kind in larger and p.index < self.index), default=-1)
        last = min((p.index for p in self.parts if p.head.kind in larger and p.index > self.index), default=10**9)
        return tuple(
            p for p in self.parts if p.head.kind in kinds and first <= p.index < last and p.index != self.index
        )

    def items_of_block(self) -> tuple[Written, ...]:
        """The items between the head of the block and the next head, without the line of the cursor."""
        block = self.part("block")
        if block is None:
            return ()
        end = min((p.index for p in self.parts if p.index > block.index), default=10**9)
        return tuple(i for i in self.items if block.index < i.index < end and i.index != self.index)


def lines_of(text: str) -> tuple[str, ...]:
    """The lines of a text as the reader cuts them."""
    return tuple(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))


def cursor_in(text: str, line: int, column: int) -> Cursor | None:
    """The cursor before column `column` of line `line`, both from 1; None when the text has no such line."""
    lines = lines_of(text)
    index = line - 1
    if not 0 <= index < len(lines):
        return None
    at = max(0, min(column - 1, len(lines[index])))
    front_end = _front_end(lines)
    parts: list[Part] = []
    items: list[Written] = []
    fenced = False
    where: Where = "front" if 0 < index < front_end else "nowhere" if index < front_end else "start"
    start = 0
    for place in range(front_end, len(lines)):
        raw = lines[place]
        here = place == index
        if _FENCE.match(raw):
            fenced = not fenced
            if here:
                where = "nowhere"
            continue
        if fenced:
            if here:
                where = "nowhere"
            continue
        mark = _MARK.match(raw)
        stripped = raw.strip()
        if mark:
            lead = mark.end() + _lead(raw[mark.end() :])
            name, fields = _cut(raw, lead)
            items.append(Written(place, name, fields))
            if here:
                where, start = "item", lead
        elif stripped.startswith("|"):
            if here:
                where, start = "table", raw.find("|")
        elif _COMMENT.match(raw):
            if here:
                where, start = "comment", len(raw) - len(raw.lstrip())
        elif stripped:
            head = _head(raw) if stripped[0] in "#*_" or stripped[0].isalpha() else None
            if head is not None:
                parts.append(Part(place, head))
            if here:
                start = len(raw) - len(raw.lstrip("#*_ \t"))
                where = "head" if head is not None else "below" if raw[:1].isspace() else "start"
        elif here:
            start = len(raw)
            where = "below" if raw else "start"
    return Cursor(where, lines, index, at, min(start, len(lines[index])), tuple(parts), tuple(items))


def colon_of(text: str, start: int = 0) -> int | None:
    """The colon that ends a name: the first one that is not inside a time such as 1:30."""
    place = text.find(":", start)
    while place >= 0:
        if not (text[place - 1 : place].isdigit() and text[place + 1 : place + 3].isdigit()):
            return place
        place = text.find(":", place + 1)
    return None


def _cut(raw: str, start: int) -> tuple[str, str]:
    text = plain(raw)
    colon = colon_of(text, start)
    return (text[start:].strip(), "") if colon is None else (text[start:colon].strip(), text[colon + 1 :].strip())


def _lead(text: str) -> int:
    found = _LEAD.match(plain(text))
    return found.end() if found else 0


def _head(raw: str) -> Head | None:
    head = read_head(raw.strip())
    return head if head is not None and (head.whole or head.label or raw.lstrip().startswith("#")) else None


def _front_end(lines: tuple[str, ...]) -> int:
    """How many lines the front matter takes; up to the cursor's own search when it is not closed yet."""
    first = next((i for i, line in enumerate(lines[:50]) if line.strip()), None)
    if first is None or not _rule(lines[first]):
        return 0
    for place in range(first + 1, min(len(lines), first + 200)):
        if _rule(lines[place]):
            return place + 1
        if lines[place].lstrip().startswith(("#", "- ", "|")):
            return place
    return min(len(lines), first + 200)


def _rule(line: str) -> bool:
    text = plain(line.strip())
    return len(text) >= 3 and set(text) == {"-"}
