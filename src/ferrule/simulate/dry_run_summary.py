"""A dry run in numbers: effort by line, sets failed, minutes, who stalls, contacts, and stated chances beside what happened."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from ferrule.simulate.dry_run import DryRun, LineDone, WeekDone

STALL_WEEKS: Final = 3
"""So many weeks off the band in one direction, and no nearer: stalled (ours)."""
NO_STEP: Final = 1.02
"""Demand that grew by less has not grown."""
LEAST_SAID: Final = 138
"""Sets in a stratum from which its share is shown: with so many a stated 90 % misses by 5 % at most, 95 times in 100."""
STRATA: Final = (0.0, 0.6, 0.75, 0.85, 0.92, 0.96, 0.985, 1.0001)
CONVERGED: Final = 2 / 3
"""A runner is there in the week in which so many of the lines with a stated effort are in the band (ours)."""
DRAWN: Final = 200


@dataclass(frozen=True, slots=True)
class Band:
    """A share or a number over all runners, and the middle 80 % over runners drawn again (`DRAWN` times)."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LineSummary:
    """One written line over all runners and weeks of its cycle."""

    cycle_name: str
    session_key: str
    item_key: str
    written: str
    runner_weeks: int
    too_easy: Band
    right: Band
    too_hard: Band
    failed: Band
    outgrown: float


@dataclass(frozen=True, slots=True)
class Stall:
    """A runner and line that stayed off the band. way: `too easy` (nothing harder was given) or `too hard` (nothing easier)."""

    runner_id: str
    session_key: str
    item_key: str
    written: str
    way: str
    weeks: int
    outgrown: bool


@dataclass(frozen=True, slots=True)
class Stratum:
    """Sets whose stated chance of completing lay in [low, high): mean stated, share completed, and its 95 % interval."""

    low: float
    high: float
    sets: int
    stated: float
    happened: float
    least: float
    most: float

    @property
    def enough(self) -> bool:
        return self.sets >= LEAST_SAID

    @property
    def agrees(self) -> bool:
        """Does the interval of what happened hold what was stated?"""
        return self.least <= self.stated <= self.most


@dataclass(frozen=True, slots=True)
class WeekSummary:
    """One week. stated_right: share of lines with a stated effort in the band;  out_of: those the kit does not outgrow."""

    week: int
    sent: int
    missed: float
    right: Band
    too_easy: Band
    too_hard: Band
    stated_right: Band
    failed: Band
    minutes: Band
    contacts: Band
    hurt: float
    gone: int


@dataclass(frozen=True, slots=True)
class Summary:
    """All of a dry run. not_sent: outcome with why -> runner-weeks;  there: runner -> week in which they were in the band, 0 never."""

    weeks: tuple[WeekSummary, ...]
    lines: tuple[LineSummary, ...]
    stalls: tuple[Stall, ...]
    strata: tuple[Stratum, ...]
    not_sent: tuple[tuple[str, int], ...]
    there: tuple[tuple[str, int], ...]


Count = Callable[[WeekDone], tuple[float, float]]


def summary_of(run: DryRun) -> Summary:
    """Everything of the run, with bands over its runners."""
    sent = run.sent
    numbers = sorted({w.week for w in run.weeks})
    weeks = tuple(_week(n, [w for w in sent if w.week == n]) for n in numbers)
    kinds = Counter(f"{w.outcome}: {w.why}" if w.why else w.outcome for w in run.weeks if w.outcome != "sent")
    return Summary(
        weeks, tuple(_lines(sent)), tuple(_stalls(sent)), strata_of(x for w in sent for x in w.lines),
        tuple(sorted(kinds.items())), tuple(_there(sent)),
    )  # fmt: skip


def band(weeks: Sequence[WeekDone], count: Count) -> Band:
    """Sum of the first over sum of the second number of `count`, and the same over runners drawn again with replacement."""
    by: dict[str, tuple[float, float]] = {}
    for w in weeks:
        a, b = count(w)
        x, y = by.get(w.runner_id, (0.0, 0.0))
        by[w.runner_id] = (x + a, y + b)
    table = np.array(list(by.values()), dtype=float).reshape(-1, 2)
    total = table.sum(axis=0)
    if len(table) == 0 or total[1] <= 0:
        return Band(math.nan, math.nan, math.nan)
    drawn = np.random.default_rng(0).integers(len(table), size=(DRAWN, len(table)))
    sums = table[drawn].sum(axis=1)
    shares = sums[:, 0] / np.maximum(sums[:, 1], 1e-9)
    low, high = np.quantile(shares[sums[:, 1] > 0], [0.1, 0.9])
    return Band(float(total[0] / total[1]), float(low), float(high))


def _share(what: Callable[[LineDone], bool], of: Callable[[LineDone], bool] = lambda _: True) -> Count:
    return lambda w: (float(sum(what(x) and of(x) for x in w.lines)), float(sum(of(x) for x in w.lines)))


def _failed(w: WeekDone) -> tuple[float, float]:
    return float(sum(x.failed for x in w.lines)), float(sum(x.sets for x in w.lines))


