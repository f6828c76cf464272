"""A runner's hidden body: what it could truly do on a day. Not the model of ferrule.capacity, on purpose.

It differs in the curve (another family, each runner's own steepness, and again by exercise), in a hidden second limit
(the softest of two capacities), in each runner's own offset by exercise, in heavy tails, in gains that saturate, in a
race's shock, and in what happens when training stops. Numbers: from the trial on simulated runners or assumptions.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from ferrule.capacity import curves
from ferrule.capacity.norms import BY_GROUP
from ferrule.capacity.prior import prior_capacity
from ferrule.model.squad import Runner
from ferrule.model.words import GROUPS, Side
from ferrule.simulate.world import LEGS, REGION_INDEX, TrueVariant, World, t_like

Array = NDArray[np.float64]

MOST_REPS: Final = 60.0
LEAST_REPS: Final = 0.3
MOST_HOLD_S: Final = 400.0
LEAST_HOLD_S: Final = 2.0
LOSS_AWAY: Final = 0.012
"""Log capacity lost in a week wholly away."""
RACE_SHOCK: Final = 0.15
"""Log capacity of the legs gone on the day after a race; falls by e in RACE_DAYS."""
RACE_DAYS: Final = 4.0


@dataclass(frozen=True, slots=True)
class Body:
    """One runner as they truly are.

    log_capacity    (12,) by group, in the order of GROUPS, log anchor units, today without the day's mood
    average         (12,) where an average runner of this world lies: the zero of the hidden second limit
    half_side       (12,) half of right minus left, log units
    own             by variant id: this runner's own offset of demand;  own_tau: of the curve's steepness
    tau             log steepness of the runner's own curve (above 0: more repetitions at the same share)
    hold_log        how far the runner's holds last off the mean, log seconds
    bias_reps       how far a reported reserve falls short of the true one when two or more are left
    set_loss        log capacity lost with each set done before
    gain            (12,) log gain of the first week of training, falling by e in ten weeks
    """

    mass_kg: float
    log_capacity: Array
    average: Array
    half_side: Array
    own: Mapping[str, float]
    own_tau: Mapping[str, float]
    tau: float
    hold_log: float
    bias_reps: float
    set_loss: float
    gain: Array
    weeks_trained: float = 0.0


@dataclass(frozen=True, slots=True)
class Today:
    """How the day moves every group, (12,) log units; race included."""

    log_shift: Array


REST: Final = Today(np.zeros(len(GROUPS)))
"""A day like any other."""


def make_body(runner: Runner, world: World, year: int, rng: Generator) -> Body:
    """A body for `runner`, drawn around the norms of the level, sex and age the squad list tells."""
    told = prior_capacity(replace(runner, tests=()), year)
    whole, region = t_like(rng, 5), rng.standard_normal(4)
    log_capacity = np.empty(len(GROUPS))
    average = np.empty(len(GROUPS))
    for i, group in enumerate(GROUPS):
        norm = BY_GROUP[group]
        average[i] = (norm.female + norm.male) / 2 + world.group_log[group]
        z = 0.68 * whole + 0.40 * float(region[REGION_INDEX[i]]) + 0.55 * t_like(rng, 5)
        log_capacity[i] = told.mean_log[group] + world.group_log[group] + 0.9 * norm.sd_log * z
    half = np.array([0.035 * t_like(rng, 4) for _ in GROUPS])
    return Body(
        runner.mass_kg or 65.0,
        log_capacity,
        average,
        half,
        {v: 0.09 * t_like(rng, 5) for v in world.variants},
        {v: 0.10 * float(rng.standard_normal()) for v in world.variants},
        0.20 * t_like(rng, 6),
        0.20 * float(rng.standard_normal()),
        1.0 + 0.6 * t_like(rng, 5),
        0.018 * math.exp(0.4 * float(rng.standard_normal())),
        max(0.008 + 0.005 * float(rng.standard_normal()), -0.002) * np.exp(0.3 * rng.standard_normal(len(GROUPS))),
    )


def make_today(rng: Generator, days_since_race: int | None = None) -> Today:
    """A day's mood: heavy-tailed as a whole, by region, tired legs one day in five, and what a race left behind."""
    shift = 0.045 * float(rng.standard_t(4)) / math.sqrt(2) + 0.02 * rng.standard_normal(4)[REGION_INDEX]
    legs = -0.06 if rng.random() < 0.2 else 0.0
    if days_since_race is not None and days_since_race >= 0:
        legs -= RACE_SHOCK * math.exp(-days_since_race / RACE_DAYS)
    return Today(shift + legs * LEGS)


