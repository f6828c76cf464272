"""A simulated squad: invented runners with hidden bodies, home tests, absences, races, and the weeks a coach writes.

The open-loop coach sees each hidden body with an error of about 10 % and never reads the log: so every estimator meets
the same weeks. The weeks are laid as lanes: each line offers three variants across the squad, a runner gets the one that
fits best; cycles of four weeks bring new ones, and now and then kit is missing and a runner does another.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.random import Generator

from ferrule.capacity.norms import BY_GROUP
from ferrule.model.entry import AwayKind, TimeAway
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.squad import FieldTest, Runner
from ferrule.model.words import GROUPS, LEVELS, Group, Place
from ferrule.simulate.reports import Asked, Habits, Happened, perform
from ferrule.simulate.truth import (
    MOST_REPS,
    Body,
    after_week,
    load_for,
    make_body,
    make_today,
    possible,
)
from ferrule.simulate.world import TrueVariant, World, load_place, make_world

MONDAY: Final = date(2026, 1, 5)
SESSION_DAYS: Final = (0, 2, 4)
LINES_A_SESSION: Final = 8
CYCLE_WEEKS: Final = 4
COACH_ERROR: Final = 0.10
"""SD of the open-loop coach's error about a runner, log units."""
NEAR: Final = 0.5
"""A variant comes near what is meant when it is off by no more than this, log repetitions or seconds."""
MOST_LOAD_SHARE: Final = 0.9
"""The most a runner carries, share of body mass."""
SLOTS: Final[tuple[Group, ...]] = (*GROUPS, "knee and hip", "calf straight", "push")
"""The lines of a programme: one a group, and a second one for three of them."""
AWAY_KINDS: Final[tuple[AwayKind, ...]] = ("holiday", "illness", "other")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a cycle. lanes: the variants offered across the squad; reps: asked with load; rir: meant."""

    key: str
    group: Group
    lanes: tuple[str, ...]
    reps: int
    rir: int


@dataclass(frozen=True, slots=True)
class SimulatedRunner:
    """One runner: what the squad list tells (`runner`), how they report, and which days they are gone.

    away       spans told to the coach;  gone: days (index from the first Monday) on which no session is done
    races      dates;  own_kit: 0-1, how often another variant must stand in
    """

    runner: Runner
    habits: Habits
    away: tuple[TimeAway, ...]
    gone: frozenset[int]
    races: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class SimulatedSquad:
    """A squad before its first week. cycles: the lines of each cycle; bodies in the order of `runners`.

    coach_error   SD of what the open-loop coach sees of a body, log load. The smaller, the more each dose tells of the
                  truth: chances then look timid, as nobody but the coach can know what the dose was made from
    """

    seed: int
    library: Library
    world: World
    runners: tuple[SimulatedRunner, ...]
    bodies: tuple[Body, ...]
    cycles: tuple[tuple[Line, ...], ...]
    weeks: int
    coach_error: float = COACH_ERROR


@dataclass(frozen=True, slots=True)
class WeekBefore:
    """What is known before a week begins: each runner's lines, none yet done. asked: by runner, in order of doing."""

    week: int
    monday: date
    asked: tuple[tuple[Asked, ...], ...]