def _week(number: int, weeks: list[WeekDone]) -> WeekSummary:
    sessions = sum(len(w.minutes) for w in weeks)
    return WeekSummary(
        number, len(weeks), sum(w.missed for w in weeks) / max(1, sessions),
        band(weeks, _share(lambda x: x.effort == "right")), band(weeks, _share(lambda x: x.effort == "too easy")),
        band(weeks, _share(lambda x: x.effort == "too hard")),
        band(weeks, _share(lambda x: x.effort == "right", lambda x: x.stated)), band(weeks, _failed),
        band(weeks, lambda w: (sum(w.minutes), float(len(w.minutes)))),
        band(weeks, lambda w: (float(sum(w.contacts)), 1.0)),
        sum(w.hurt >= 1 for w in weeks) / max(1, len(weeks)), sum(w.gone for w in weeks),
    )  # fmt: skip


def _lines(weeks: Sequence[WeekDone]) -> Iterable[LineSummary]:
    keys: dict[tuple[str, str, str], str] = {}
    for w in weeks:
        for x in w.lines:
            keys.setdefault((w.cycle_name, x.session_key, x.item_key), x.written)
    order = {name: n for n, name in enumerate(dict.fromkeys(w.cycle_name for w in weeks))}
    for (cycle, session, item), written in sorted(keys.items(), key=lambda k: (order[k[0][0]], *k[0])):

        def here(x: LineDone, session: str = session, item: str = item) -> bool:
            return (x.session_key, x.item_key) == (session, item)

        own = [w for w in weeks if w.cycle_name == cycle and any(map(here, w.lines))]
        many = [x for w in own for x in w.lines if here(x)]
        bands = [band(own, _share(lambda x, e=e: x.effort == e, here)) for e in ("too easy", "right", "too hard")]  # type: ignore[misc]
        failed = band(
            own,
            lambda w, here=here: (  # type: ignore[misc]
                float(sum(x.failed for x in w.lines if here(x))),
                float(sum(x.sets for x in w.lines if here(x))),
            ),
        )
        yield LineSummary(
            cycle, session, item, written, len(many), bands[0], bands[1], bands[2], failed,
            sum(x.outgrown for x in many) / max(1, len(many)),
        )  # fmt: skip


def _stalls(weeks: Sequence[WeekDone]) -> Iterable[Stall]:
    """Lines of one cycle whose last STALL_WEEKS weeks lie off the band the same way, without a step towards it."""
    rows: dict[tuple[str, str, str, str], list[LineDone]] = {}
    for w in sorted(weeks, key=lambda w: w.week):
        for x in w.lines:
            if x.stated or x.effort == "too hard":
                rows.setdefault((w.runner_id, w.cycle_name, x.session_key, x.item_key), []).append(x)
    for (runner, _, session, item), own in sorted(rows.items()):
        tail = own[-STALL_WEEKS:]
        ways = {x.effort for x in tail}
        if len({x.week for x in tail}) < STALL_WEEKS or len(ways) != 1 or ways == {"right"}:
            continue
        same = len({x.variant_id for x in tail}) == 1
        grew = tail[-1].demand / tail[0].demand if tail[0].demand > 0 else 1.0
        way = tail[-1].effort
        if same and ((way == "too easy" and grew < NO_STEP) or (way == "too hard" and grew > 1 / NO_STEP)):
            yield Stall(runner, session, item, tail[-1].written, way, STALL_WEEKS, tail[-1].outgrown)


def strata_of(lines: Iterable[LineDone]) -> tuple[Stratum, ...]:
    """First sets by the chance that was stated, those that were done; Wilson's 95 % interval."""
    every = [(x.p_complete, x.completed) for x in lines if x.p_complete is not None and x.completed is not None]
    out = []
    for low, high in pairwise(STRATA):
        own = [(p, c) for p, c in every if low <= p < high]
        if own:
            happened = sum(c for _, c in own) / len(own)
            least, most = wilson(happened, len(own))
            out.append(Stratum(low, min(high, 1.0), len(own), sum(p for p, _ in own) / len(own), happened, least, most))
    return tuple(out)


def wilson(share: float, n: int, z: float = 1.96) -> tuple[float, float]:
    """Ends of Wilson's interval of a share (Wilson 1927, from memory), here without its correction for sets of one runner.

    >>> tuple(round(x, 3) for x in wilson(0.9, 138))
    (0.839, 0.94)
    """
    middle = (share + z * z / (2 * n)) / (1 + z * z / n)
    half = z / (1 + z * z / n) * math.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    return max(0.0, middle - half), min(1.0, middle + half)


def can_be(line: LineDone) -> bool:
    """Can the line be in the band at all, with this text and kit?"""
    return line.reachable if line.reachable is not None else not line.outgrown


def _there(weeks: Sequence[WeekDone]) -> Iterable[tuple[str, int]]:
    """The first week in which a runner is in the band with CONVERGED of the lines that can be: all that the fit would put
    there if it knew the body, or, where that is not known, all that are not at the end of the kit."""
    by: dict[str, list[tuple[int, float]]] = {}
    for w in sorted(weeks, key=lambda w: w.week):
        own = [x for x in w.lines if x.stated and can_be(x)]
        if own:
            by.setdefault(w.runner_id, []).append((w.week, sum(x.effort == "right" for x in own) / len(own)))
    for runner, shares in sorted(by.items()):
        yield runner, next((week for week, share in shares if share >= CONVERGED), 0)
