"""Which set of the next session would teach most of what the fit needs to know.

Asked     every dosed line of a week is one set done to its reserve, with an honest answer of how many more
Target    the log capacity that the fit needs for each line: group - offset of its variant, the day left out
Drop      for a set read as y = H m + noise of variance R (made linear where it is expected to end):
          drop_j = (T_j P H')^2 / (H P H' + R) * told,   weighed by the sets the week has of line j, and summed
Told      a reserve of 4 or less is a count: 1. Above, the answer is "4 or more", a bound that lies z SD below what is
          expected and removes lam (lam + z) of what a count would; with p = P(4 or more): told = (1 - p) + p lam (lam + z)
The drop of a linear Gaussian does not depend on what will be told, so it is the expected one (telling_test.py checks it
against drawn answers).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from ferrule.capacity import curves, slopes
from ferrule.capacity.observation import (
    HOLD_REPORT_SD,
    HOLD_RESERVE_SD,
    REPORT_SD,
    REPORT_SD_PER_REP,
    SAYS_MUCH_RESERVE,
    Observation,
    observe,
)
from ferrule.capacity.state import BIAS, Array, State
from ferrule.capacity.update import Linear, dot, hazard, linear, quadratic, spread_of
from ferrule.capacity.working import Context, Row, Working
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek
from ferrule.model.programme import LIGHT
from ferrule.model.words import Band, Group, Place

_LASTING: Final = ("group:", "half:", "offset:")
"""Names of the latents that stay from session to session."""


@dataclass(frozen=True, slots=True)
class AskedSet:
    """One line as a set that could be told of.

    sets      how many sets of it the week has: its weight;  amount: repetitions or seconds of one set
    reserve   to be left: repetitions, or tenths of the seconds; None where the number rules, whatever is left
    """

    session_key: str
    item_key: str
    name: str
    variant_id: str
    group: Group
    sets: int
    amount: float
    hold: bool
    reserve: float | None
    load_kg: float = 0.0
    place: Place | None = None
    band: Band | None = None


@dataclass(frozen=True, slots=True)
class Telling:
    """What one set would tell.

    drop      expected drop of variance over all lines of the week, weighed by their sets; log units squared
    part      the same as a part of all the variance there is, 0 to 1
    sd_before, sd_after   SD of the log capacity this line needs, now and after the set
    others    names of other lines that the set narrows by at least a tenth of their SD
    p_four    chance that the answer will be "4 or more"
    """

    asked: AskedSet
    drop: float
    part: float
    sd_before: float
    sd_after: float
    others: tuple[str, ...]
    p_four: float


def asked_of(week: FittedWeek, library: Library) -> tuple[AskedSet, ...]:
    """The dosed lines of a fitted week outside warm-ups and cool-downs, in the order of the week."""
    found = []
    for session in week.sessions:
        for block in session.blocks:
            if block.kind not in LIGHT:
                found += [a for i in block.items if (a := asked_item(session.key, i, library)) is not None]
    return tuple(found)


def asked_item(session_key: str, item: FittedItem, library: Library) -> AskedSet | None:
    """A fitted line as a set; None where it is not dosed."""
    variant = library.variants.get(item.variant_id)
    if variant is None or variant.main is None or variant.dose_kind not in ("reps", "hold") or item.work:
        return None
    amount = item.hold_s if variant.dose_kind == "hold" else item.reps
    if amount is None or amount.low <= 0:
        return None
    load = item.load
    return AskedSet(
        session_key, item.item_key, item.name, variant.id, variant.main.group, max(1, item.sets), amount.middle,
        variant.dose_kind == "hold", None if item.rir is None else item.rir.middle,
        0.0 if load is None else load.kg, None if load is None else load.place, None if load is None else load.band,
    )  # fmt: skip


def most_telling(
    state: State, library: Library, asked: Sequence[AskedSet], context: Context | None = None
) -> tuple[Telling, ...]:
    """Each set with what it would tell, the most telling first; equals stay in the order of the week.

    context   what the squad says of offsets;  sets whose exercise is not in the library, or is never dosed, are left out
    """
    work = Working(state, library, Context() if context is None else context)
    known = [(a, o) for a in asked if (o := _observation(a, work)) is not None]
    targets = [_target(work.row_of(o), work) for _, o in known]  # joins every offset before any row of P is read
    if not known:
        return ()
    before = np.array([quadratic(t, work.P) for t in targets])
    weights = np.array([float(a.sets) for a, _ in known])
    told = []
    for i, (a, o) in enumerate(known):
        expected, p_four, part_told = _expected(a, o, work)
        drops = _drops(expected, targets, work.P) * part_told
        after = np.sqrt(np.maximum(0.0, before - drops))
        others = [known[j][0].name for j in range(len(known)) if after[j] < 0.9 * math.sqrt(before[j])]
        told.append(
            Telling(
                a,
                float(weights @ drops),
                float(weights @ drops / (weights @ before)),
                math.sqrt(before[i]),
                float(after[i]),
                tuple(dict.fromkeys(n for n in others if n != a.name)),
                p_four,
            )
        )
    return tuple(sorted(told, key=lambda t: -t.drop))


def _target(row: Row, work: Working) -> Row:
    """The lasting part of what a set shows."""
    kept = [(p, f) for p, f in zip(*row, strict=True) if work.names[p].startswith(_LASTING)]
    return [p for p, _ in kept], [f for _, f in kept]


def _drops(seen: Linear, targets: Sequence[Row], cov: Array) -> Array:
    """(T_j P H')^2 / S for each target."""
    gains = spread_of(seen.row, cov)
    cross = np.array([dot(t, gains) for t in targets])
    return np.asarray(cross**2 / (dot(seen.row, gains) + seen.var))


def _observation(asked: AskedSet, work: Working) -> Observation | None:
    """The line as a set read with an answer of 2, to be moved to where it is expected to end; None when it says nothing."""
    entry = LoggedSet(
        "", work.runner_id, work.day or date.min, asked.session_key, asked.item_key, asked.variant_id, 1, "counted",
        unit="s" if asked.hold else "reps", done=max(1.0, asked.amount), reserve=Reserve(2, 2), effort_asked=True,
        load_kg=asked.load_kg, place=asked.place, band=asked.band,
    )  # fmt: skip
    found = observe(entry, work.library, work.mass_kg)
    return None if found.kind == "nothing" or found.group is None else found


def _expected(asked: AskedSet, o: Observation, work: Working) -> tuple[Linear, float, float]:
    """The set made linear where it is expected to end, the chance of "4 or more", and the part of a count it tells."""
    bare = linear(work, o)
    log_share = o.log_demand - bare.expected
    assert o.group is not None
    if o.hold:
        b0, b1 = curves.hold_curve(o.group)
        most = b0 * math.exp(b1 * log_share)
    else:
        most = slopes.reps_at_log_share(log_share, curves.k_of(o.group))
    if asked.reserve is None:
        left = (most - asked.amount) * (10 / asked.amount if o.hold else 1)
        sd_left = _sd_left(asked, most, quadratic(bare.row, work.P) + bare.var)
    else:
        left, sd_left = asked.reserve, 0.5
    z = (left - SAYS_MUCH_RESERVE - 0.5) / max(sd_left, 1e-9)
    p_four = 0.5 * math.erfc(-z / math.sqrt(2))
    reserve = round(min(float(SAYS_MUCH_RESERVE), max(0.0, left)))
    weight = 0.0 if o.hold else min(1.0, (reserve + 1) / 2.5)
    told = most - weight * float(work.m[BIAS])
    ends = replace(o, amount=max(0.5, told), bias_weight=weight, amount_sd=_amount_sd(reserve, hold=o.hold))
    lam = hazard(z)
    bound = lam * (lam + z)
    return linear(work, ends), p_four, (1 - p_four) + p_four * min(1.0, max(0.0, bound))


def _sd_left(asked: AskedSet, most: float, variance: float) -> float:
    """SD of what is left, repetitions or tenths of the seconds, for a set of a fixed count."""
    if asked.hold:
        return 10 * most / asked.amount * math.sqrt(variance) / abs(slopes.hold_slope(asked.group))
    by_reps, _ = slopes.reps_slopes(most, curves.k_of(asked.group))
    return math.sqrt(variance) / max(abs(by_reps), 1e-9)


def _amount_sd(reserve: int, *, hold: bool) -> float:
    """The error of a told reserve, as the filter reads it."""
    if hold:
        part = reserve / 10
        return HOLD_REPORT_SD + HOLD_RESERVE_SD * part / (1 + part)
    return math.hypot(REPORT_SD + REPORT_SD_PER_REP * reserve, math.sqrt(1 / 12))
