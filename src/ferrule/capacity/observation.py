"""What one logged set says about capacity, and why: a reading, a bound, or nothing.

Counts    n = done + reserve + 0.5 + w * bias,   w = min(1, (reserve + 1) / 2.5),   SD 0.6 + 0.25 reserve   (repetitions)
          bias: runners have about one repetition more than they say (Halperin 2022, seen); it lies with the state
Failed    n = done + 0.5, SD 0.29: the count lies between done and done + 1
Bound     "4 or more", "don't know", a bare tap, a set ended for time or kit: at least so many
Holds     log share = (log T - log b0) / b1 by the published endurance law; reserve in tenths of the seconds done
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Final, Literal

from ferrule.capacity import curves, slopes
from ferrule.library.bands import beyond_thin_kg
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.exercise import Ask, Library, Variant
from ferrule.model.squad import Runner
from ferrule.model.words import Group, Side

Kind = Literal["exact", "interval", "at least", "nothing"]

REPORT_SD: Final = 0.6
REPORT_SD_PER_REP: Final = 0.25
"""Spread of a told reserve: about 1 at 0-5 left and over 2 at 7-10 (Hackett 2017, abstract seen); the line is ours."""

FAILED_SD: Final = 0.29
"""The count of a failed set is uniform over one repetition: 1 / sqrt(12)."""

TAP_SD: Final = 0.1
"""A count that was told as done is a bound without much doubt (ours)."""

HOLD_TAP_SD: Final = 0.2
"""The same of a hold, log seconds: clocks of the home are read in passing (ours)."""

SAYS_MUCH_RESERVE: Final = 4
"""A reserve above this is taken as "4 or more" (Hackett 2017, abstract seen: errors over 2 repetitions from 7 left)."""

SAYS_MUCH_REPS: Final = 12
"""Sets of more repetitions say less: the curves of people part (see `CURVE_SD`)."""

CURVE_SD: Final = 0.15
"""Spread of log steepness from exercise to exercise in one runner: 14 lifters had 0.11 to 0.17 between visits (ours)."""

HOLD_REPORT_SD: Final = 0.12
HOLD_RESERVE_SD: Final = 0.3
HOLD_FAILED_SD: Final = 0.12
"""Spread of log seconds of a hold that was stopped early, its growth with the share left, and of one held to the end
(assumptions; a hold done again on another day has a typical error of 12-24 %, Juan-Recio 2025, seen, day included)."""

HOLD_OUTSIDE_SD: Final = curves.HOLD_SD_LOG
"""Added to log share where a hold lies outside what the law was measured on (ours)."""

MASS_KG: Final = {"female": 60.0, "male": 70.0, None: 65.0}
"""Body mass where it is not given, here and in the fit; only loads depend on it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Observation:
    """One set read.

    log_demand     log of the computed demand of the variant with that load for this body mass (anchor without load = 0)
    log_demand_sd  its spread from a body mass told as a band
    kind           exact: a count with a spread; interval: the same from a told range; at least: a bound; nothing
    amount         repetitions possible before the bias is added, or seconds; None for nothing
    amount_sd      SD of repetitions, or of log seconds
    bias_weight    how much of the reporting bias is to be added, 0 to about 1
    hold           amount is seconds
    sets_before    sets of this item done before in that session
    why            in words, for the coach
    """

    entry_id: str
    day: date
    session_key: str
    item_key: str
    number: int
    variant_id: str
    group: Group | None
    side: Side
    log_demand: float
    log_demand_sd: float
    kind: Kind
    amount: float | None
    amount_sd: float
    bias_weight: float
    hold: bool
    failed: bool
    sets_before: int
    why: str

    @property
    def says_little(self) -> bool:
        """True for counts above 12 repetitions and bounds: they narrow a belief slowly."""
        return self.kind == "at least" or (not self.hold and (self.amount or 0) > SAYS_MUCH_REPS)


