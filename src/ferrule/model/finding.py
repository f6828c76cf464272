"""Findings: what a stage noticed, as a value. Stages return them; they never print or raise them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Level = Literal["error", "advice", "note"]
"""error: cannot be done, or is unsafe. advice: the coach may set it aside. note: for information."""


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A place in a file the user wrote. Lines and columns count from 1; `end_column` is exclusive.

    In a table file (CSV) `line` is the line of the file and `column` the number of the field.
    """

    file: str
    line: int
    column: int = 1
    end_column: int | None = None

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Edit:
    """A mending that may be made without asking: the text of `span` becomes `text`.

    A span whose two columns are equal is a place between two characters; one without an end takes the whole line with
    its line end.
    """

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the user.

    code     kebab-case name of the rule or fault, stable
    what     what was read, or what is so; one sentence
    why      why it matters
    fix      what to do about it
    source   where the rule comes from, with its provenance ("common practice, no source", "from memory")
    strength how strong the evidence is, in the words of docs/rules.md; empty where none is claimed
    edits    the same as `fix`, where it can be done without asking; all of them or none
    """

    code: str
    level: Level
    what: str
    why: str
    fix: str
    span: Span | None = None
    source: str = ""
    related: tuple[Span, ...] = ()
    strength: str = ""
    edits: tuple[Edit, ...] = ()


def has_errors(findings: Iterable[Finding]) -> bool:
    """True when any finding is of level `error`."""
    return any(f.level == "error" for f in findings)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by place, each once; those without a place come last."""
    seen: dict[Finding, None] = dict.fromkeys(findings)
    return tuple(sorted(seen, key=lambda f: (f.span is None, _place(f.span), f.level != "error", f.code)))


def _place(span: Span | None) -> tuple[str, int, int, int]:
    """What findings are sorted by; a span without an end comes before one with an end."""
    return ("", 0, 0, 0) if span is None else (span.file, span.line, span.column, span.end_column or 0)
