"""Parts of a programme while they are being read, before keys are given."""

from __future__ import annotations

from dataclasses import dataclass, field

from ferrule.model.finding import Span
from ferrule.programme.heads import Head
from ferrule.programme.items import ItemDraft
from ferrule.programme.lines import Said
from ferrule.programme.markdown import Table


@dataclass(slots=True)
class BlockDraft:
    """A block while it is read. implied: its items stood under no head of their own."""

    head: Head
    span: Span
    said: Said = field(default_factory=Said)
    items: list[ItemDraft] = field(default_factory=list)
    tables: list[tuple[Table, list[str]]] = field(default_factory=list)
    implied: bool = False


@dataclass(slots=True)
class SessionDraft:
    """A session while it is read."""

    head: Head
    span: Span
    said: Said = field(default_factory=Said)
    blocks: list[BlockDraft] = field(default_factory=list)


@dataclass(slots=True)
class CycleDraft:
    """A cycle while it is read. implied: the text has no head for it."""

    head: Head
    span: Span
    said: Said = field(default_factory=Said)
    sessions: list[SessionDraft] = field(default_factory=list)
    aim: str = ""
    implied: bool = False


@dataclass(slots=True)
class Chunk:
    """A stretch of the canonical text: lines that stand together, a blank line on either side."""

    lines: list[str] = field(default_factory=list)
    tight: bool = False
    items: list[ItemDraft] = field(default_factory=list)

    def text(self) -> list[str]:
        found = list(self.lines)
        for item in self.items:
            shown = item.lines()
            if shown[0] or len(shown) > 1:  # an item without text of its own says nothing
                found.append(f"- {shown[0]}".rstrip())
            found += shown[1:]
        return found