def mass_of(runner: Runner) -> float:
    """Body mass, kg: told, else the middle for the sex."""
    return MASS_KG[runner.sex] if runner.mass_kg is None else runner.mass_kg


def log_demand(entry: LoggedSet, variant: Variant, ask: Ask, mass_kg: float) -> tuple[float, float]:
    """(log demand, d log demand / d log load): a load without a place counts at the first place the variant takes."""
    if entry.band is not None and "band" in ask.per_kg:
        kg, place = beyond_thin_kg(entry.band), "band"
    else:
        kg, place = entry.load_kg, entry.place or next(iter(variant.loading), None)  # type: ignore[assignment]
    demand = ask.demand(kg, place, mass_kg)  # type: ignore[arg-type]
    return math.log(demand), 1 - ask.base / demand


def observe(entry: LoggedSet, library: Library, mass_kg: float, mass_sd_kg: float = 0.0) -> Observation:
    """What `entry` says of the capacity it met; kind `nothing`, with why, where it says nothing. Never raises."""
    variant = library.variants.get(entry.variant_id)
    ask = None if variant is None else variant.main
    if variant is None:
        return _known(entry, None, entry.side, 0.0, 0.0, "this exercise is not in the library")
    if ask is None or variant.dose_kind not in ("reps", "hold"):
        return _known(entry, None, entry.side, 0.0, 0.0, f"{variant.name} is not counted against a best")
    demand, by_load = log_demand(entry, variant, ask, mass_kg)
    spread = abs(by_load) * mass_sd_kg / mass_kg
    why = ""
    if entry.stopped == "pain":
        why = "stopped by pain: says nothing about strength"
    elif (variant.dose_kind == "hold") != (entry.unit == "s"):
        why = "counted in another unit than the exercise"
    known = _known(entry, ask.group, entry.side if variant.sided else "both", demand, spread, why)
    return known if why else _told(entry, known)


def _known(entry: LoggedSet, group: Group | None, side: Side, demand: float, demand_sd: float, why: str) -> Observation:
    """What is known of a set before its count is read: an observation of nothing."""
    return Observation(
        entry.entry_id, entry.day, entry.session_key, entry.item_key, entry.number, entry.variant_id, group, side, demand,
        demand_sd, "nothing", None, 0.0, 0.0, entry.unit == "s", entry.outcome == "failed", max(0, entry.number - 1), why,
    )  # fmt: skip


def wrong_unit(entry: LoggedSet, library: Library) -> bool:
    """True where repetitions are told of a hold, or seconds of repetitions."""
    variant = library.variants.get(entry.variant_id)
    kinds = {"reps": "reps", "hold": "s"}
    return variant is not None and variant.dose_kind in kinds and kinds[variant.dose_kind] != entry.unit


def _told(entry: LoggedSet, known: Observation) -> Observation:
    if entry.outcome == "not said":
        return replace(known, why="nothing was told of this set")
    if entry.outcome == "tapped" or entry.done is None:
        if not entry.asked or entry.outcome == "failed":
            return replace(known, why="no count was told")
        return _bound(known, entry.asked, 0.0, _tap_sd(known), "Done was tapped: at least what was asked")
    if entry.outcome == "failed":
        return _failed(entry.done, known)
    if entry.done <= 0:
        return replace(known, why="none were done, and not because they failed")
    if entry.stopped is not None:
        return _bound(known, entry.done, 0.0, _tap_sd(known), "ended for another reason: at least what was done")
    if entry.reserve is None:
        asked = "it was not known how many more" if entry.effort_asked else "how many more was not told"
        return _bound(known, entry.done, 0.0, _tap_sd(known), f"{asked}: at least what was done")
    return _with_reserve(entry.done, entry.reserve, known)


def _tap_sd(known: Observation) -> float:
    return HOLD_TAP_SD if known.hold else TAP_SD


