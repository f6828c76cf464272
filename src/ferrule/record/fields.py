"""The values of one entry of a phone file, each held against what it may be; what cannot be is named and left out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any

from ferrule.model.finding import Finding, Span

LONGEST_WORDS = 2000
"""Characters of a runner's own words that are kept; the rest is cut off and named."""
MOST_SHOWN = 40


class Unread(Exception):  # noqa: N818 - it ends the reading of one entry, it is no fault of the program
    """This entry cannot be read; the text says why."""


@dataclass(slots=True)
class Fields:
    """One entry's keys. Every reader gives None where the key is absent, and where its value cannot be."""

    raw: dict[str, Any]
    span: Span
    findings: list[Finding] = field(default_factory=list)
    used: set[str] = field(default_factory=set)

    def has(self, name: str) -> bool:
        return self.raw.get(name) is not None

    def text(self, name: str) -> str:
        """Plain text without control characters, "" when absent."""
        value = self._value(name)
        if value is None:
            return ""
        if not isinstance(value, (str, int)) or isinstance(value, bool):
            self.wrong(name, value, "text")
            return ""
        said = "".join(c if c.isprintable() or c == "\n" else " " for c in str(value)).strip()
        if len(said) > LONGEST_WORDS:
            self.wrong(name, said, f"at most {LONGEST_WORDS} characters; the rest was cut off")
        return said[:LONGEST_WORDS]

    def choice(self, name: str, allowed: Sequence[str]) -> Any:
        """One of a closed list. Typed Any, since what is allowed are the words of a Literal."""
        value = self._value(name)
        if value is None or value in allowed:
            return value
        if isinstance(value, str) and value.strip().lower() in allowed:
            return value.strip().lower()
        self.wrong(name, value, "one of " + ", ".join(f"`{a}`" for a in allowed if a))
        return None

    def number(self, name: str, low: float, high: float) -> float | None:
        """A number from `low` to `high`."""
        value = self._value(name)
        if value is None:
            return None
        fits = isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
        if fits and low <= value <= high:
            return float(value)
        self.wrong(name, value, f"a number from {low:g} to {high:g}")
        return None

    def whole(self, name: str, low: int, high: int) -> int | None:
        """A whole number from `low` to `high`."""
        value = self._value(name)
        if value is None:
            return None
        if (
            isinstance(value, (int, float))
            and not isinstance(value, bool)
            and low <= value <= high
            and value == int(value)
        ):
            return int(value)
        self.wrong(name, value, f"a whole number from {low} to {high}")
        return None

    def yes(self, name: str) -> bool | None:
        value = self._value(name)
        if value is None or isinstance(value, bool):
            return value
        self.wrong(name, value, "true or false")
        return None

    def day(self, name: str) -> date | None:
        """A day, as `2026-01-22`."""
        value = self._value(name)
        if value is None:
            return None
        try:
            return date.fromisoformat(str(value)[:10])
        except ValueError:
            self.wrong(name, value, "a day, as `2026-01-22`")
            return None

    def clock(self, name: str) -> time | None:
        """A time of day, as `18:40`; no zone."""
        value = self._value(name)
        if value is None:
            return None
        try:
            return time.fromisoformat(str(value)).replace(tzinfo=None)
        except ValueError:
            self.wrong(name, value, "a time, as `18:40`")
            return None

    def moment(self, name: str) -> datetime | None:
        """A moment with its offset; one without is taken as UTC."""
        value = self._value(name)
        if value is None:
            return None
        try:
            found = datetime.fromisoformat(str(value))
            return found if found.tzinfo is not None else found.replace(tzinfo=UTC)
        except ValueError:
            self.wrong(name, value, "a moment, as `2026-01-22T19:05:12+01:00`")
            return None

    def wrong(self, name: str, value: object, expected: str) -> None:
        """Names a value that cannot be."""
        self.findings.append(
            Finding(
                "log-value", "advice", f"`{name}` is {shown(value)}; it should be {expected}.",
                "It was left out; the rest of the entry was kept.", "Ask the runner what was meant, and log it again.", self.span,
            )
        )  # fmt: skip

    def unknown(self) -> tuple[str, ...]:
        """Keys nobody asked for."""
        return tuple(k for k in self.raw if k not in self.used)

    def _value(self, name: str) -> Any:
        self.used.add(name)
        return self.raw.get(name)


def shown(value: object) -> str:
    """A value as it is quoted in a finding: on one line and short."""
    line = " ".join("".join(c if c.isprintable() else " " for c in str(value)[: MOST_SHOWN * 4]).split())
    return f'"{line}"' if len(line) <= MOST_SHOWN else f'"{line[: MOST_SHOWN - 3]}..."'
