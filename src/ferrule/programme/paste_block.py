"""A block of a pasted programme while it is put together, and its lines in the notation."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range
from ferrule.programme.heads import read_head
from ferrule.programme.paste_item import PastedItem
from ferrule.programme.text import line_text, seconds_text


@dataclass(slots=True)
class Words:
    """A line of words. line: in the pasted text."""

    text: str
    line: int


@dataclass(slots=True)
class Placed:
    """An item, the line it stood in, and the words below it."""

    item: PastedItem
    line: int
    below: list[Words] = field(default_factory=list)


@dataclass(slots=True)
class PastedBlock:
    """A block in the making. stated: a line of the text began it."""

    kind: BlockKind | Literal["rounds"]
    line: int
    label: str = ""
    sets: Range | None = None
    rest_s: Range | None = None
    between_s: Range | None = None
    stated: bool = False
    blank: bool = False
    letter: str = ""
    parts: list[Placed | Words] = field(default_factory=list)

    @property
    def items(self) -> list[Placed]:
        return [p for p in self.parts if isinstance(p, Placed)]


def ends_round(block: PastedBlock, item: PastedItem) -> bool:
    """An item that stands apart from the two or more of a stated round: another mark, or sets of its own."""
    items = [p.item for p in block.items if not p.item.is_or]
    if block.kind == "straight" or item.letter or item.is_or or len(items) < 2:
        return False
    own = item.dose.sets is not None and all(i.dose.sets is None for i in items)
    return item.marked != items[0].marked or (own and block.kind != "warm-up")


def share_sets(block: PastedBlock) -> None:
    """Sets that all items of a round share are its rounds."""
    stated = [p.item.dose.sets for p in block.items if not p.item.is_or]
    said = Counter(s for s in stated if s is not None)
    if len(said) == 1 and block.sets is None and (block.kind != "warm-up" or None not in stated):
        block.sets = next(iter(said))
    for placed in block.items:
        if placed.item.dose.sets == block.sets:
            placed.item.dose = replace(placed.item.dose, sets=None)


def head_line(block: PastedBlock) -> str:
    """The head of the block: `Pair A, 3 rounds, rest 90 s`."""
    kind = str(block.kind)
    word = "set" if kind == "straight" else "round"
    label = block.label if kind in ("pair", "circuit") else ""
    parts = [f"{kind.capitalize()} {label}".strip()]
    if block.sets is not None:
        parts.append(f"{block.sets} {word}" + ("" if block.sets == Range.of(1) else "s"))
    if block.between_s is not None and kind != "straight":
        parts.append("between " + seconds_text(block.between_s))
    rest = block.rest_s or (block.between_s if kind == "straight" else None)
    if rest is not None:
        parts.append("rest " + seconds_text(rest))
    return ", ".join(parts)


def item_lines(placed: Placed, set_in: bool) -> Iterator[tuple[str, int]]:
    """The lines of an item with the pasted line each came from. set_in: it is an alternative of the item above."""
    item = placed.item
    text = line_text(item.exercise, item.dose, optional=item.optional, weeks=item.weeks)
    yield (f"  - or {text}" if set_in else f"- {text}", placed.line)
    lead = "    " if set_in else "  "
    for note in item.notes:
        yield (f"{lead}note: {note}", placed.line)
    for words in placed.below:
        low = words.text.lower()
        said = low.startswith(("note:", "if ", "when ", "coach:"))
        yield (lead + (words.text if said else f"note: {words.text}"), words.line)


def safe(text: str) -> str:
    """A line of words that Markdown and the reader take for nothing else."""
    first = text[:1]
    low = text.lower()
    if low.startswith(("coach:", "note:", "aim:")):
        return text
    words = first.isalpha() and read_head(text) is None and not low.startswith(("or ", "any "))
    return (
        text
        if words and ":" not in text and "coach" not in low
        else f"note: {text}"
        if "coach:" not in low
        else f"coach: {text}"
    )
