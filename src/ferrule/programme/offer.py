"""One choice that an editor may show at the cursor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "front matter", "cycle", "session", "block", "variant", "slot", "alternative", "field", "row", "by-week table",
    "condition", "note", "coach", "allow", "rule",
]  # fmt: skip
"""Words of the glossary."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Text to put in place of columns `from_column` to `to_column` (from 1, exclusive) of the cursor's line.

    detail     one line that explains it
    beginning  more has to be written before the line reads without an error
    """

    text: str
    from_column: int
    to_column: int
    kind: Kind
    detail: str
    beginning: bool = False

    def applied(self, line: str) -> str:
        """The line with the choice in it (more lines where the text holds line ends)."""
        return line[: self.from_column - 1] + self.text + line[self.to_column - 1 :]
