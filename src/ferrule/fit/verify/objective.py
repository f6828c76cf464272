"""The effort level of the objective, worked out again: another grid, the band read again from the dose."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ferrule.fit.verify.corrected import (
    DAY,
    FATIGUE,
    HOLD,
    HOLD_ELSE,
    HOLD_SPREAD,
    K_ELSE,
    K_SPREAD,
    Asked,
    K,
    corrected_in,
)
from ferrule.fit.verify.effort import demand_of
from ferrule.fit.verify.lines import as_taken
from ferrule.fit.verify.place import Written
from ferrule.fit.verify.refused import refused
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Dose, Item, Named
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import Group

Array = NDArray[np.float64]
OFF_A_LINE_REPS = 0.2
"""The slices of the fit and this grid differ by less than this a line, in repetitions (measured on the demo squad)."""
EASY_REPS, HARD_WEIGHT, FLAT, DOWN, UP = 1e6, 3.0, 12.0, 5.0, 1.0
_Z = np.linspace(-4, 4, 161)
_K = np.linspace(-3, 3, 25)
_W = np.outer(np.exp(-(_Z**2) / 2), np.exp(-(_K**2) / 2))
_W /= _W.sum()


def check_objective(
    week: FittedWeek, written: Written, runner: Runner, library: Library, house: House, capacity: Capacity
) -> tuple[Finding, ...]:
    """The printed price of effort is the sum over the dosed lines, each written session once, to 0.2 repetitions a line."""
    said = next((p.value for p in week.prices if p.level == "effort"), None)
    if said is None or week.rest_sessions or any("left out" in r.text for s in week.sessions for r in s.reasons):
        return ()  # the price then holds lines that are not printed
    mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
    margin = house.value("finding-margin-rir") if week.finding_week else 0.0
    lines = {(s.key, i.key): (i, b.kind) for s in written.week.sessions for b in s.blocks for i in b.items}
    total, dosed = 0.0, 0
    first = {written.times[s.key].base: s for s in reversed(week.sessions) if s.key in written.times}
    for session in first.values():
        for item in (i for b in session.blocks for i in b.items):
            if item.prediction is not None and (session.key, item.item_key) in lines:
                line, kind = lines[session.key, item.item_key]
                total += _expected(item, line, kind in LIGHT, margin, library, capacity, mass)
                dosed += 1
    if abs(total - said) > OFF_A_LINE_REPS * max(dosed, 1):
        return (refused("objective", week, f"effort {said:.2f} reps said, {total:.2f} worked out again"),)
    return ()


def _dose(line: Item, variant_id: str, library: Library) -> Dose:
    """An alternative, chosen or as a way out, brings its own dose; everything else has the line's."""
    named = [x for x in line.alternatives if isinstance(x.exercise, Named) and x.exercise.variant_id == variant_id]
    first = isinstance(line.exercise, Named) and line.exercise.variant_id == variant_id
    return as_taken(line if first or not named else named[0], line, library.variants.get(variant_id))


def _expected(
    item: FittedItem, line: Item, warm_up: bool, margin: float, library: Library, capacity: Capacity, mass: float
) -> float:
    own = _lost(
        item.variant_id,
        item.load,
        item.sets,
        _dose(line, item.variant_id, library),
        warm_up,
        margin,
        library,
        capacity,
        mass,
    )
    for way, price in ((item.too_hard, DOWN), (item.too_easy, UP)):
        if way is not None:
            dose = _dose(line, way.variant_id, library)
            other = _lost(way.variant_id, way.load, item.sets, dose, warm_up, margin, library, capacity, mass)
            own = np.minimum(own, price + other)
    return float((_W * own).sum())


def _lost(
    variant_id: str, load: LoadChoice | None, sets: int, dose: Dose, warm_up: bool, margin: float, library: Library,
    capacity: Capacity, mass: float,
) -> Array:  # fmt: skip
    group, demand = demand_of(variant_id, load, library, mass)
    assert group is not None  # dosed lines and their recourses have a main group
    low, high = _band(dose, warm_up, group)
    hold = dose.hold_s is not None or (dose.reps is None and dose.pause_s is None and dose.work_s is not None)
    asked = Asked(variant_id, group, demand, hold, load is not None)
    mean, spread = corrected_in(asked, library, capacity)
    sd = math.hypot(spread, DAY)
    share = demand * math.exp(FATIGUE * (sets - 1)) / np.exp(mean + sd * _Z)[:, None]
    if hold:
        b0, b1 = HOLD.get(group, HOLD_ELSE)
        seconds = dose.hold_s or dose.work_s
        assert seconds is not None  # it is a hold
        n = 10 * b0 * np.maximum(share * np.exp(HOLD_SPREAD * _K)[None, :], 0.1) ** b1 / seconds.high
    else:
        k = K.get(group, K_ELSE) * np.exp(K_SPREAD * _K - K_SPREAD**2 / 2)[None, :]
        n = 1 + (1 / share - 1) / k
    short = np.maximum(0, low + margin - n)
    spare = np.maximum(0, n - (high + 3 * margin))
    return np.asarray(FLAT * (HARD_WEIGHT * (1 - np.exp(-short / FLAT)) + 1 - np.exp(-spare / FLAT)))


def _band(dose: Dose, warm_up: bool, group: Group) -> tuple[float, float]:
    """Least and most repetitions to failure (tenths of a hold) that the dose means, without the finding week."""
    rir = dose.rir
    if dose.hold_s is not None or (dose.reps is None and dose.pause_s is None and dose.work_s is not None):
        seconds = dose.hold_s or dose.work_s
        assert seconds is not None  # it is a hold
        spare = rir.low if rir else 2.0 if warm_up else 1.0
        return 10 * seconds.low / seconds.high + spare, 11 + rir.high if rir else EASY_REPS
    least, most = _written(dose)
    if warm_up and rir is None:
        return most + 5, EASY_REPS
    if rir is not None:
        return least + rir.low, most + rir.high + (1 if least == most and rir.low == rir.high else 0)
    if dose.rm is not None:
        return dose.rm.low, dose.rm.high + 1
    if dose.percent is not None and dose.percent.of == "1RM":
        k = K.get(group, K_ELSE)
        low = max(least, 1 + (100 / min(dose.percent.percent.high, 100) - 1) / k)
        return low, max(low, 1 + (100 / dose.percent.percent.low - 1) / k) + 1
    return most + 1, EASY_REPS


def _written(dose: Dose) -> tuple[float, float]:
    if dose.per_set:
        return max(dose.per_set), max(dose.per_set)
    if dose.left is not None or dose.right is not None:
        both = float(max(dose.left or 0, dose.right or 0))
        return both, both
    if dose.cluster:
        return float(sum(dose.cluster)), float(sum(dose.cluster))
    reps = dose.reps or dose.rm
    assert reps is not None  # a dosed line counts repetitions
    half = 2 if dose.reps is not None and dose.sides in ("alternating", "total") else 1
    return reps.low / half, reps.high / half