def log_share(
    world: World,
    body: Body,
    asks: TrueVariant,
    load_kg: float,
    side: Side = "both",
    today: Today = REST,
    sets_before: int = 0,
) -> float:
    """True log share of best: the softer maximum of the main limit and the hidden second one; the weaker side of both."""
    if side == "both":
        if asks.variant.sided:
            return max(log_share(world, body, asks, load_kg, s, today, sets_before) for s in ("left", "right"))
        sign = 0.0
    else:
        sign = 1.0 if side == "right" else -1.0
    capacity = body.log_capacity + today.log_shift + sign * body.half_side - body.set_loss * sets_before
    main = math.log(asks.demand(load_kg, body.mass_kg)) - capacity[asks.main_index]
    at_average = main + capacity[asks.main_index] - body.average[asks.main_index]
    second = at_average + asks.log_q - (capacity[asks.second_index] - body.average[asks.second_index])
    high, low = max(main, second), min(main, second)
    soft = high + math.log1p(math.exp(world.soft * (low - high))) / world.soft
    return float(soft + body.own[asks.variant.id])


def amount_at(body: Body, asks: TrueVariant, log_f: float) -> float:
    """Repetitions (not whole) or seconds truly possible at a log share of best."""
    if asks.hold:
        seconds = asks.hold_s * math.exp(body.hold_log) * math.exp(log_f * asks.hold_b1)
        return min(MOST_HOLD_S, max(LEAST_HOLD_S, seconds))
    if asks.fair_k > 0:
        share = math.exp(min(log_f, 2.0))
        return min(MOST_REPS, max(LEAST_REPS, curves.reps_at(share, asks.fair_k * math.exp(-body.tau))))
    k = asks.reps_k * math.exp(body.tau + body.own_tau[asks.variant.id])
    return min(MOST_REPS, max(LEAST_REPS, 1 + k * math.expm1(-log_f / 1.47)))


def share_of(body: Body, asks: TrueVariant, amount: float) -> float:
    """Log share of best at which `amount` repetitions or seconds are just possible: the inverse of `amount_at`."""
    if asks.hold:
        return math.log(amount / (asks.hold_s * math.exp(body.hold_log))) / asks.hold_b1
    if asks.fair_k > 0:
        return math.log(curves.share_at(max(amount, 1.0), asks.fair_k * math.exp(-body.tau)))
    k = asks.reps_k * math.exp(body.tau + body.own_tau[asks.variant.id])
    return -1.47 * math.log1p(max(amount - 1, -0.9) / k)


def possible(
    world: World,
    body: Body,
    asks: TrueVariant,
    load_kg: float,
    side: Side = "both",
    today: Today = REST,
    sets_before: int = 0,
) -> float:
    """Repetitions or seconds truly possible in a set."""
    return amount_at(body, asks, log_share(world, body, asks, load_kg, side, today, sets_before))


def load_for(world: World, body: Body, asks: TrueVariant, amount: float, most_kg: float) -> float | None:
    """The load, kg, at which `amount` is just possible on a day like any other; None beyond `most_kg` or below nothing."""
    if asks.per_kg <= 0:
        return None
    target = share_of(body, asks, amount)
    if log_share(world, body, asks, 0.0) > target or log_share(world, body, asks, most_kg) < target:
        return None
    low, high = 0.0, most_kg
    for _ in range(20):
        middle = (low + high) / 2
        if log_share(world, body, asks, middle) > target:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def after_week(body: Body, trained: float, rng: Generator) -> Body:
    """The body a week later. trained: share of the week's sessions done; at 0 it loses, else it gains, ever less."""
    walk = 0.008 * rng.standard_normal(len(GROUPS))
    if trained <= 0:
        return replace(body, log_capacity=body.log_capacity - LOSS_AWAY + walk)
    step = body.gain * trained * math.exp(-body.weeks_trained / 10)
    return replace(body, log_capacity=body.log_capacity + step + walk, weeks_trained=body.weeks_trained + trained)


Kind = Literal["reps", "s"]


def unit_of(asks: TrueVariant) -> Kind:
    """What a set of it is counted in: seconds for a hold, else repetitions."""
    return "s" if asks.hold else "reps"
