"""Places where Markdown reads something else than the coach sees. Each is told, and mended in the text that is read on."""

from __future__ import annotations

import re

from markdown_it.token import Token

from ferrule.programme.heads import is_head
from ferrule.programme.markdown import tokens_of
from ferrule.programme.report import Report
from ferrule.programme.source import Source

PASSES = 6
"""Traps inside traps are mended one layer a pass; what is deeper than this is read as plain text."""

_QUOTE = re.compile(r"^(\s*(?:(?:[-*+]|\d{1,9}[.)])\s+)*)>\s?")
_PLUS = re.compile(r"^(\s*(?:[-*+]\s+)*?)\+(?=\s|$)")
_HIDDEN_LIST = re.compile(r"(?: {4,}| {0,3}\t)\s*[-*+] +\S")
_RULE_CELL = re.compile(r"\s*:?-+:?\s*")


class _Edits:
    """Changes to lines by index: a new text, and whether a blank line or a table rule goes before it."""

    def __init__(self) -> None:
        self.text: dict[int, str] = {}
        self.before: dict[int, str] = {}

    def __bool__(self) -> bool:
        return bool(self.text or self.before)

    def applied(self, source: Source) -> Source:
        lines: list[str] = []
        origin: list[int] = []
        for index, line in enumerate(source.lines):
            if index in self.before:
                lines.append(self.before[index])
                origin.append(source.origin[index])
            lines.append(self.text.get(index, line))
            origin.append(source.origin[index])
        return Source(tuple(lines), tuple(origin), source.raw)


def mended(source: Source, report: Report) -> tuple[Source, list[Token]]:
    """The text with its Markdown traps mended, and its block tokens.

    Findings: table-under-list, head-under-list, line-made-heading, quote-sign, plus-sign, spaces-made-code,
    table-rule-missing, table-rule-width.
    """
    tokens = tokens_of(source)
    for _ in range(PASSES):
        edits = _Edits()
        _find(source, tokens, edits, report)
        if not edits:
            break
        source = edits.applied(source)
        tokens = tokens_of(source)
    return source, tokens


def _find(source: Source, tokens: list[Token], edits: _Edits, report: Report) -> None:
    in_item = 0
    done_to = 0
    for place, token in enumerate(tokens):
        if token.type == "list_item_open":
            in_item += 1
        elif token.type == "list_item_close":
            in_item -= 1
        if token.map is None:
            continue
        start, end = token.map
        if token.type == "blockquote_open" and start >= done_to:
            _mend_quote(source, start, end, edits, report)
            done_to = end
        elif token.type == "code_block" and start >= done_to:
            _mend_code(source, start, end, edits, report)
            done_to = end
        elif token.type == "list_item_open" and token.markup == "+" and start >= done_to:
            _mend_plus(source, start, edits, report)
        elif token.type == "heading_open" and token.markup in ("-", "=") and start >= done_to:
            _mend_underline(source, end, token.markup, edits, report)
        elif token.type == "inline" and tokens[place - 1].type == "paragraph_open" and start >= done_to:
            _mend_paragraph(source, start, end, in_item > 0, edits, report)


def _mend_quote(source: Source, start: int, end: int, edits: _Edits, report: Report) -> None:
    first = source.lines[start]
    more_than = bool(_QUOTE.match(first) and _QUOTE.sub("", first, count=1)[:1].isdigit())
    column = first.find(">") + 1
    report.add(
        "quote-sign", "advice", source.origin[start], _column(source, start, first[column - 1 :]), None,
        "The sign > at the start of a line makes a quotation.",
        "Markdown sets the line apart and takes the sign away; here it is read as plain text.",
        "Write `more than`." if more_than else "Leave the sign out.",
    )  # fmt: skip
    for index in range(start, min(end, len(source.lines))):
        line = source.lines[index]
        found = _QUOTE.match(line)
        if found:
            rest = line[found.end() :]
            lead = found.group(1)
            # a word, not the bare number: `> 90 %` must not come to say 90 %
            edits.text[index] = lead + ("more than " if rest[:1].isdigit() else "") + rest


def _mend_code(source: Source, start: int, end: int, edits: _Edits, report: Report) -> None:
    rows = [i for i in range(start, min(end, len(source.lines))) if source.lines[i].strip()]
    if not rows:
        return
    wide = [source.lines[i].expandtabs(4) for i in rows]
    cut = min(len(w) - len(w.lstrip()) for w in wide)
    report.add(
        "spaces-made-code", "advice", source.origin[rows[0]], 1, _white(source.raw[source.origin[rows[0]] - 1]) + 1,
        "Four spaces (or a tab) at the start of a line make it code in Markdown.",
        "A reader of Markdown shows it as it stands; here it is read as if it were not set in.",
        "Take the spaces away; two are enough under a list item.",
    )  # fmt: skip
    for index, line in zip(rows, wide, strict=True):
        edits.text[index] = line[cut:]


def _mend_plus(source: Source, start: int, edits: _Edits, report: Report) -> None:
    line = source.lines[start]
    found = _PLUS.match(line)
    if not found:
        return
    edits.text[start] = found.group(1) + "-" + line[found.end() :]
    report.add(
        "plus-sign", "advice", source.origin[start], _column(source, start, line[found.end() - 1 :]), None,
        "The sign + at the start of a line makes a list item in Markdown.",
        "It was read as an item of the list, like one with `-`.",
        "Write `-` for an item; write an added load as `12 kg` in the item.",
    )  # fmt: skip


