"""An old programme, copied out of a mail, a note, a document or a spreadsheet, into the notation - as far as it goes.

What was understood is written in canonical form. A line that was not stays where it stood, as words, and is told. Nothing
is lost: every line that holds anything is in `Pasted.lines` with what it became.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from ferrule.library.names import nearest
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span, in_order
from ferrule.programme.heads import read_head
from ferrule.programme.naming import NAME_LIMIT, Names, names_of
from ferrule.programme.paste_block import (
    PastedBlock,
    Placed,
    Words,
    ends_round,
    head_line,
    item_lines,
    safe,
    share_sets,
)
from ferrule.programme.paste_head import PastedHead, is_weekday, read_block_fields, read_pasted_head
from ferrule.programme.paste_item import PastedItem, read_item
from ferrule.programme.paste_line import Cleaned, cleaned, columns_of, row_text
from ferrule.programme.reader import read_programme
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain
from ferrule.programme.source import read_source
from ferrule.programme.text import name_text
from ferrule.programme.tidy import tidy

Became = Literal["title", "cycle", "session", "block", "columns", "item", "field", "words", "coach", "kept"]
"""columns: the first row of a table. words: a note that reads as one. kept: not understood, and left as it stood."""


@dataclass(frozen=True, slots=True)
class PastedLine:
    """What one line became. line: in the pasted text, from 1. text: as it stood, without copied marks."""

    line: int
    became: Became
    text: str


@dataclass(frozen=True, slots=True)
class Pasted:
    """The programme in the notation, and what became of every line that held anything."""

    text: str
    lines: tuple[PastedLine, ...]


def paste(data: bytes | str, file: str, library: Library) -> tuple[Pasted, tuple[Finding, ...]]:
    """Turns a pasted text into the notation. Never raises; findings point into the pasted text.

    Findings: paste-line-kept, paste-guess, paste-exercise-unknown, and those of the reader on what it became.
    """
    report = Report(file)
    source = read_source(data, report)
    report.lines = source.raw
    work = _Pasting(names_of(library), report)
    for number, raw in enumerate(source.lines, 1):
        work.line(number, raw)
    work.end()
    written = "\n".join(text for text, _ in work.out).strip("\n") + "\n" if work.out else ""
    shift = next((n for n, (text, _) in enumerate(work.out) if text), 0)
    text, _ = tidy(written, file, library)
    _, findings = read_programme(written, file, library)
    report_of = [f for f in (_moved(f, work.out, shift, file, source.raw) for f in findings) if f is not None]
    told = {(f.span.line, f.code) for f in report.findings() if f.span}
    own = {f.span.line for f in report.findings() if f.span and f.code.startswith("paste-")}
    kept = [
        f
        for f in report_of
        if f.span is None or ((f.span.line, f.code) not in told and not (f.span.line in own and f.code in _SAID))
    ]
    return Pasted(text, tuple(sorted(work.lines, key=lambda p: p.line))), in_order((*report.findings(), *kept))


_SAID = ("exercise-unknown", "condition-only-prints", "unit-missing")


def _moved(finding: Finding, out: list[tuple[str, int]], shift: int, file: str, raw: tuple[str, ...]) -> Finding | None:
    """A finding on what was written, at the line it came from."""
    if finding.code in ("file-empty", "nothing-to-do"):
        return finding
    if finding.span is None:
        return finding
    place = finding.span.line - 1 + shift
    line = out[place][1] if 0 <= place < len(out) else 0
    if not line:
        return None
    return replace(finding, span=Span(file, line, 1, len(raw[line - 1]) + 1), related=())


@dataclass(slots=True)
class _Pasting:
    names: Names
    report: Report
    out: list[tuple[str, int]] = field(default_factory=list)
    lines: list[PastedLine] = field(default_factory=list)
    block: PastedBlock | None = None
    columns: tuple[str, ...] = ()
    sessions: int = 0
    used: set[str] = field(default_factory=set)
    blank: bool = True
    coach: bool = False

    # -- one line --------------------------------------------------------------------------------------------------

    def line(self, number: int, raw: str) -> None:
        clean = cleaned(raw)
        if not clean.text:
            if raw.strip():
                self.lines.append(PastedLine(number, "words", raw.strip()))  # a rule of dashes, a lone bullet
            self.blank = True
            self.coach = False
            if self.block is not None:
                self.block.blank = True
            return
        self._line(number, clean)
        self.blank = False

    def _line(self, number: int, clean: Cleaned) -> None:
        text = clean.text
        low = text.lower()
        if low.startswith(("coach:", "coach note", "private:")) or (
            self.coach and clean.bullet is False and not self.blank
        ):
            self.coach = True
            self._words(number, text if low.startswith("coach:") else f"coach: {text}", "coach", alone=True)
            return
        if clean.cells and self._row(number, clean):
            return
        if not set(text) - set("-=_*~. "):
            self.lines.append(PastedLine(number, "words", text))
            return
        head = read_pasted_head(text)
        if head is not None:
            self._head(head, number, text)
            return
        fields = read_block_fields(text) if self.block is not None and not clean.bullet else None
        if fields is not None and self.block is not None:
            block = self.block
            if not any(
                a is not None and b is not None and a != b
                for a, b in zip(fields, (block.sets, block.rest_s, block.between_s), strict=True)
            ):
                block.sets, block.rest_s, block.between_s = (
                    a or b for a, b in zip(fields, (block.sets, block.rest_s, block.between_s), strict=True)
                )
                self.lines.append(PastedLine(number, "field", text))
                return
        item = (
            None
            if low.startswith(("note", "nb", "tip", "if ", "when ", "aim"))
            else read_item(text, self.names, marked=clean.bullet)
        )
        if item is not None:
            self._item(item, number, text)
            return
        if self._title(number, text, clean):
            return
        self._unread(number, text, clean)

    def _title(self, number: int, text: str, clean: Cleaned) -> bool:
        plainly = not clean.bullet and len(text) <= 70 and not text.endswith((".", ",", ":", "!", "?", ";"))
        if self.lines or self.out or not plainly or read_head(text) is not None:
            return False
        self.out.append((f"# {text}", number))
        self.lines.append(PastedLine(number, "title", text))
        return True

    def _unread(self, number: int, text: str, clean: Cleaned) -> None:
        low = text.lower()
        if low.startswith(("note:", "if ", "when ", "aim:")) and (":" in text):
            self._words(number, text, "words", alone=low.startswith("aim:"))
            return
        begins = self.names.longest(text) is not None
        near = nearest(self.names.library, text[:NAME_LIMIT]) if clean.bullet and any(c.isdigit() for c in text) else ()
        fix = "Write it as fields of an item, or leave it as words."
        if near:
            fix = "Nearest exercises: " + ", ".join(f"`{v.name}`" for v in near) + "; write `name: fields`."
        self.report.add(
            "paste-line-kept", "advice" if any(c.isdigit() for c in text) else "note", number, 1, None,
            f"`{short(text)}` was not understood; it stays as it stood.",
            "It is read as words for the runner.", fix if near or any(c.isdigit() for c in text) else "Leave it, or begin it with `coach:` when it is not for runners.",
        )  # fmt: skip
        self._words(number, text, "kept", alone=begins or any(c.isdigit() for c in text))

    def _words(self, number: int, text: str, became: Became, *, alone: bool = False) -> None:
        self.lines.append(PastedLine(number, became, text))
        words = Words(text, number)
        if is_weekday(text):
            self._close()
        block = self.block
        if block is None:
            self.out += [("", 0), (safe(text), number)]
        elif block.items and not block.blank and not alone:
            block.items[-1].below.append(words)
        else:
            block.parts.append(words)

    # -- parts -----------------------------------------------------------------------------------------------------

    def _head(self, head: PastedHead, number: int, text: str) -> None:
        if head.guess:
            self.report.add(
                "paste-guess", "note", number, 1, None, head.guess, "A note says day 1 for the first session as often as for Monday.",
                "Write `day 1` in the head of the session when Monday is meant.",
            )  # fmt: skip
        inline = list(self._inline(head.rest)) if head.rest else []
        if head.kind == "block":
            if self.block is not None and not self.block.items and self.block.stated and head.block == "rounds":
                self._join(head, number, text)
                return
            self._close()
            self.block = PastedBlock(
                head.block, number, head.label, head.sets, head.rest_s, head.between_s, stated=True
            )
            self.lines.append(PastedLine(number, "block", text))
        elif head.kind == "session":
            self._close()
            self.sessions += 1
            label = head.label if head.label and head.label not in self.used else str(self.sessions)
            while label in self.used:
                self.sessions += 1
                label = str(self.sessions)
            self.used.add(label)
            first = f"### Session {label}" + (f", day {head.day}" if head.day else "")
            rest = ", ".join(
                p for p in (head.name.replace(":", " -"), f"{head.minutes} min" if head.minutes else "") if p
            )
            self.out += [("", 0), (f"{first}: {rest}" if rest else first, number)]
            self.lines.append(PastedLine(number, "session", text))
        else:
            self._close()
            self.sessions, self.used = 0, set()
            low, high = head.weeks or (1, 1)
            span = f"weeks {low}-{high}" if high > low else f"week {low}"
            first = f"## Cycle {head.label}, {span}" if head.label else f"## {span.capitalize()}"
            self.out += [("", 0), (f"{first}: {head.name}" if head.name else first, number)]
            self.lines.append(PastedLine(number, "cycle", text))
        if inline:
            self._into(inline, number)
        elif head.rest:
            self._words_of(head.rest, number)

    def _join(self, head: PastedHead, number: int, text: str) -> None:
        """`3 rounds:` directly below `Superset:` says how often."""
        block = self.block
        assert block is not None  # the caller looked
        block.sets, block.rest_s, block.between_s = (
            head.sets or block.sets,
            head.rest_s or block.rest_s,
            head.between_s or block.between_s,
        )
        self.lines.append(PastedLine(number, "block", text))
        if head.rest:
            self._words_of(head.rest, number)

    def _words_of(self, rest: str, number: int) -> None:
        """Words that stood in a head: they go on as words where the head stood."""
        if self.block is not None:
            self.block.parts.append(Words(rest, number))
        else:
            self.out += [("", 0), (safe(rest), number)]

    def _inline(self, rest: str) -> Iterator[PastedItem]:
        """Items in a row behind a head, `squats x10 + press-ups x10`; nothing unless all of them are known."""
        found: list[PastedItem] = []
        for sign in ("+", ";", ","):
            found = []
            for piece in rest.split(sign):
                item = read_item(piece.strip(), self.names, marked=True)
                if item is None or not item.known:
                    break
                found.append(item)
            else:
                break
            found = []
        yield from found

    def _into(self, items: list[PastedItem], number: int) -> None:
        if self.block is None:
            self.block = PastedBlock("straight", number)
        self.block.parts += [Placed(item, number) for item in items]

    def _row(self, number: int, clean: Cleaned) -> bool:
        columns = columns_of(clean.cells)
        if columns:
            self.columns = columns
            self.lines.append(PastedLine(number, "columns", clean.text))
            return True
        text, notes = row_text(clean.cells, self.columns)
        item = read_item(text, self.names, marked=True)
        if item is None:
            return False
        item.notes += notes
        self._item(item, number, clean.text)
        return True

    def _item(self, item: PastedItem, number: int, text: str) -> None:
        block = self.block
        self.lines.append(PastedLine(number, "item", text))
        if not item.known:
            written = name_text(item.exercise)
            near = ", ".join(f"`{v.name}`" for v in nearest(self.names.library, written[:NAME_LIMIT]))
            self.report.add(
                "paste-exercise-unknown", "error", number, 1, None, f"`{short(written)}` is not an exercise of the library.",
                "The line is kept with its numbers; without knowing the exercise nothing can be checked or fitted for it.",
                f"Nearest: {near}." if near else "Use a name of the library, or add the exercise to your own file.",
            )  # fmt: skip
        if (
            block is not None
            and item.letter
            and block.items
            and block.letter != item.letter
            and (item.number or block.letter)
        ):
            self._close()
            block = None
        if (
            block is not None
            and not item.letter
            and block.blank
            and block.kind in ("pair", "circuit", "rounds")
            and (len(block.items) > 1 or block.letter)
        ):
            self._close()
            block = None
        if block is not None and not item.letter and block.letter and not block.stated:
            self._close()
            block = None
        if block is not None and ends_round(block, item):
            self._close()
            block = None
        if block is None:
            block = self.block = PastedBlock("rounds" if item.number else "straight", number)
        if item.letter and item.number:
            block.letter = item.letter
            block.label = block.label or item.letter
            if block.kind == "straight" and block.stated and not block.items:
                block.kind = "rounds"
        block.blank = False
        block.parts.append(Placed(item, number))

    # -- writing ---------------------------------------------------------------------------------------------------

    def end(self) -> None:
        self._close()

    def _close(self) -> None:
        block, self.block = self.block, None
        if block is None:
            return
        if not block.items:
            self._empty(block)
            return
        items = block.items
        if block.kind == "rounds":
            block.kind = "circuit" if len(items) > 2 else "pair" if len(items) == 2 else "straight"
        if block.kind != "straight":
            share_sets(block)
        self.out += [("", 0), (head_line(block), block.line if block.stated else 0), ("", 0)]
        was_words = False
        for part in block.parts:
            if isinstance(part, Words):
                self.out += [("", 0), (safe(part.text), part.line), ("", 0)]
                was_words = True
                continue
            self.out += item_lines(part, part.item.is_or and part is not items[0] and not was_words)
            was_words = False
        self.out.append(("", 0))

    def _empty(self, block: PastedBlock) -> None:
        """A head without items was none: its line stays as it stood."""
        for n, line in enumerate(self.lines):
            if line.line == block.line and line.became == "block":
                self.lines[n] = replace(line, became="kept")
                self.report.add(
                    "paste-line-kept", "advice", block.line, 1, None, f"`{short(line.text)}` begins like a part, but no exercise follows it.",
                    "It is read as words for the runner.", "Write its exercises below it, one a line.",
                )  # fmt: skip
                self.out += [("", 0), (safe(line.text), block.line)]
        for part in block.parts:
            if isinstance(part, Words) and part.line != block.line:
                self.out += [("", 0), (safe(part.text), part.line)]


def same_words(text: str) -> str:
    """A text for comparing: plain signs, single spaces."""
    return " ".join(plain(text).split())
