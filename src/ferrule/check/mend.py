"""Safe fixes: the edits that findings carry, kept only where the text read again shows that they did what they say."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ferrule.check.minutes import variant_of
from ferrule.check.run import check
from ferrule.model.exercise import Library
from ferrule.model.finding import Edit, Finding, in_order
from ferrule.model.house import House
from ferrule.model.programme import Block, Item, Programme, Session
from ferrule.programme.head_text import head_of_block
from ferrule.programme.meaning import meaning
from ferrule.programme.reader import read_programme
from ferrule.programme.text import item_text

WRITING = frozenset({"unit-missing", "tempo-without-word", "sets-after-amount", "word-misspelt"})
"""Faults of writing that end when the line is written in its canonical form, if that form reads as the same thing.
Where the reader had to choose between two meanings (`2 m`, `@8`) the coach has to say which: not among them."""
_MOST = 200
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)?")


@dataclass(frozen=True, slots=True)
class Mended:
    """text: the whole text, mended.  done: the findings that are gone, as they were; left: those of the new text."""

    text: str
    done: tuple[Finding, ...]
    left: tuple[Finding, ...]


def mend(text: str, file: str, library: Library, house: House) -> Mended:
    """Every safe fix of a programme: all together, else by halves, so that one refused does not cost the others.

    A fix is kept when its finding is gone, no finding is new, and the weeks still ask the same of a runner. What is
    mended once needs no second time. Line ends stay as they are.
    """
    start = text
    programme, found = first = _read(text, file, library, house)
    refused: set[tuple[Edit, ...]] = set()
    waiting = [_apart(_offers(programme, found))]
    for _ in range(_MOST):
        while waiting and not waiting[-1]:
            waiting.pop()
        if not waiting:
            break
        offers = waiting.pop()
        new = applied(text, (edit for edits in offers for edit in edits))
        after, then = _read(new, file, library, house)
        if _told(then) < _told(found) and _asks(after, library) == _asks(programme, library):
            text, programme, found = new, after, then
            waiting = [_apart(edits for edits in _offers(programme, found) if edits not in refused)]
        elif len(offers) == 1:
            refused.add(offers[0])
        else:
            half = len(offers) // 2
            waiting += [offers[half:], offers[:half]]
    gone = _told(first[1]) - _told(found)
    return Mended(text, tuple(_these(first[1], gone)) if text != start else (), found)


def _apart(offers: Iterable[tuple[Edit, ...]]) -> list[tuple[Edit, ...]]:
    """The offers, each once, of which no two touch the same line; the others have their turn when these are made."""
    taken: set[int] = set()
    out: dict[tuple[Edit, ...], None] = {}
    for edits in offers:
        lines = {edit.span.line for edit in edits}
        if edits not in out and not lines & taken:
            taken |= lines
            out[edits] = None
    return list(out)


def _these(findings: Iterable[Finding], gone: Counter[tuple[str, str, str]]) -> Iterator[Finding]:
    """As many of the findings as are gone."""
    left = Counter(gone)
    for finding in findings:
        key = (finding.code, finding.level, finding.what)
        if left[key] > 0:
            left[key] -= 1
            yield finding


def applied(text: str, edits: Iterable[Edit]) -> str:
    """The text with the edits made, from the last place to the first; places count in `text`, from 1."""
    lines = _LINE.findall(text)[:-1]  # the last match is the empty end
    for edit in sorted(edits, key=lambda e: (e.span.line, e.span.column), reverse=True):
        at, first, last = edit.span.line - 1, edit.span.column - 1, edit.span.end_column
        if not 0 <= at < len(lines):
            continue
        line = lines[at]
        body = line.rstrip("\r\n")
        ends = line[len(body) :]
        if last is None:
            lines[at] = edit.text
        else:
            new = edit.text.replace("\n", ends or "\n")
            lines[at] = body[:first] + new + body[last - 1 :] + ends
    return "".join(lines)


def _read(text: str, file: str, library: Library, house: House) -> tuple[Programme, tuple[Finding, ...]]:
    programme, findings = read_programme(text, file, library)
    return programme, in_order((*findings, *check(programme, library, house)))


def _told(findings: Iterable[Finding]) -> Counter[tuple[str, str, str]]:
    """What is said, without its place: a mended line may move the rest down."""
    return Counter((f.code, f.level, f.what) for f in findings)


def _offers(programme: Programme, findings: Iterable[Finding]) -> Iterator[tuple[Edit, ...]]:
    lines: dict[int, Edit] | None = None
    for finding in findings:
        if finding.edits:
            yield finding.edits
        elif finding.code in WRITING and finding.span is not None:
            lines = _canonical(programme) if lines is None else lines
            if finding.span.line in lines:
                yield (lines[finding.span.line],)


def _canonical(programme: Programme) -> dict[int, Edit]:
    """The canonical form of every item and block head, by its line."""

    def of(item: Item) -> Iterator[Edit]:
        yield Edit(item.span, item_text(item))
        for other in item.alternatives:
            yield from of(other)

    def blocks() -> Iterator[Block]:
        for cycle in programme.cycles:
            for session in cycle.sessions:
                yield from session.blocks

    edits = [Edit(block.span, head_of_block(block)) for block in blocks()]
    edits += [edit for block in blocks() for item in block.items for edit in of(item)]
    return {e.span.line: e for e in edits if e.span.end_column is not None}


def _asks(programme: Programme, library: Library) -> object:
    """What the programme asks of a runner: without places, kit, allows, and which word an effort is written in.

    Sides that are not written count as each side for work done on one side at a time, as the fit and the sheet read them.
    """
    cycles = tuple(
        replace(cycle, sessions=tuple(_sided(session, library) for session in cycle.sessions))
        for cycle in programme.cycles
    )
    return meaning((programme.weeks, cycles, programme.notes, programme.conditions))


def _sided(session: Session, library: Library) -> Session:
    blocks = (replace(b, items=tuple(_item(item, library) for item in b.items)) for b in session.blocks)
    return replace(session, blocks=tuple(blocks))


def _item(item: Item, library: Library) -> Item:
    variant = variant_of(item, library)
    sides = "each" if item.dose.sides is None and variant is not None and variant.sided else item.dose.sides
    others = tuple(_item(other, library) for other in item.alternatives)
    return replace(item, dose=replace(item.dose, sides=sides), alternatives=others)