def _mend_underline(source: Source, end: int, mark: str, edits: _Edits, report: Report) -> None:
    line = end - 1
    report.add(
        "line-made-heading", "advice", source.origin[line], 1, None,
        f"A line of {mark} under a text makes that text a heading in Markdown.",
        "The text above it was read as a line of its own.", f"Leave a blank line before it, or leave the {mark} out.",
    )  # fmt: skip
    if mark == "=":
        edits.text[line] = ""
    else:
        edits.before[line] = ""


def _mend_paragraph(source: Source, start: int, end: int, in_item: bool, edits: _Edits, report: Report) -> None:
    for index in range(start, min(end, len(source.lines))):
        text = source.lines[index].strip()
        if text.startswith("|"):
            _mend_table(source, start, index, min(end, len(source.lines)), in_item, edits, report)
            return
        if index > start and _HIDDEN_LIST.match(source.lines[index]):
            _mend_hidden_list(source, start, index, min(end, len(source.lines)), in_item, edits, report)
            return
        if in_item and index > start and is_head(text) and not source.lines[index].startswith(" "):
            edits.before[index] = ""
            report.add(
                "head-under-list", "advice", source.origin[index], 1, None,
                f"`{text[:50]}` stands directly under a list.",
                "Markdown takes it as more text of the last item; here it was read as a line of its own.",
                "Leave a blank line before it.",
            )  # fmt: skip
            return


def _mend_hidden_list(
    source: Source, start: int, first: int, end: int, in_item: bool, edits: _Edits, report: Report
) -> None:
    """A list set in by four spaces directly under a text goes on with that text in Markdown."""
    lines = [(i, source.lines[i].expandtabs(4)) for i in range(first, end)]
    found = re.match(r"\s*(?:[-*+]|\d{1,9}[.)])\s+", source.lines[start]) if in_item else None
    keep = found.end() if found else 0
    widths = [len(w) - len(w.lstrip()) for _, w in lines]
    cut = max(0, widths[0] - keep)
    report.add(
        "spaces-hid-list", "advice", source.origin[first], 1, None,
        "A list item set in this far directly under a text is no list item in Markdown.",
        "Markdown takes it as more of the text above; here it was read as an item.", "Set it in by two spaces at most.",
    )  # fmt: skip
    for (index, wide), width in zip(lines, widths, strict=True):
        edits.text[index] = wide[min(cut, width) :]


def _mend_table(source: Source, start: int, first: int, end: int, in_item: bool, edits: _Edits, report: Report) -> None:
    width = len(cells(source.lines[first]))
    second = source.lines[first + 1].strip() if first + 1 < end else ""
    is_rule = bool(second) and all(_RULE_CELL.fullmatch(c) for c, _ in cells(second))
    line = source.origin[first]
    if first > start and in_item:
        report.add(
            "table-under-list", "advice", line, 1, None, "A table stands directly under a list.",
            "Markdown takes it as more text of the last item; here it was read as a table.",
            "Leave a blank line before the table.",
        )  # fmt: skip
        edits.before[first] = ""
        for index in range(first, end):
            edits.text[index] = source.lines[index].lstrip()
    elif first > start:
        edits.before[first] = ""
    if not is_rule:
        if first + 1 >= end or not second.startswith("|"):
            if not (first > start):
                return  # a lone line with bars: it is told where it is read
            return
        report.add(
            "table-rule-missing", "advice", line, 1, None, "The table has no line of dashes under its first row.",
            "Markdown sees no table without it; here it was read as one.",
            "Write `" + rule(width) + "` under the first row.",
        )  # fmt: skip
        edits.before[first + 1] = rule(width)
    elif len(cells(second)) != width:
        report.add(
            "table-rule-width", "advice", source.origin[first + 1], 1, None,
            f"The line of dashes has {len(cells(second))} columns, the first row has {width}.",
            "Markdown sees no table when they differ; here it was read as one.", "Write `" + rule(width) + "`.",
        )  # fmt: skip
        edits.text[first + 1] = rule(width)


def rule(width: int) -> str:
    """The line under the heading of a table with `width` columns."""
    return "|" + "---|" * width


def cells(line: str) -> list[tuple[str, int]]:
    """The cells of a table row and where each one's text starts, from 0; `\\|` does not part cells."""
    found: list[tuple[str, int]] = []
    start = 0
    text = line
    position = 0
    pieces: list[tuple[int, int]] = []
    while position < len(text):
        if text[position] == "|" and (position == 0 or text[position - 1] != "\\"):
            pieces.append((start, position))
            start = position + 1
        position += 1
    pieces.append((start, len(text)))
    if pieces and not text[pieces[0][0] : pieces[0][1]].strip() and len(pieces) > 1:
        pieces = pieces[1:]
    if len(pieces) > 1 and not text[pieces[-1][0] : pieces[-1][1]].strip():
        pieces = pieces[:-1]
    for low, high in pieces:
        part = text[low:high]
        found.append((part.strip(), low + len(part) - len(part.lstrip())))
    return found


def _white(line: str) -> int:
    return len(line) - len(line.lstrip())


def _column(source: Source, index: int, content: str) -> int:
    return source.column(index, content.rstrip())
