"""What time does to capacity between two days: gain while training, loss while away, a race and its recovery, doubt.

Every rate is by day, so that a gap gives the same however it is cut, but for rounding.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from ferrule.capacity.prior import GAIN_B, LEVEL_WEEKS
from ferrule.capacity.state import DAY, DAY_LEGS, DAY_LEGS_SD, DAY_SD, GROUP_AT, RACE_CALF, RACE_THIGH
from ferrule.capacity.working import Working
from ferrule.model.entry import TimeAway
from ferrule.model.squad import Runner

MOST_GAIN: Final = 0.010
"""Most gain of log capacity in a week, novices (Steele 2022 gives 25 % in 12 weeks, seen; shaved, ours)."""
GAIN_CV: Final = 0.57
"""Between people (Hubal 2005, seen, label uncertain)."""

WALK_OWN_SD: Final = 0.010
WALK_COMMON_SD: Final = 0.007
"""Weekly wander of one group alone and of all together (estimator trial; assumption, no data)."""
HALF_WALK_SD: Final = 0.004
"""The same of a difference between sides."""
AWAY_WALK: Final = 3.0
"""The wander's variance is so many times larger while nothing is trained (estimator trial; assumption, no data)."""

TRAINED_DAYS: Final = 7
"""A day within so many after a set of the group counts as training."""
KEPT_DAYS: Final = 14
"""Nothing is lost in two weeks away (from memory)."""
LOSS: Final = 0.005
LOSS_SD: Final = 0.004
"""Loss of log capacity a week after that, and its spread (Ronnestad 2011, seen second-hand, against Bickel 2011, seen)."""
SILENT: Final = 0.5
"""Somebody silent who said nothing of being away has trained, or has not: half the loss (ours)."""

RACE_THIGH_LOG: Final = math.log(1 - 0.24)
RACE_CALF_LOG: Final = math.log(1 - 0.17)
RACE_SD: Final = 0.14
"""Loss right after 21 to 42 km, knee extensors 24 % (Nicol 1991, Millet 2003, Petersen 2007, seen), calf 17 % (Petersen
2007, seen); SD 14 points for both (that of the calf is borrowed)."""
RACE_PART: Final = 0.5
"""A race of a length that is not told has half of that (ours; the spread is kept)."""
RACE_HALF_LIFE_DAYS: Final = 3.0
RACE_HALF_LIFE_CV: Final = 0.5
"""Half-life of the recovery, 3 days, SD 1.5 (force still low on day 7, seen; the half-life is ours)."""
RACE_OVER: Final = 0.002
"""A loss of less than this is over."""


def gain_a_week(weeks: float) -> float:
    """Expected gain of log capacity in the week after `weeks` of training: the slope of log(1 + b ln w), b 0.101."""
    w = max(1.0, weeks)
    return min(MOST_GAIN, GAIN_B / (w * (1 + GAIN_B * math.log(w))))


def weeks_of_level(runner: Runner) -> float:
    """Weeks of training a runner's level stands for."""
    return LEVEL_WEEKS[runner.level]


def advance(work: Working, to: date, away: Sequence[TimeAway]) -> None:
    """Carry `work` from its day to `to`, in place: what the days between did, and new states of the day."""
    start = work.day
    work.day = to
    if start is None or to <= start:
        return
    days = [start + timedelta(days=i) for i in range(1, (to - start).days + 1)] if (to - start).days <= 400 else None
    gone = [] if days is None else [any(a.first <= d <= a.last for a in away) for d in days]
    if days is None:
        days, gone = [to] * 400, [True] * 400
    ill = any(a.kind in ("illness", "injury") and a.first <= to and a.last > start for a in away)
    _train(work, days, gone)
    _lose(work, days, gone, ill=ill)
    _recover(work, len(days))


def _train(work: Working, days: list[date], gone: list[bool]) -> None:
    gain = gain_a_week(work.weeks) / 7
    most = 0
    for group, last in work.group_days.items():
        trained = sum((d - last).days <= TRAINED_DAYS and not g for d, g in zip(days, gone, strict=True))
        i = GROUP_AT[group]
        work.m[i] += gain * trained
        work.P[i, i] += (GAIN_CV * gain) ** 2 * 7 * trained
        most = max(most, trained)
    work.weeks += most / 7


def _lose(work: Working, days: list[date], gone: list[bool], *, ill: bool) -> None:
    since = work.trained
    rest = [since is not None and (d - since).days > TRAINED_DAYS for d in days]
    lost = [
        (1.0 if g else SILENT) if since is not None and (d - since).days > KEPT_DAYS else 0.0
        for d, g in zip(days, gone, strict=True)
    ]
    factor = sum(AWAY_WALK if ill or g or r else 1.0 for g, r in zip(gone, rest, strict=True)) / 7
    n, weeks_lost = len(GROUP_AT), sum(lost) / 7
    work.m[:n] -= LOSS * weeks_lost
    work.P[:n, :n] += WALK_COMMON_SD**2 * factor + LOSS_SD**2 * weeks_lost
    for i in range(n):
        work.P[i, i] += WALK_OWN_SD**2 * factor
    for name, i in work.at.items():
        if name.startswith("half:"):
            work.P[i, i] += HALF_WALK_SD**2 * factor


def _recover(work: Working, days: int) -> None:
    """The race's loss halves every three days; the doubt about that is added to its spread."""
    for i in (RACE_THIGH, RACE_CALF):
        if work.P[i, i] == 0.0:
            continue
        left = 0.5 ** (days / RACE_HALF_LIFE_DAYS)
        doubt = work.m[i] * left * math.log(2) * days / RACE_HALF_LIFE_DAYS * RACE_HALF_LIFE_CV
        work.m[i] *= left
        work.P[i, :] *= left
        work.P[:, i] *= left
        work.P[i, i] += doubt**2
        if abs(work.m[i]) < RACE_OVER and work.P[i, i] < RACE_OVER:
            work.clear({i: 0.0})


def race(work: Working) -> None:
    """The loss of a race, on the day after it at full; added to what is left of an earlier one."""
    for i, loss in ((RACE_THIGH, RACE_THIGH_LOG), (RACE_CALF, RACE_CALF_LOG)):
        work.m[i] += RACE_PART * loss
        work.P[i, i] += RACE_SD**2


def new_session_day(work: Working) -> None:
    """Good and bad days start anew."""
    work.clear({DAY: DAY_SD**2, DAY_LEGS: DAY_LEGS_SD**2})
