"""A page of words and tables: one value, written as HTML for screen and paper, and as plain text for a terminal."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import wrap

from markupsafe import Markup

from ferrule.deliver.html import environment, inline
from ferrule.deliver.plain import clean


@dataclass(frozen=True, slots=True)
class Para:
    """One paragraph. kind: `note` is set back, `strong` stands out."""

    text: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Item:
    """One point of a list: what it is about, the sentences on it, and points below it."""

    head: str
    texts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Items:
    """A list of points."""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; the first cell of a row names it. caption: what it shows, for everybody.

    brief   cells of a few characters: on a phone they stand beside each other
    small   rows, counted from 0, that may be set back on paper
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    brief: bool = False
    small: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """Words that must not be missed, in a frame: a head and points; tail below them."""

    head: str
    points: tuple[str, ...]
    tail: str = ""


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines to write on by hand, or to copy as they stand."""

    lines: tuple[str, ...]


Block = Para | Items | Table | Box | Lines


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

    heading: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Document:
    """A page. lead: the lines under the title;  foot: at the end. No text of it is trusted: all is cleaned and escaped.

    tight   printed small and in two columns where that fits, to stay on one side of paper
    """

    title: str
    lead: tuple[str, ...]
    sections: tuple[Section, ...]
    foot: tuple[str, ...] = ()
    tight: bool = False


_WHOLE = re.compile(
    r"(?:\d+ x )?\d[\d.]*(?:-(?:\d[\d.]*|x\b))+(?:/side)?(?: (?:kg|s|m|%)(?!\w))?"
    r"|\b\d+ x \d+(?: (?:kg|s|m)(?!\w))?"
    r"|\b(?:(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?\d{1,2} (?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b",
)
"""A range, a tempo, sets of something, an ISO date or a day: never broken over two lines."""


def whole(text: str) -> Markup:
    """`text` cleaned and escaped, with ranges and days kept on one line.

    A span does it and no joining character: what is copied from the page is what was written.
    """
    said, at, out = clean(text), 0, Markup()
    for found in _WHOLE.finditer(said):
        out += said[at : found.start()]
        out += Markup('<span class="whole">{}</span>').format(found[0])
        at = found.end()
    return out + said[at:]


def html_of(document: Document) -> str:
    """One file that needs no network, no script and no other file."""
    style, style_hash = inline("paper.css", "document.css")
    page = environment().get_template("document.html")
    return page.render(
        page=document, style=style, style_hash=style_hash, clean=clean, whole=whole, kind=lambda b: type(b).__name__
    )


def text_of(document: Document, columns: int = 80) -> str:
    """The same as plain text, wrapped."""
    lines = [clean(document.title), *(part for text in document.lead for part in wrap(clean(text), columns))]
    for section in document.sections:
        lines += ["", clean(section.heading), "-" * len(clean(section.heading))]
        for block in section.blocks:
            lines += _block_lines(block, columns)
    lines += ["", *(part for text in document.foot for part in wrap(clean(text), columns))] if document.foot else []
    return "\n".join(lines) + "\n"


def _block_lines(block: Block, columns: int) -> Iterator[str]:
    if isinstance(block, Para):
        yield from wrap(clean(block.text), columns)
    elif isinstance(block, Items):
        for item in block.items:
            yield from _point(
                ": ".join(part for part in (clean(item.head), " ".join(map(clean, item.texts))) if part), columns
            )
    elif isinstance(block, Box):
        yield from wrap(clean(block.head), columns)
        for point in block.points:
            yield from _point(clean(point), columns)
        yield from wrap(clean(block.tail), columns)
    elif isinstance(block, Lines):
        yield from (clean(line) for line in block.lines)
    else:
        yield from wrap(clean(block.caption), columns)
        for row in block.rows:
            cells = [f"{head}: {cell}" for head, cell in zip(block.heads[1:], row[1:], strict=True) if cell]
            yield from _point("; ".join((row[0], *cells)), columns)


def _point(text: str, columns: int) -> list[str]:
    return wrap(clean(text), columns, initial_indent="- ", subsequent_indent="  ")
