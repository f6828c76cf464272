"""What of a change can be told apart from error: the smallest detectable change, and changes held against it.

Test theory, for one person measured twice with a standard error of measurement SEM:

    SDC = 1.96 sqrt(2) SEM        less than this is no change, at 95 % (standard measurement theory, from memory)
    SEM = sqrt(mean square of the error) of a two-way table, persons by occasions (the same; its ICCs: Shrout and Fleiss
          1979)

A belief before and one after have errors of their own, so that  SDC = 1.96 hypot(sd before, sd after), which is the same
where they are equal. What the two have in common makes it too large, never too small.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from ferrule.capacity.home_tests import BRIDGE_SE, HEEL_RAISE_SE, HOLD_SE_LOG, PRESS_UP_SE
from ferrule.model.entry import LoggedTest
from ferrule.model.squad import Capacity, TestKind
from ferrule.model.words import Group

Z95: Final = 1.96
Z80: Final = 1.2816

SETS_SE_LOG: Final = 0.042
"""No reading of strength is taken to be better than one tested maximum: CV of 1RM test and retest 4.2 %, median of 32
studies (Grgic 2020, seen). The smallest change that is ever claimed is 1.96 sqrt(2) times it: 12 %."""

Verdict = Literal["more", "less", "no change told", "no information"]


@dataclass(frozen=True, slots=True)
class Reliability:
    """Of a table of persons by occasions: ICC(1,1), (2,1), (3,1) and of the mean of all occasions; SEM in the unit told.

    Forms as Shrout and Fleiss 1979 name them: one-way; two-way random; two-way fixed.
    """

    one: tuple[float, float, float]
    mean: tuple[float, float, float]
    sem: float


def reliability(table: Sequence[Sequence[float]]) -> Reliability:
    """ICCs and SEM of a table, a row a person, a column an occasion. Raises ValueError under two of either, or uneven."""
    n, k = len(table), len(table[0]) if table else 0
    if n < 2 or k < 2 or any(len(row) != k for row in table):
        raise ValueError("at least two persons, each measured on the same two or more occasions")
    rows = [sum(row) / k for row in table]
    columns = [sum(row[j] for row in table) / n for j in range(k)]
    grand = sum(rows) / n
    total = sum((x - grand) ** 2 for row in table for x in row)
    persons = k * sum((r - grand) ** 2 for r in rows)
    occasions = n * sum((c - grand) ** 2 for c in columns)
    between = persons / (n - 1)
    within = (total - persons) / (n * (k - 1))
    occasion = occasions / (k - 1)
    error = (total - persons - occasions) / ((n - 1) * (k - 1))
    one = (
        (between - within) / (between + (k - 1) * within),
        (between - error) / (between + (k - 1) * error + k * (occasion - error) / n),
        (between - error) / (between + (k - 1) * error),
    )
    mean = (
        (between - within) / between,
        (between - error) / (between + (occasion - error) / n),
        (between - error) / between,
    )
    return Reliability(one, mean, math.sqrt(max(0.0, error)))


def smallest_detectable(sem: float) -> float:
    """1.96 sqrt(2) SEM, in the unit of SEM."""
    return Z95 * math.sqrt(2) * sem


@dataclass(frozen=True, slots=True)
class Change:
    """A change of log capacity in one group, and whether it can be told from error.

    mean, sd     of the difference, natural log;  detectable: the smallest that counts
    sets         sets of the group that were told in the time between
    """

    group: Group
    mean: float
    sd: float
    detectable: float
    sets: int

    @property
    def verdict(self) -> Verdict:
        """`more` or `less` only where the change reaches what can be detected, and sets of the group were told."""
        if not self.sets:
            return "no information"
        if abs(self.mean) < self.detectable:
            return "no change told"
        return "more" if self.mean > 0 else "less"

    @property
    def percent(self) -> tuple[float, float, float]:
        """Low end, middle and high end of an 80 % interval of the change, per cent."""
        ends = (self.mean - Z80 * self.sd, self.mean, self.mean + Z80 * self.sd)
        low, middle, high = (100 * math.expm1(x) for x in ends)
        return low, middle, high

    @property
    def detectable_percent(self) -> float:
        """How much more it would have to be to be told, per cent."""
        return 100 * math.expm1(self.detectable)


def change_of(before: Capacity, after: Capacity, group: Group, sets: int) -> Change | None:
    """The change in `group` between two beliefs; None where one of them has no word on it."""
    if group not in before.mean_log or group not in after.mean_log:
        return None
    sd = math.hypot(before.sd_log[group], after.sd_log[group])
    detectable = max(Z95 * sd, smallest_detectable(SETS_SE_LOG))
    return Change(group, after.mean_log[group] - before.mean_log[group], sd, detectable, sets)


TEST_SE: Final[dict[TestKind, float]] = {
    "heel raises": HEEL_RAISE_SE,
    "press-ups": PRESS_UP_SE,
    "bridges one leg": BRIDGE_SE,
}
"""Standard error of one test, repetitions. Planks have theirs on the log of time; of chair rises none is known."""


@dataclass(frozen=True, slots=True)
class ChangeOfTest:
    """One home test done twice. detectable: the smallest change that counts, in its unit; None where none is known."""

    kind: TestKind
    first: LoggedTest
    last: LoggedTest
    detectable: float | None

    @property
    def verdict(self) -> Verdict:
        """As for a change of capacity; without a known error nothing is claimed."""
        change = self.last.value - self.first.value
        if self.detectable is None or abs(change) < self.detectable:
            return "no change told"
        return "more" if change > 0 else "less"


def changes_of_tests(tests: Sequence[LoggedTest]) -> tuple[ChangeOfTest, ...]:
    """The first and the last of each test and side that was done on two days, in the order first done."""
    by_kind: dict[tuple[TestKind, str], list[LoggedTest]] = {}
    for test in sorted(tests, key=lambda t: t.day):
        by_kind.setdefault((test.kind, test.side), []).append(test)
    made = []
    for (kind, _), done in by_kind.items():
        first, last = done[0], done[-1]
        if first.day < last.day:
            made.append(ChangeOfTest(kind, first, last, _detectable(kind, first.value)))
    return tuple(made)


def _detectable(kind: TestKind, first: float) -> float | None:
    if kind in ("front plank", "side plank"):
        return first * math.expm1(smallest_detectable(HOLD_SE_LOG))
    return None if kind not in TEST_SE else smallest_detectable(TEST_SE[kind])
