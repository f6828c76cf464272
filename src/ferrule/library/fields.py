"""Typed fields out of a raw TOML table: what is wrong becomes a finding, the rest is still read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TypeVar

from ferrule.library.key_lines import KeyLines
from ferrule.model.exercise import Fault
from ferrule.model.finding import Finding, Level, Span

T = TypeVar("T", bound=str)
_WHY = "the library must know it before it can draw, place or fit the exercise"


@dataclass(slots=True)
class Fields:
    """One table being read. `taken` are the keys asked for; `left_over()` reports the others.

    shared   values the file gives to each of its variants
    """

    file: str
    part: str
    raw: Mapping[str, object]
    shared: Mapping[str, object]
    lines: KeyLines
    findings: list[Finding] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)

    def span(self, key: str = "") -> Span:
        part = self.part if key in self.raw or key not in self.shared else "shared"
        return Span(self.file, self.lines.of(part, key))

    def fault(self, code: str, key: str, what: str, fix: str, why: str = _WHY, level: Level = "error") -> None:
        self.findings.append(Finding(code, level, what, why, fix, self.span(key)))

    def has(self, key: str) -> bool:
        return key in self.raw or key in self.shared

    def value(self, key: str) -> object:
        """The raw value, or None when the key is not written."""
        self.taken.add(key)
        return self.raw.get(key, self.shared.get(key))

    def _bad(self, key: str, value: object, expected: str) -> None:
        self.fault("library-bad-value", key, f"`{key} = {_shown(value)}` is not {expected}", f"write {expected}")

    def text(self, key: str, default: str = "") -> str:
        value = self.value(key)
        if value is None:
            return default
        if isinstance(value, str) and value.strip():
            return value.strip()
        self._bad(key, value, "a text in quotes")
        return default

    def flag(self, key: str, default: bool) -> bool:
        value = self.value(key)
        if value is None or isinstance(value, bool):
            return default if value is None else value
        self._bad(key, value, "true or false")
        return default

    def number(self, key: str, default: float | None, low: float, high: float) -> float | None:
        value = self.value(key)
        if value is None:
            return default
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return float(value)
        self._bad(key, value, f"a number from {low:g} to {high:g}")
        return default

    def whole(self, key: str, default: int, low: int, high: int) -> int:
        number = self.number(key, default, low, high)
        return default if number is None else int(number)

    def choice(self, key: str, allowed: Sequence[T], default: T | None) -> T | None:
        value = self.value(key)
        if value is None:
            return default
        found = next((a for a in allowed if a == value), None)
        if found is None:
            self._unknown(key, value, allowed)
        return default if found is None else found

    def texts(self, key: str, default: tuple[str, ...] = ()) -> tuple[str, ...]:
        value = self.value(key)
        if value is None:
            return default
        if isinstance(value, list) and all(isinstance(v, str) and v.strip() for v in value):
            return tuple(v.strip() for v in value)
        self._bad(key, value, "a list of texts in quotes")
        return default

    def choices(self, key: str, allowed: Sequence[T], default: tuple[T, ...] = ()) -> tuple[T, ...]:
        if not self.has(key):
            self.taken.add(key)
            return default
        found: list[T] = []
        for word in self.texts(key):
            known = next((a for a in allowed if a == word), None)
            if known is None:
                self._unknown(key, word, allowed)
            else:
                found.append(known)
        return tuple(found)

    def numbers(self, key: str, allowed: Sequence[T], low: float, high: float) -> dict[T, float]:
        """A table of numbers under allowed words: `{ hands = 1.2 }`."""
        value = self.value(key)
        if value is None:
            return {}
        if not isinstance(value, dict):
            self._bad(key, value, "a table such as { hands = 1.2 }")
            return {}
        found: dict[T, float] = {}
        for word, number in value.items():
            known = next((a for a in allowed if a == word), None)
            if known is None:
                self._unknown(key, word, allowed)
            elif isinstance(number, bool) or not isinstance(number, int | float) or not low <= number <= high:
                self._bad(key, {word: number}, f"a number from {low:g} to {high:g}")
            else:
                found[known] = float(number)
        return found

    def span_cm(self, key: str, default: tuple[float, float] | None) -> tuple[float, float] | None:
        value = self.value(key)
        if value is None:
            return default
        match value:
            case [int() | float() as low, int() | float() as high] if 0 <= low <= high <= 150:
                return (float(low), float(high))
        self._bad(key, value, "least and most height in cm, such as [15, 25]")
        return default

    def fault_list(self, key: str, default: tuple[Fault, ...]) -> tuple[Fault, ...]:
        value = self.value(key)
        if value is None:
            return default
        found: list[Fault] = []
        for row in value if isinstance(value, list) else [value]:
            match row:
                case {"seen": str(seen), "mend": str(mend), **rest} if not rest:
                    found.append(Fault(seen, mend))
                case _:
                    self._bad(key, row, 'a list of { seen = "...", mend = "..." }')
        return tuple(found)

    def left_over(self, known: Sequence[str]) -> None:
        """One finding for each key nobody asked for, with the nearest right spelling."""
        for key in self.raw:
            if key not in self.taken:
                near = get_close_matches(key, known, n=1)
                fix = f"write `{near[0]}`" if near else "take the line out"
                self.fault("library-unknown-key", key, f"`{key}` is no field of an exercise", fix, "it was not used")

    def _unknown(self, key: str, word: object, allowed: Sequence[str]) -> None:
        near = get_close_matches(str(word), allowed, n=1)
        fix = f"write `{near[0]}`" if near else f"write one of: {', '.join(allowed)}"
        self.fault("library-bad-value", key, f"`{word}` is not known for `{key}`", fix)


def _shown(value: object) -> str:
    text = str(value)
    return text if len(text) <= 40 else text[:37] + "..."