def make_squad(
    library: Library,
    seed: int,
    runners: int = 24,
    weeks: int = 12,
    empty_taps: float = 0.0,
    slips: float = 0.03,
    coach_error: float = COACH_ERROR,
) -> SimulatedSquad:
    """A squad drawn from `seed`: the same seed gives the same squad, and with another `empty_taps` the same bodies."""
    rng = np.random.default_rng([seed, 0])
    world = make_world(library, rng)
    members, bodies = [], []
    for n in range(runners):
        own = np.random.default_rng([seed, 1, n])
        member = _runner(n, own, weeks, empty_taps, slips)
        body = make_body(member.runner, world, MONDAY.year, own)
        tests = home_tests(world, body, own)
        members.append(replace(member, runner=replace(member.runner, tests=tests)))
        bodies.append(body)
    cycles = tuple(_lines(world, rng, c) for c in range(-(-weeks // CYCLE_WEEKS)))
    return SimulatedSquad(seed, library, world, tuple(members), tuple(bodies), cycles, weeks, coach_error)


def _runner(n: int, rng: Generator, weeks: int, empty_taps: float, slips: float) -> SimulatedRunner:
    sex = "female" if rng.random() < 0.5 else "male"
    mass = float(np.clip(rng.normal(61 if sex == "female" else 73, 7), 45, 100))
    runner = Runner(
        f"S{n + 1:02d}",
        f"Simulated {n + 1}",
        LEVELS[int(rng.choice(4, p=[0.15, 0.4, 0.3, 0.15]))],
        (),
        SESSION_DAYS,
        (),
        None,
        Span("simulated", 1, 1),
        birth_year=int(rng.integers(1958, 2004)),
        sex=sex,  # type: ignore[arg-type]
        mass_kg=round(mass, 1),
    )
    away, gone = [], {d for d in range(7 * weeks) if rng.random() < 0.06}  # a session missed here and there
    if rng.random() < 0.5 and weeks > 3:
        first = int(rng.integers(7, 7 * weeks - 7))
        days = int(rng.integers(7, 17))
        gone |= set(range(first, first + days))
        away.append(
            TimeAway(
                runner.id,
                MONDAY + timedelta(first),
                MONDAY + timedelta(first + days - 1),
                AWAY_KINDS[int(rng.integers(3))],
            )
        )
    races = (MONDAY + timedelta(7 * int(rng.integers(2, weeks)) + 6),) if weeks > 3 and rng.random() < 0.4 else ()
    habits = Habits(writes=bool(rng.random() < 0.3), empty_taps=empty_taps, slips=slips)
    return SimulatedRunner(replace(runner, races=races), habits, tuple(away), frozenset(gone), races)


def home_tests(world: World, body: Body, rng: Generator) -> tuple[FieldTest, ...]:
    """Six in ten runners did a short battery; counts stop with about two left, and miss by a few."""
    if rng.random() > 0.6:
        return ()
    found = []
    if "heel-raise-one-leg" in world.variants:
        n = possible(world, body, world.variants["heel-raise-one-leg"], 0.0) - 2 + 2.5 * float(rng.standard_normal())
        found.append(FieldTest("heel raises", float(max(1, round(n)))))
    if "press-up" in world.variants:
        n = possible(world, body, world.variants["press-up"], 0.0) - 2 + 1.5 * float(rng.standard_normal())
        found.append(FieldTest("press-ups", float(max(0, round(n)))))
    if "side-plank" in world.variants:
        held = possible(world, body, world.variants["side-plank"], 0.0) * math.exp(0.1 * float(rng.standard_normal()))
        found.append(FieldTest("side plank", float(max(5, round(held)))))
    return tuple(found)


def _lines(world: World, rng: Generator, cycle: int) -> tuple[Line, ...]:
    lines = []
    for s, group in enumerate(SLOTS):
        pool = sorted(v for v, t in world.variants.items() if t.group == group and _sensible(t))
        lanes = tuple(str(v) for v in rng.choice(pool, min(3, len(pool)), replace=False)) if pool else ()
        lines.append(Line(f"c{cycle + 1}-{s + 1:02d}", group, lanes, int(rng.integers(5, 13)), int(rng.integers(1, 4))))
    return tuple(line for line in lines if line.lanes)


def _sensible(asks: TrueVariant) -> bool:
    """A coach does not write what an average runner could do 40 times, unless it can be loaded, nor what nobody can."""
    norm = BY_GROUP[asks.group]
    ask = asks.variant.main
    assert ask is not None  # a world holds dosed variants only
    share = ask.base / math.exp((norm.female + norm.male) / 2)
    return share < 1.1 and (share > 0.15 if asks.hold or asks.per_kg > 0 else share > 0.46)


def lines_of(squad: SimulatedSquad, week: int, session: int) -> tuple[Line, ...]:
    """The lines of one session: eight of the cycle's, in turn, so that each comes about every second session."""
    lines = squad.cycles[week // CYCLE_WEEKS]
    start = (3 * week + session) * LINES_A_SESSION
    return tuple(lines[(start + i) % len(lines)] for i in range(min(LINES_A_SESSION, len(lines))))


def round_load(kg: float) -> float:
    """A load that kit can make: to 1 kg below 10 kg, to 2 kg above."""
    return float(round(kg)) if kg < 10 else float(2 * round(kg / 2))


def open_loop(squad: SimulatedSquad, bodies: Sequence[Body], week: int, runner: int) -> tuple[Asked, ...]:
    """The week the coach writes for one runner, who is seen with an error; the log is not read."""
    asked: list[Asked] = []
    lane_error = np.random.default_rng([squad.seed, 2, runner, week // CYCLE_WEEKS])
    chosen = {
        line.key: pick_lane(squad, bodies[runner], line, lane_error) for line in squad.cycles[week // CYCLE_WEEKS]
    }
    rng = np.random.default_rng([squad.seed, 3, runner, week])
    for session, weekday in enumerate(SESSION_DAYS):
        day = MONDAY + timedelta(7 * week + weekday)
        for line in lines_of(squad, week, session):
            variant = chosen[line.key]
            if rng.random() < 0.05:  # kit is missing, or the runner likes another
                variant = pick_lane(squad, bodies[runner], line, rng, but=variant) or variant
            asks = squad.world.variants[variant]
            asked.append(_dose(squad, bodies[runner], asks, line, day, session, rng))
    return tuple(asked)


def pick_lane(squad: SimulatedSquad, body: Body, line: Line, rng: Generator, but: str = "") -> str:
    """The lane in which the meant effort can be met best, by what the coach thinks they see of the body.

    Where no lane comes near, the coach writes another of the group. but: a variant that cannot be done today; then ""
    when no other comes near.
    """

    def badness(variant: str) -> float:
        asks = squad.world.variants[variant]
        seen = possible(squad.world, body, asks, 0.0) * math.exp(3 * squad.coach_error * float(rng.standard_normal()))
        if asks.hold:
            return max(0.0, abs(math.log(seen / 50)) - 0.9)
        low, high = line.reps + line.rir, 14.0 if asks.per_kg <= 0 else MOST_REPS
        return max(0.0, math.log(low / seen), math.log(seen / high))

    near = {v: b for v in line.lanes if v != but and (b := badness(v)) <= NEAR}
    if not near:
        pool = sorted(v for v, t in squad.world.variants.items() if t.group == line.group and v != but and _sensible(t))
        near = {v: badness(v) for v in pool}
    best = min(near, key=lambda v: (near[v], v), default="")
    return "" if but and best and near[best] > NEAR else best


def _dose(
    squad: SimulatedSquad, body: Body, asks: TrueVariant, line: Line, day: date, session: int, rng: Generator
) -> Asked:
    world, error = squad.world, math.exp(squad.coach_error * float(rng.standard_normal()))
    place: Place | None = load_place(asks.variant)  # type: ignore[assignment]
    load, amount = 0.0, 0.0
    if asks.hold:
        seen = possible(world, body, asks, 0.0) * error**2
        amount = float(np.clip(5 * round(0.75 * seen / 5), 5, 120))
    else:
        found = load_for(world, body, asks, line.reps + line.rir + 0.5, MOST_LOAD_SHARE * body.mass_kg)
        if found is not None:
            load = round_load(found * error)
        amount = float(line.reps)
        if load <= 0:
            seen = possible(world, body, asks, 0.0) * error**2
            amount = float(np.clip(math.floor(seen - line.rir), 3, 25))
    return Asked(day, f"s{session + 1}", line.key, asks.variant.id, 3, amount, float(line.rir), load, place)


def week_before(squad: SimulatedSquad, bodies: Sequence[Body], week: int) -> WeekBefore:
    """The week every runner is given, before it begins."""
    asked = tuple(open_loop(squad, bodies, week, n) for n in range(len(squad.runners)))
    return WeekBefore(week, MONDAY + timedelta(7 * week), asked)


@dataclass(frozen=True, slots=True)
class WeekAfter:
    """The same week when it is over: every set by runner in order of doing, and the bodies that come out of it.

    off   days (from the first Monday) until which a runner stays away after pain; carried into the next week
    """

    happened: tuple[tuple[Happened, ...], ...]
    bodies: tuple[Body, ...]
    off: Mapping[int, int]


def do_week(
    squad: SimulatedSquad, bodies: Sequence[Body], asked: Sequence[Sequence[Asked]], week: int, off: Mapping[int, int]
) -> WeekAfter:
    """Every runner does (or misses) their sessions. Random draws hang on seed, runner and day only, not on the weeks given."""
    happened, later, still_off = [], [], dict(off)
    for n, member in enumerate(squad.runners):
        sets: list[Happened] = []
        days = sorted({a.day for a in asked[n]})
        trained = 0
        for day in days:
            index = (day - MONDAY).days
            rng = np.random.default_rng([squad.seed, 4, n, index])
            race = min(((day - r).days for r in member.races if r <= day), default=None)
            today = make_today(rng, race)
            if index in member.gone or index < still_off.get(n, -1):
                continue
            trained += 1
            hurt = False
            for i, one in enumerate(a for a in asked[n] if a.day == day):
                asks = squad.world.variants[one.variant_id]
                item_rng = np.random.default_rng([squad.seed, 5, n, index, i])
                done = perform(squad.world, bodies[n], asks, one, member.runner.id, today, member.habits, item_rng)
                sets.extend(done)
                hurt = hurt or any(h.pain for h in done)
            if hurt:  # some carry on, most rest for a while, a few do not come back
                u = rng.random()
                still_off[n] = index + (0 if u < 0.3 else 10**6 if u > 0.9 else int(rng.integers(7, 15)))
        happened.append(tuple(sets))
        own = np.random.default_rng([squad.seed, 6, n, week])
        later.append(after_week(bodies[n], trained / max(1, len(days)), own))
    return WeekAfter(tuple(happened), tuple(later), still_off)


def weeks_of(squad: SimulatedSquad) -> Iterator[tuple[WeekBefore, WeekAfter]]:
    """The open-loop season, week by week: what was given, then what happened."""
    bodies: Sequence[Body] = squad.bodies
    off: Mapping[int, int] = {}
    for week in range(squad.weeks):
        before = week_before(squad, bodies, week)
        after = do_week(squad, bodies, before.asked, week, off)
        yield before, after
        bodies, off = after.bodies, after.off
