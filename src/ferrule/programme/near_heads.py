"""Lines that lead up to a list as a head does, in other words than a head's, and lines of a block that are no words."""

from __future__ import annotations

import re
from dataclasses import replace

from ferrule.programme.fields import FieldReader
from ferrule.programme.heads import read_head
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain
from ferrule.programme.trade_fields import NUMBER_WORDS

_TIMES = re.compile(
    rf"(?:repeat |do |perform )?(\d{{1,2}}(?: ?(?:-|to) ?\d{{1,2}})?|{'|'.join(NUMBER_WORDS)})(?: ?x| times| (?:rounds?|sets?|rds))"
    r"(?:[ ,]*(?:of|through|each|the following))*",
    re.IGNORECASE,
)
_GROUPED = re.compile(
    r"(?:tri[- ]?sets?|giant[- ]?sets?|complex|stations?|rotations?|triplet|trio|couplet|compound[- ]?sets?)",
    re.IGNORECASE,
)
_MINUTE = re.compile(r"(?:emom|on the minute)\b[\s:,]*", re.IGNORECASE)
_MANY = re.compile(r"amrap\b[\s:,]*", re.IGNORECASE)
_NAMED = re.compile(r"(?:block|part|finisher|main (?:sets?|work|part|block|lifts?))(?: ([A-Z])\b)?", re.IGNORECASE)
_ROUNDS = re.compile(r"\brounds?\b|\brds\b|\btimes\b", re.IGNORECASE)
_LABELLED = re.compile(r"(?:[A-Z]\d{1,2}|\d{1,2})\s*[.):]?\s+|o\s+|\[[ xX]?\]\s*")
_REST = re.compile(r"(?:rest|recover(?:y)?)\b[\s:]*", re.IGNORECASE)


def near_head(line: Line, report: Report) -> Line | None:
    """The line as the head it stands for; None when it is no such line. It is told: head-word-unknown."""
    text = plain(line.text.strip("*_# ")).rstrip(" :.")
    meant = _meant(text)
    if meant is None:
        return None
    head = read_head(meant)
    if head is None or not head.whole or head.slips:
        return None
    report.add(
        "head-word-unknown", "advice", line.number, line.column, line.column + len(line.text),
        f"`{short(line.text)}` stands before a list, but does not begin like a head; it was read as `{meant}`.",
        "Without a head the list would belong to the block above, or to none.", f"Write `{meant}`.",
    )  # fmt: skip
    return replace(line, text=meant)


def _meant(text: str) -> str | None:
    if len(text) > 60:
        return None
    found = _TIMES.match(text)
    if found:
        count = found[1].lower()
        return _joined("Circuit", f"{NUMBER_WORDS.get(count, count)} rounds", text[found.end() :])
    found = _GROUPED.match(text)
    if found:
        return "Circuit" + text[found.end() :]
    found = _MINUTE.match(text)
    if found:
        rest = text[found.end() :]
        return _joined("Circuit", "on the minute", rest + " min" if rest.isdigit() else rest)
    found = _MANY.match(text)
    if found:
        rest = text[found.end() :]
        return _joined("Circuit", rest + " min" if rest.isdigit() else rest or "max rounds", "")
    found = _NAMED.match(text)
    if found:
        rest = text[found.end() :]
        label = f" {found[1]}" if found[1] else ""
        name = "" if label or ":" in rest else f": {found[0].capitalize()}"
        return f"{'Circuit' if _ROUNDS.search(rest) else 'Straight'}{label}{rest}{name}"
    return None


def _joined(kind: str, first: str, rest: str) -> str:
    return ", ".join(p for p in (kind, first, rest.strip(" ,:-")) if p)


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
