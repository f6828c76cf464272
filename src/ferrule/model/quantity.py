"""Small quantities: ranges, tempo, loads. Units are in the names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.words import Band, Place


@dataclass(frozen=True, slots=True, order=True)
class Range:
    """A closed range; a single number is a range with both ends equal. `low <= high`."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise ValueError(f"range runs backwards: {self.low} to {self.high}")

    @staticmethod
    def of(value: float) -> Range:
        return Range(value, value)

    @property
    def single(self) -> bool:
        return self.low == self.high

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2

    def __str__(self) -> str:
        return number(self.low) if self.single else f"{number(self.low)}-{number(self.high)}"


def number(value: float) -> str:
    """A number as people write it: no needless decimals (`12`, `2.5`)."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


@dataclass(frozen=True, slots=True)
class Tempo:
    """Seconds down, pause, up and (when given) at the top; `x` is as fast as possible."""

    down: float | Literal["x"]
    pause: float | Literal["x"]
    up: float | Literal["x"]
    top: float | Literal["x"] | None = None

    def rep_s(self) -> float:
        """Seconds one repetition takes; a fast phase counts 0.5 s (common practice, no source)."""
        return sum(0.5 if p == "x" else p for p in (self.down, self.pause, self.up, self.top) if p is not None)

    def __str__(self) -> str:
        parts = [self.down, self.pause, self.up] + ([] if self.top is None else [self.top])
        return "-".join(p if p == "x" else number(p) for p in parts)


@dataclass(frozen=True, slots=True)
class Load:
    """A load as the coach wrote it.

    kg          per hand when `each_hand`, else the total; None when only a band or a place is named
    none        the coach wrote that no weight is used
    """

    kg: Range | None = None
    each_hand: bool = False
    place: Place | None = None
    band: Band | None = None
    none: bool = False

    @property
    def total_kg(self) -> Range | None:
        """The whole load, kg: twice the written number for `each hand`."""
        if self.kg is None or not self.each_hand:
            return self.kg
        return Range(2 * self.kg.low, 2 * self.kg.high)


@dataclass(frozen=True, slots=True)
class Percent:
    """A percentage with its base named; `at_least` for `>90 %`, `about` for `about 70 %`.

    of   a load: 1RM, body mass; a hold: best hold (its time), max force (its pull); how hard one goes: HRmax, top speed, effort
    """

    percent: Range
    of: Literal["1RM", "body mass", "best hold", "max force", "HRmax", "top speed", "effort"]
    at_least: bool = False
    about: bool = False


@dataclass(frozen=True, slots=True)
class SetLoads:
    """A load for each set: `loads 40, 45, 50 kg`, `loads 65, 75, 85 % 1RM`."""

    values: tuple[float, ...]
    unit: Literal["kg", "% 1RM", "% body mass"]


@dataclass(frozen=True, slots=True)
class Step:
    """What is added as weeks go by: `add 5 kg a week, to 60 kg`.

    every   "" where the line does not say how often;  to: where it ends, in the same unit (kg for %)
    """

    amount: Range
    unit: Literal["kg", "%", "reps", "s", "sets"]
    every: Literal["", "week", "2 weeks", "session"] = ""
    to: float | None = None
