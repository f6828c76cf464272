"""A fair world: bodies and exercises drawn from the estimator's own model, honest reports. A proof of the loop, not of us.

In it the curve is the model's, there is no second limit, errors of demand have the spread the model states, and everybody
writes down what they did. What goes wrong here is a fault of the proposals; what goes wrong only in the other world
(`ferrule.simulate.world`) is what the model does not know.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.random import Generator

from ferrule.capacity import curves
from ferrule.capacity.prior import prior_capacity
from ferrule.capacity.state import OWN_OFFSET_SD, SQUAD_OFFSET_SD
from ferrule.model.exercise import Library
from ferrule.model.squad import Belief, Capacity, Runner
from ferrule.model.words import GROUPS
from ferrule.simulate.reports import Habits
from ferrule.simulate.truth import Body, Today
from ferrule.simulate.world import TrueVariant, World, load_place

HONEST = Habits(writes=True, missing=0.0, slips=0.0, one_sided=0.0, pain=0.0, stops_early=0.0, in_range=True)
NO_SECOND = -9.0
"""Log share of a second limit that never binds."""
SHARP = 50.0


def fair_world(library: Library, rng: Generator) -> World:
    """Every dosed variant on the model's own curve, its demand off by the spread the model states for its trust."""
    made: dict[str, TrueVariant] = {}
    for variant in sorted(library.variants.values(), key=lambda v: v.id):
        ask = variant.main
        if ask is None or variant.dose_kind not in ("reps", "hold"):
            continue
        anchor = library.anchors[ask.group] == variant.id
        off = 0.0 if anchor else SQUAD_OFFSET_SD[ask.trust] * float(rng.standard_normal())
        place = load_place(variant)
        slope = 0.0 if place is None else ask.per_kg[place]  # type: ignore[index]
        b0, b1 = curves.hold_curve(ask.group)
        here = GROUPS.index(ask.group)
        made[variant.id] = TrueVariant(
            variant, ask.group, ask.base * math.exp(off), slope * math.exp(off), ask.group, NO_SECOND, 1.0, b0, b1, here,
            here, curves.k_of(ask.group),
        )  # fmt: skip
    return World(made, dict.fromkeys(GROUPS, 0.0), SHARP)


def fair_body(runner: Runner, world: World, year: int, rng: Generator) -> Body:
    """A body drawn from what is believed of the runner before any log, home tests included; both sides alike, no bias."""
    known = prior_capacity(runner, year)
    log_capacity = np.array([known.mean_log[g] + known.sd_log[g] * float(rng.standard_normal()) for g in GROUPS])
    own = dict.fromkeys(world.variants, 0.0)
    for v, asks in world.variants.items():
        ask = asks.variant.main
        assert ask is not None  # a world holds dosed variants only
        own[v] = OWN_OFFSET_SD[ask.trust] * float(rng.standard_normal())
    return Body(
        runner.mass_kg or 65.0, log_capacity, log_capacity.copy(), np.zeros(len(GROUPS)), own, dict.fromkeys(own, 0.0),
        curves.K_CV_DAY_APART * float(rng.standard_normal()), 0.0, 0.0, curves.SET_FATIGUE_LOG, np.zeros(len(GROUPS)),
    )  # fmt: skip


def truth_of(runner: Runner, world: World, body: Body) -> Capacity:
    """What would be believed of the runner if everything were known but the day: a reference for what the fit can reach."""
    off = {v: math.log(a.base / _base(a)) for v, a in world.variants.items()}
    seen = {
        v: Belief(float(body.log_capacity[a.main_index]) - body.own[v] - off[v], 0.01, 99, 9)
        for v, a in world.variants.items()
    }
    means = {g: float(body.log_capacity[i]) for i, g in enumerate(GROUPS)}
    return Capacity(runner.id, means, dict.fromkeys(GROUPS, 0.01), dict.fromkeys(GROUPS, ()), False, seen)


def _base(asks: TrueVariant) -> float:
    ask = asks.variant.main
    assert ask is not None  # a world holds dosed variants only
    return ask.base


def fair_today(rng: Generator) -> Today:
    """A day's mood of the size the model states, the same for every group."""
    return Today(np.full(len(GROUPS), curves.DAY_SD_LOG * float(rng.standard_normal())))
