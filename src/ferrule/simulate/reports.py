"""What simulated runners do with a line of their week, and what they then tell about it: LoggedSet, faults included.

The page asks for effort once per exercise, after the last set: 0 1 2 3, 4 or more, don't know. Some runners write every
set down; some only tap. Reserves are under-reported by about a repetition (Halperin 2022, abstract seen: 0.95), the more
so the further from failure; one in five is not told; three in a hundred entries hold a slip of the keyboard.
Shares of habits: from the trial on simulated runners, or assumptions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Final, Literal

from numpy.random import Generator

from ferrule.model.entry import LoggedSet, Outcome, Reserve, Stopped
from ferrule.model.words import Place, Side
from ferrule.simulate.truth import Body, Today, possible, unit_of
from ferrule.simulate.world import TrueVariant, World

KEEP_ALL: Final = 4
"""From this reserve on the page offers one answer: "4 or more"."""
LB_PER_KG: Final = 2.2046


@dataclass(frozen=True, slots=True)
class Habits:
    """How one runner reports.

    writes        writes every set down: what was done and a reserve in numbers (else: one answer after the last set)
    missing       share of questions about effort that stay unanswered
    empty_taps    share of completed sets that carry a bare tap on Done and nothing else
    slips         share of entries with a slip of the keyboard
    one_sided     share of sided exercises told side by side
    pain          chance that a set is stopped by pain
    stops_early   share of sets in repetitions that end by effort ("stop at 2 left"), not by number
    in_range      a line with an effort to keep is always ended by it, inside its range: as it is printed
    """

    writes: bool = False
    missing: float = 0.20
    empty_taps: float = 0.0
    slips: float = 0.03
    one_sided: float = 0.05
    pain: float = 0.0015
    stops_early: float = 0.25
    in_range: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """One line of one session as the runner got it. amount: repetitions or seconds, the least asked for; rir: meant.

    most   repetitions at which a set ends whatever is left, where that is known; by_effort: effort rules inside the range
    """

    day: date
    session_key: str
    item_key: str
    variant_id: str
    sets: int
    amount: float
    rir: float
    load_kg: float
    place: Place | None
    most: float | None = None
    by_effort: bool = False


@dataclass(frozen=True, slots=True)
class Happened:
    """One set as it truly went, beside what was told.

    possible   repetitions (not whole) or seconds truly possible
    done       truly done
    slip       the entry holds a slip;  pain: it was stopped by pain
    """

    asked: Asked
    number: int
    possible: float
    done: float
    entry: LoggedSet
    slip: bool = False
    pain: bool = False


def perform(
    world: World,
    body: Body,
    asks: TrueVariant,
    asked: Asked,
    runner_id: str,
    today: Today,
    habits: Habits,
    rng: Generator,
) -> tuple[Happened, ...]:
    """Every set of one line, one after the other. A set stopped by pain ends the line."""
    told: list[Happened] = []
    by_effort = rng.random() < habits.stops_early and not asks.hold
    if habits.in_range:
        by_effort = asked.by_effort and not asks.hold
    apart = asks.variant.sided and rng.random() < habits.one_sided
    sides: tuple[Side, ...] = ("left", "right") if apart else ("both",)
    for number in range(1, asked.sets + 1):
        noise = Today(today.log_shift + 0.015 * float(rng.standard_normal()))
        for side in sides:
            n = possible(world, body, asks, asked.load_kg, side, noise, number - 1)
            one = _one_set(n, asks, asked, runner_id, number, side, by_effort, body.bias_reps, habits, rng)
            told.append(one)
            if one.pain:
                return tuple(told)
    return tuple(told)


def _one_set(
    n: float,
    asks: TrueVariant,
    asked: Asked,
    runner_id: str,
    number: int,
    side: Side,
    by_effort: bool,
    bias_reps: float,
    habits: Habits,
    rng: Generator,
) -> Happened:
    whole = math.floor(n)
    if by_effort:
        done = float(max(1, whole - max(0, round(asked.rir + 0.8 * float(rng.standard_normal())))))
        failed = False
        if asked.most is not None:
            done = min(done, asked.most)
        if habits.in_range:  # the least of the range is tried, whatever is left
            done = min(max(done, float(min(whole, asked.amount))), float(whole))
            failed = whole < asked.amount
    else:
        done, failed = float(min(whole, asked.amount)), whole < asked.amount
    last = number == asked.sets
    if asks.hold and last and habits.writes and not failed and rng.random() < 0.3:
        done, by_effort = float(whole), True  # held on to the end
        failed = True
    pain = rng.random() < habits.pain
    stopped: Stopped | None = None
    if pain:
        done, failed, stopped = float(max(0, math.floor(done * rng.uniform(0.3, 0.9)))), False, "pain"
    outcome: Outcome = "failed" if failed else "counted"
    reserve: Reserve | None = None
    asks_effort = (habits.writes or last) and not asks.hold and not pain
    if asks_effort and not failed and rng.random() >= habits.missing:
        reserve = told_reserve(whole - done, bias_reps, habits, rng)
    if not failed and not pain and rng.random() < habits.empty_taps:
        outcome, reserve, asks_effort = "tapped", None, False
    elif not failed and not pain and not habits.writes and not by_effort and reserve is None:
        outcome = "tapped"
    entry = LoggedSet(
        f"{runner_id}-{asked.day.isoformat()}-{asked.item_key}-{number}-{side}",
        runner_id,
        asked.day,
        asked.session_key,
        asked.item_key,
        asked.variant_id,
        number,
        outcome,
        unit_of(asks),
        asked.amount,
        None if outcome == "tapped" else done,
        reserve,
        asks_effort,
        side,
        asked.load_kg,
        asked.place if asked.load_kg > 0 else None,
        None,
        stopped,
        time(18, min(59, 4 * number)),
    )
    slip = rng.random() < habits.slips and not pain
    if slip:
        entry = _slipped(entry, rng)
    return Happened(asked, number, n, done, entry, slip, pain)


def told_reserve(left: float, bias_reps: float, habits: Habits, rng: Generator) -> Reserve:
    """The reserve as it is told when `left` repetitions truly were: short by the runner's bias, and blurred."""
    blur = (0.5 + 0.25 * min(left, 8.0)) * float(rng.standard_normal())
    short = bias_reps * min(1.0, (left + 0.5) / 2.5) + 0.12 * max(left - 3, 0.0)
    number = max(0, round(left - short + blur))
    if number >= KEEP_ALL and (not habits.writes or rng.random() < 0.5):
        return Reserve(KEEP_ALL, None)
    if habits.writes and rng.random() < 0.15:
        return Reserve(max(0, number - 1), number) if rng.random() < 0.5 else Reserve(number, number + 1)
    return Reserve(number, number)


def _slipped(entry: LoggedSet, rng: Generator) -> LoggedSet:
    """One slip: a digit too many, pounds for kilograms, the wrong side, or a nought behind the load."""
    kind: Literal[0, 1, 2, 3] = int(rng.integers(4))  # type: ignore[assignment]
    if kind == 0 and entry.done is not None:
        return replace(entry, done=entry.done * 10)
    if kind == 1 and entry.side != "both":
        return replace(entry, side="left" if entry.side == "right" else "right")
    if kind == 2 and entry.load_kg > 0:
        return replace(entry, load_kg=entry.load_kg * 10)
    if entry.load_kg > 0:
        return replace(entry, load_kg=round(entry.load_kg * LB_PER_KG, 1))
    return entry if entry.done is None else replace(entry, done=entry.done + 10)
