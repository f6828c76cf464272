"""What is true of exercises in a simulated world, and of nobody in particular: where our computed demand is wrong.

Every number here is ours (from the trial on simulated runners, or an assumption): the world must differ from the model,
so nothing here may be taken from the estimator's own priors.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator

from ferrule.capacity import curves
from ferrule.capacity.state import REGION_OF
from ferrule.model.exercise import Library, Variant
from ferrule.model.words import GROUPS, Group, Trust

LEGS: Final = np.array([REGION_OF[g] in ("calf", "leg") for g in GROUPS])
REGIONS_IN_ORDER: Final = ("calf", "leg", "trunk", "arm")
REGION_INDEX: Final = np.array([REGIONS_IN_ORDER.index(REGION_OF[g]) for g in GROUPS])

OFFSET_SD: Final[Mapping[Trust, float]] = {"number": 0.07, "ratio": 0.15, "order": 0.22}
"""SD of how far the true demand of a variant lies from the computed one, log units, by the trust it is given."""
NORM_SD: Final = 0.12
"""SD of how far the norm of a whole group is off, log units."""
SLOPE_SD: Final = 0.10
CURVE_A: Final = 1.47
"""Shape of the true curve, log f = -A log(1 + (n - 1) e^-tau / K): falls faster at many repetitions than the model's."""
CURVE_AT: Final = 10.0
"""Repetitions at which the true mean curve of an unbiased group meets the model's."""


@dataclass(frozen=True, slots=True)
class TrueVariant:
    """What one variant truly asks.

    base, per_kg    main demand without load and per (kg of load / kg of body mass) at `place` (None: takes no load)
    second, log_q   the group of the hidden second limit, and how far its share lies below the main one's in an average
                    runner (<= 0)
    reps_k          K of the mean repetition curve;  hold_s: seconds at share 1;  hold_b1: exponent of the hold curve
    fair_k          steepness of the model's own repetition curve, taken instead when above 0 (a fair world)
    """

    variant: Variant
    group: Group
    base: float
    per_kg: float
    second: Group
    log_q: float
    reps_k: float
    hold_s: float
    hold_b1: float
    main_index: int
    second_index: int
    fair_k: float = 0.0

    def demand(self, load_kg: float, mass_kg: float) -> float:
        """True relative demand of the main group."""
        return self.base + self.per_kg * load_kg / mass_kg

    @property
    def hold(self) -> bool:
        return self.variant.dose_kind == "hold"


@dataclass(frozen=True, slots=True)
class World:
    """Everything true of exercises. soft: sharpness of the softest of two limits; group_log: error of each group's norm."""

    variants: Mapping[str, TrueVariant]
    group_log: Mapping[Group, float]
    soft: float


def t_like(rng: Generator, df: float) -> float:
    """One draw of Student's t scaled to SD 1: now and then somebody is far out."""
    return float(rng.standard_t(df) / math.sqrt(df / (df - 2)))


def load_place(variant: Variant) -> str | None:
    """Where the simulated coach puts weight: the first place that is not a band or an ankle; None when there is none."""
    ask = variant.main
    if ask is None:
        return None
    return next((p for p in variant.loading if p not in ("band", "ankle") and ask.per_kg.get(p, 0) > 0), None)


def make_world(library: Library, rng: Generator) -> World:
    """A world drawn over the real library: every variant dosed in repetitions or as a hold."""
    curve_log = {g: 0.12 * float(rng.standard_normal()) for g in GROUPS}
    norm = {g: NORM_SD * float(rng.standard_normal()) for g in GROUPS}
    made: dict[str, TrueVariant] = {}
    for variant in sorted(library.variants.values(), key=lambda v: v.id):
        ask = variant.main
        if ask is None or variant.dose_kind not in ("reps", "hold"):
            continue
        group = ask.group
        anchor = library.anchors[group] == variant.id
        offset = 0.0 if anchor else OFFSET_SD[ask.trust] * t_like(rng, 5)
        place = load_place(variant)
        slope = 0.0 if place is None else ask.per_kg[place]  # type: ignore[index]
        near = [g for g in GROUPS if g != group and REGION_OF[g] == REGION_OF[group]]
        others = [a.group for a in variant.asks if not a.main] or near
        second = others[int(rng.integers(len(others)))]
        b0, b1 = curves.hold_curve(group)
        at = CURVE_AT
        mean_k = (at - 1) / math.expm1(-math.log(curves.share_at(at, curves.k_of(group))) / CURVE_A)
        made[variant.id] = TrueVariant(
            variant,
            group,
            ask.base * math.exp(offset),
            slope * math.exp(offset + SLOPE_SD * float(rng.standard_normal())),
            second,
            float(rng.uniform(math.log(0.5), math.log(0.95))),
            mean_k * math.exp(curve_log[group]),
            b0 * math.exp(0.15 * float(rng.standard_normal())),
            b1 + 0.12,
            GROUPS.index(group),
            GROUPS.index(second),
        )
    return World(made, norm, float(rng.uniform(10, 25)))
