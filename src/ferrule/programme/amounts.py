"""Numbers, ranges and times inside a line, and the faults found while reading them."""

from __future__ import annotations

from dataclasses import dataclass, field

from ferrule.model.finding import Level
from ferrule.model.quantity import Range
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report
from ferrule.programme.scan import Token, plain, scan

SECONDS = {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, '"': 1}
MINUTES = {"min": 60, "mins": 60, "minute": 60, "minutes": 60, "mn": 60, "'": 60}
TIME_UNITS = SECONDS | MINUTES
METRES = {"m": 1, "metre": 1, "metres": 1, "meter": 1, "meters": 1, "km": 1000, "kilometre": 1000, "kilometres": 1000}
LARGEST = 100_000.0
"""Numbers above this are slips of the finger."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A fault at `start` to `end` of the line, from 0; becomes a finding once the line is known to be what it seems."""

    code: str
    level: Level
    start: int
    end: int
    what: str
    why: str
    fix: str


@dataclass(slots=True)
class Amounts:
    """Reads amounts from the tokens of one text. Every reader gives the amount and the next place, or None."""

    text: str
    tokens: list[Token] = field(default_factory=list)
    slips: list[Slip] = field(default_factory=list)

    def load(self, start: int = 0) -> None:
        self.tokens = scan(plain(self.text), start)

    def low(self, at: int) -> str:
        """The token's text in lower case; empty past the end."""
        tokens = self.tokens
        return tokens[at].low if at < len(tokens) else ""

    def kind(self, at: int) -> str:
        return self.tokens[at].kind if at < len(self.tokens) else ""

    def start(self, at: int) -> int:
        return self.tokens[at].start if at < len(self.tokens) else len(self.text)

    def end_before(self, at: int) -> int:
        return self.tokens[at - 1].end if 0 < at <= len(self.tokens) else 0

    def slip(self, code: str, level: Level, first: int, after: int, what: str, why: str, fix: str) -> None:
        """A fault from token `first` up to token `after`, exclusive."""
        self.slips.append(Slip(code, level, self.start(first), self.end_before(after), what, why, fix))

    def words(self, at: int, *expected: str) -> bool:
        """Do the tokens from `at` read as these words or signs?"""
        if at + len(expected) > len(self.tokens):
            return False
        tokens = self.tokens
        for word in expected:
            if tokens[at].low != word:
                return False
            at += 1
        return True

    def numbers(self, at: int) -> tuple[float, float, int] | None:
        """`8`, `5-7`, `5 to 7`: low, high and the next place. Three numbers with hyphens are not a range."""
        if self.kind(at) != "num":
            return None
        low = self.tokens[at].value
        if self.low(at + 1) in ("-", "to") and self.kind(at + 2) == "num":
            if self.low(at + 1) == "-" and self.low(at + 3) == "-" and self.kind(at + 4) in ("num", "word"):
                return low, low, at + 1
            return low, self.tokens[at + 2].value, at + 3
        return low, low, at + 1

    def range_of(self, low: float, high: float, first: int, after: int) -> Range:
        """A range; one that runs backwards is told and turned, a number past all sense is told and cut."""
        if low > high:
            self.slip(
                "range-backwards", "error", first, after, f"The range {_plain(low)}-{_plain(high)} runs backwards.",
                "The smaller number comes first.", f"Write `{_plain(high)}-{_plain(low)}`.",
            )  # fmt: skip
            low, high = high, low
        if high > LARGEST:
            self.slip(
                "number-too-large", "error", first, after, f"The number {self.low(first)} is too large to be meant.",
                "Nothing here is counted in such numbers.", "Write the number that is meant.",
            )  # fmt: skip
            low, high = min(low, LARGEST), LARGEST
        return Range(round(low, 4), round(high, 4))

    def time(self, at: int, *, bare: str = "") -> tuple[Range, int] | None:
        """A time in seconds: `30 s`, `75-90 s`, `2 min`, `1:30`, `1 min 30 s`.

        bare  what a number without a unit would be ("rest", "pause" ...): it is then read as seconds and told
        """
        if self.kind(at) == "clock":
            low = high = self.tokens[at].value
            after = at + 1
            if self.low(after) in ("-", "to") and self.kind(after + 1) == "clock":
                high, after = self.tokens[after + 1].value, after + 2
            if self.low(after) in MINUTES and self.low(after) != "'":
                after += 1
            return self.range_of(low, high, at, after), after
        amount = self.numbers(at)
        if amount is None:
            return None
        low, high, after = amount
        unit = self.low(after)
        if unit in TIME_UNITS:
            factor, end = TIME_UNITS[unit], after + 1
            low, high = low * factor, high * factor
            if factor == 60 and low == high and self._seconds_follow(end):
                low = high = low + self.tokens[end].value
                end += 1 + (self.low(end + 1) in SECONDS)
            elif low == high and self.low(end) in ("-", "to") and self.kind(end + 1) == "num":
                other = TIME_UNITS.get(self.low(end + 2), 0)
                if other:
                    high, end = self.tokens[end + 1].value * other, end + 3
            return self.range_of(low, high, at, end), end
        if unit == "m" and low == high and self.kind(after + 1) == "num" and self.low(after + 2) in SECONDS:
            low = low * 60 + self.tokens[after + 1].value
            return self.range_of(low, low, at, after), after + 3
        if bare and unit == "m":
            self.slip(
                "unit-unclear", "advice", at, after + 1, f"`{self.piece(at, after + 1)}` was read as minutes.",
                "`m` is metres here.", f"Write `{_span(low, high)} min`.",
            )  # fmt: skip
            return self.range_of(low * 60, high * 60, at, after), after + 1
        if bare:
            self.slip(
                "unit-missing", "advice", at, after, f"`{bare} {_span(low, high)}` has no unit; it was read as seconds.",
                "Seconds and minutes are easily taken for one another.",
                f"Write `{bare} {_span(low, high)} s`" + (f", or `{bare} {_span(low, high)} min`." if high <= 10 else "."),
            )  # fmt: skip
            return self.range_of(low, high, at, after), after
        return None

    def _seconds_follow(self, at: int) -> bool:
        """`1 min 30 s`, and `1'30` written in one piece."""
        if self.kind(at) != "num":
            return False
        joined = self.low(at - 1) == "'" and self.start(at) == self.tokens[at - 1].end
        return self.low(at + 1) in SECONDS or (joined and self.tokens[at].value < 60)

    def piece(self, first: int, after: int) -> str:
        """The text of the tokens from `first` up to `after`, as written."""
        return self.text[self.start(first) : self.end_before(after)]


def tell(slips: list[Slip], line: Line, report: Report, offset: int = 0) -> None:
    """Slips of a text that starts `offset` signs into `line` become findings."""
    for slip in slips:
        start = line.column + offset + slip.start
        end = line.column + offset + max(slip.end, slip.start + 1)
        report.add(slip.code, slip.level, line.number, start, end, slip.what, slip.why, slip.fix)


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _span(low: float, high: float) -> str:
    return _plain(low) if low == high else f"{_plain(low)}-{_plain(high)}"
