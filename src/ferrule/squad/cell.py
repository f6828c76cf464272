"""One cell of the squad file: its text, its place, and the findings made about it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ferrule.model.finding import Finding, Level, Span

_PLAIN = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u202f\t", " "),
        **dict.fromkeys("\u2018\u2019", "'"),
        **dict.fromkeys("\u201c\u201d", '"'),
        "\u00d7": "x",
    }
)
NOTHING = frozenset({"", "-", "--", "none", "no", "n/a", "na", "nothing", "?", "not told"})
"""What people write in a cell that says nothing."""

NUMBER = r"\d{1,6}(?:[.,]\d{1,4})?"
"""A number with a decimal point, or a decimal comma without a space."""


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of one cell and where it stands (line of the file, number of the field)."""

    text: str
    span: Span

    @property
    def plain(self) -> str:
        """The text with plain dashes, signs and single spaces; line breaks are kept."""
        lines = self.text.translate(_PLAIN).replace("\r\n", "\n").replace("\r", "\n").split("\n")
        return "\n".join(" ".join(line.split()) for line in lines).strip()

    @property
    def key(self) -> str:
        """`plain` in lower case on one line, without a last full stop."""
        return " ".join(self.plain.lower().split()).rstrip(".")

    @property
    def empty(self) -> bool:
        return self.key in NOTHING


def shown(text: str, most: int = 60) -> str:
    """A value as it is quoted in a finding: on one line, no control characters, cut at `most` characters."""
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return f'"{line}"' if len(line) <= most else f'"{line[: most - 3]}..."'


def fault(
    cell: Cell, code: str, what: str, why: str, fix: str, *, level: Level = "error", related: tuple[Span, ...] = ()
) -> Finding:
    """A finding about this cell."""
    return Finding(code=code, level=level, what=what, why=why, fix=fix, span=cell.span, related=related)


def number_of(text: str) -> float:
    """The value of a text that matched NUMBER."""
    return float(text.replace(",", "."))


def entries(cell: Cell, *, commas: bool = True) -> tuple[str, ...]:
    """The entries of a list cell: parted by `;` or a new line, and by a comma followed by a space when `commas`."""
    pattern = r"[;\n]|,(?=\s)|,$" if commas else r"[;\n]"
    parts = (p.strip(" ,.") for p in re.split(pattern, cell.plain))
    return tuple(p for p in parts if p)
