"""The block structure of a text, by markdown-it-py: paragraphs, headings, lists, tables, comments, with their places."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TypeAlias

from markdown_it import MarkdownIt
from markdown_it.token import Token

from ferrule.programme.source import Source

_BLOCKS = MarkdownIt("commonmark", {"maxNesting": 80}).enable("table").disable(["inline", "reference", "text_join"])
"""Only blocks: what stands inside a line is our own grammar. Link references would swallow lines, so they are off.
What is nested deeper than `maxNesting` is lost without a word, and the preset's 20 is reached by ten lists."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text and where it starts: `number` and `column` in the user's file, `indent` as written.

    first   does it begin its block?
    """

    text: str
    number: int
    column: int
    indent: int = 0
    first: bool = True


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph, or a heading of `level` 1-6."""

    lines: tuple[Line, ...]
    level: int = 0


@dataclass(frozen=True, slots=True)
class Table:
    """The lines of a table; the second is its rule."""

    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Html:
    """Comments and other HTML."""

    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """Fenced text, and whatever could not be mended into blocks."""

    lines: tuple[Line, ...]
    closed: bool = True


@dataclass(slots=True)
class Entry:
    """One item of a list: its nodes, and the indent at which its own text starts."""

    number: int
    indent: int
    nodes: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Listing:
    """A list: its entries in order."""

    entries: list[Entry] = field(default_factory=list)


Node: TypeAlias = Para | Table | Html | Code | Listing


def tokens_of(source: Source) -> list[Token]:
    """Block tokens of the text; `token.map` counts lines of `source.lines` from 0."""
    return _BLOCKS.parse("\n".join(source.lines))


def nodes_of(source: Source, tokens: list[Token]) -> list[Node]:
    """The tree of blocks. Shape: nodes in order of place; lists hold entries that hold nodes."""
    top: list[Node] = []
    stack: list[list[Node]] = [top]
    lists: list[Listing] = []
    level, skip_to = 0, ""
    for token in tokens:
        kind = token.type
        if skip_to:
            skip_to = "" if kind == skip_to else skip_to
            continue
        if kind == "inline":
            stack[-1].append(Para(_lines(source, token.map or [0, 0], token.content), level))
        elif kind == "heading_open":
            level = int(token.tag[1]) if token.markup.startswith("#") else 0
        elif kind == "heading_close":
            level = 0
        elif kind in ("bullet_list_open", "ordered_list_open"):
            lists.append(Listing())
            stack[-1].append(lists[-1])
        elif kind in ("bullet_list_close", "ordered_list_close"):
            lists.pop()
        elif kind == "list_item_open":
            start = (token.map or [0, 0])[0]
            entry = Entry(source.origin[start], _text_indent(source.lines[start]))
            lists[-1].entries.append(entry)
            stack.append(entry.nodes)
        elif kind == "list_item_close":
            stack.pop()
        elif kind == "table_open":
            stack[-1].append(Table(_lines(source, token.map or [0, 0])))
            skip_to = "table_close"
        elif kind == "html_block":
            stack[-1].append(Html(_unmarked(_lines(source, token.map or [0, 0]), len(stack) > 1)))
        elif kind in ("fence", "code_block"):
            code = _code(source, token)
            stack[-1].append(Code(_unmarked(code.lines, len(stack) > 1), code.closed))
    return top


def _code(source: Source, token: Token) -> Code:
    start, end = token.map or [0, 0]
    last = source.lines[min(end, len(source.lines)) - 1].strip() if end > start else ""
    closed = _closes(token.markup, last) if token.type == "fence" else True
    return Code(_lines(source, [start, end]), closed and not (token.type == "fence" and end - start == 1))


def _closes(markup: str, last: str) -> bool:
    """Does the last line of a fence close it?"""
    return len(last) >= len(markup) and set(last) == set(markup[:1])


def _unmarked(lines: tuple[Line, ...], in_list: bool) -> tuple[Line, ...]:
    """Lines that are not paragraphs, without the list mark their first one may stand behind."""
    found = re.match(r"(?:(?:[-+*]|\d{1,9}[.)])\s+)+", lines[0].text) if in_list and lines else None
    if found is None:
        return lines
    first = lines[0]
    return (Line(first.text[found.end() :], first.number, first.column + found.end(), first.indent), *lines[1:])


def _text_indent(line: str) -> int:
    found = re.match(r"\s*(?:[-+*]|\d{1,9}[.)])\s*", line)
    return found.end() if found else 0


def _lines(source: Source, where: list[int], content: str | None = None) -> tuple[Line, ...]:
    """Lines of a block that hold text; `content` is that text without list markers and heading signs."""
    found: list[Line] = []
    parts = None if content is None else content.split("\n")
    for offset, index in enumerate(range(where[0], min(where[1], len(source.lines)))):
        full = source.lines[index]
        text = (full if parts is None else parts[offset] if offset < len(parts) else "").strip()
        if text:
            indent = len(full) - len(full.lstrip())
            found.append(Line(text, source.origin[index], source.column(index, text), indent, not found))
    return tuple(found)