def _failed(done: float, known: Observation) -> Observation:
    if known.hold:
        if done <= 0:
            return replace(known, why="the hold was not begun")
        return replace(known, kind="exact", amount=done, amount_sd=HOLD_FAILED_SD, why="held as long as it would go")
    return replace(
        known,
        kind="exact",
        amount=done + 0.5,
        amount_sd=FAILED_SD,
        why=f"failed at repetition {done + 1:g}: an exact count",
    )


def _with_reserve(done: float, reserve: Reserve, known: Observation) -> Observation:
    low = max(0, reserve.low)
    open_ended = reserve.high is None or low > SAYS_MUCH_RESERVE
    high = low if reserve.high is None else max(low, reserve.high)
    middle, width = (low + high) / 2, high - low
    if known.hold:
        return _held(done, low, middle, width, open_ended, known)
    if open_ended:
        left = min(low, SAYS_MUCH_RESERVE)
        spread = REPORT_SD + REPORT_SD_PER_REP * left
        return _bound(known, done + left, _weight(left), spread, f"{left} or more left: a bound")
    spread = REPORT_SD + REPORT_SD_PER_REP * middle
    return replace(
        known,
        kind="interval" if width else "exact",
        amount=done + middle + 0.5,
        amount_sd=math.sqrt(spread**2 + 1 / 12 + width**2 / 12),
        bias_weight=_weight(middle),
        why=f"{done:g} done, {low}{f'-{high}' if width else ''} left",
    )


def _held(done: float, low: int, middle: float, width: int, open_ended: bool, known: Observation) -> Observation:
    """A reserve on a hold is in tenths of the seconds done, as the page asks for it."""
    if open_ended:
        return _bound(
            known, done * (1 + min(low, SAYS_MUCH_RESERVE) / 10), 0.0, HOLD_REPORT_SD + 0.1, "a bound of a hold"
        )
    part = middle / 10
    spread = math.sqrt((HOLD_REPORT_SD + HOLD_RESERVE_SD * part / (1 + part)) ** 2 + (width / 10) ** 2 / 12)
    return replace(
        known,
        kind="interval" if width else "exact",
        amount=done * (1 + part),
        amount_sd=spread,
        why=f"held {done:g} s with about {part * done:.0f} s left",
    )


def _weight(reserve: float) -> float:
    return min(1.0, (reserve + 1) / 2.5)


def _bound(known: Observation, amount: float, weight: float, spread: float, why: str) -> Observation:
    return replace(known, kind="at least", amount=amount, amount_sd=spread, bias_weight=weight, why=why)


def one_bound_a_day(read: Iterable[Observation]) -> tuple[Observation, ...]:
    """The observations of one day, in order, with one bound an item and side: the highest, where nothing told a count.

    Repeating a bound cuts a Gaussian again that was cut already, and ratchets the belief upward (estimator trial).
    """
    kept = list(read)
    counted = {(o.session_key, o.item_key, o.side) for o in kept if o.kind in ("exact", "interval")}
    highest: dict[tuple[str, str, Side], Observation] = {}
    for o in kept:
        key = (o.session_key, o.item_key, o.side)
        if o.kind == "at least" and (key not in highest or _bound_height(o) > _bound_height(highest[key])):
            highest[key] = o
    return tuple(_kept(o, counted, highest) for o in kept)


def _kept(
    o: Observation, counted: set[tuple[str, str, Side]], highest: dict[tuple[str, str, Side], Observation]
) -> Observation:
    if o.kind != "at least":
        return o
    key = (o.session_key, o.item_key, o.side)
    if key in counted:
        return replace(o, kind="nothing", why="another set of the exercise that day tells more")
    return (
        o
        if highest[key] is o
        else replace(o, kind="nothing", why="another set of the exercise that day sets the bound")
    )


def _bound_height(o: Observation) -> float:
    """The log capacity a bound says there is at least, on the mean curve."""
    if o.group is None or o.amount is None:
        return -math.inf
    share = (
        slopes.log_share_hold(o.amount, o.group) if o.hold else slopes.log_share_reps(o.amount, curves.k_of(o.group))
    )
    return o.log_demand - share
