"""Lines of a block that are no words: items without their `-`, rests."""

from __future__ import annotations

import re

from ferrule.programme.fields import FieldReader
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain

_LABELLED = re.compile(r"(?:[A-Z]\d{1,2}|\d{1,2})\s*[.):]?\s+|o\s+|\[[ xX]?\]\s*")
_REST = re.compile(r"(?:rest|recover(?:y)?)\b[\s:]*", re.IGNORECASE)


def without_label(text: str) -> str:
    """An item that stands without its `-`, less `A1.`, `o` or `[ ]` before its name."""
    found = _LABELLED.match(text)
    return text[found.end() :] if found else text


def tell_lone_rest(line: Line, report: Report) -> None:
    """`Rest: 60` on a line of its own is printed as a note, and nobody counts it. Finding: rest-on-own-line."""
    found = _REST.match(line.text)
    if found is None or len(line.text) > 60:
        return
    text = plain(line.text)
    probe = FieldReader(text[found.end() :], bare="rest_s").read()
    if "rest_s" not in probe.values:
        return
    value = probe.values["rest_s"]
    shown = f"{value} s"
    report.add(
        "rest-on-own-line", "advice", line.number, line.column, line.column + len(line.text),
        f"`{short(line.text)}` stands on a line of its own; it was read as a note.",
        "A rest that is to be counted is a field of a head or of an item.",
        f"Write `rest {shown}` in the head of the block, or `between {shown}` for the rest between its exercises.",
    )  # fmt: skip
