"""What the coach meant by a dose, as a band of repetitions (or tenths of a hold) possible to failure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.capacity import curves
from ferrule.model.programme import LIGHT, Block, Dose
from ferrule.model.quantity import Range
from ferrule.model.words import Group

UNSTATED_LOW: float = 1.0
"""Reserve a line without effort must at least leave: the written number is to be completed (ours)."""
NO_CEILING: float = 1e6
WARM_UP_LOW: float = 5.0
"""A warm-up line leaves at least this much (common practice, no source)."""
EFFORT_WIDTH: float = 1.0
"""A single written RIR is met within one repetition (Halperin 2022: reports miss by about one, seen)."""


@dataclass(frozen=True, slots=True)
class Intent:
    """The band meant, in repetitions to failure on the last set; for holds in tenths of the written seconds.

    unit      `reps`, `hold`, or `none` when the line is never a dose
    work      repetitions written (the top of the range), or 10 for a hold
    low, high band of repetitions possible: nothing is lost inside it; `high` may be NO_CEILING
    reserve   what is left after the set, as meant (for the read-back)
    stated    the coach wrote an effort (RIR, RPE, nRM, %)
    """

    unit: Literal["reps", "hold", "none"]
    work: float
    low: float
    high: float
    reserve: Range
    stated: bool
    hold_s: float = 0.0


NONE = Intent("none", 0, 0, NO_CEILING, Range(0, 0), False)


def intent_of(dose: Dose, block: Block, group: Group | None, margin_rir: float) -> Intent:
    """The band meant by `dose` in `block` for a variant whose main group is `group`.

    margin_rir  extra reserve of the finding week: the band moves up by it and widens by twice as much

    A range with RIR: low = least + RIR, high = most + RIR (effort rules inside the range). One number with RIR:
    number + RIR, a repetition either way. nRM: the RM itself. %1RM: the repetitions of the curve at that share.
    Without effort: number + 1 and upwards (the number rules, effort is reported). A line with forms that the fit does
    not model has no band: it stays as written.
    """
    if group is None or dose.unfitted:
        return NONE
    if dose.hold_s is not None or (dose.reps is None and dose.pause_s is None and dose.work_s is not None):
        return _hold(dose, block, margin_rir)
    reps = _reps(dose)
    if reps is None:
        return NONE
    if block.kind in LIGHT and dose.rir is None:
        low = reps.high + WARM_UP_LOW
        return Intent("reps", reps.high, low, NO_CEILING, Range(WARM_UP_LOW, NO_CEILING), False)
    if dose.rir is not None:
        low, high = reps.low + dose.rir.low, reps.high + dose.rir.high
        if reps.single and dose.rir.single:
            high += EFFORT_WIDTH
        reserve, stated = dose.rir, True
    elif dose.rm is not None:
        low, high, stated = dose.rm.low, dose.rm.high + EFFORT_WIDTH, True
        reserve = Range(max(0.0, dose.rm.low - reps.high), max(0.0, dose.rm.high - reps.low))
    elif dose.percent is not None and dose.percent.of == "1RM":
        k = curves.k_of(group)
        share = dose.percent.percent
        low = max(reps.low, curves.reps_at(min(share.high, 100) / 100, k))
        high = max(low, curves.reps_at(share.low / 100, k)) + EFFORT_WIDTH
        reserve, stated = Range(max(0.0, low - reps.high), max(0.0, high - reps.low)), True
    else:
        low, high, stated = reps.high + UNSTATED_LOW, NO_CEILING, False
        reserve = Range(UNSTATED_LOW, NO_CEILING)
    return Intent("reps", reps.high, low + margin_rir, high + 3 * margin_rir, reserve, stated)


def _reps(dose: Dose) -> Range | None:
    if dose.per_set:
        return Range(max(dose.per_set), max(dose.per_set))
    if dose.left is not None or dose.right is not None:
        most = float(max(dose.left or 0, dose.right or 0))
        return Range(most, most)
    if dose.cluster:
        return Range.of(float(sum(dose.cluster)))
    if dose.reps is not None:
        each = dose.sides in ("alternating", "total")
        return Range(dose.reps.low / 2, dose.reps.high / 2) if each else dose.reps
    if dose.rm is not None:
        return dose.rm
    return None


def _hold(dose: Dose, block: Block, margin_rir: float) -> Intent:
    seconds = dose.hold_s or dose.work_s
    assert seconds is not None  # the caller looked
    spare = 2.0 if block.kind in LIGHT else UNSTATED_LOW
    low = 10.0 * seconds.low / seconds.high + (dose.rir.low if dose.rir else spare)
    high = 10.0 + dose.rir.high + EFFORT_WIDTH if dose.rir else NO_CEILING
    reserve = dose.rir or Range(spare, NO_CEILING)
    return Intent("hold", 10.0, low + margin_rir, high + 3 * margin_rir, reserve, dose.rir is not None, seconds.high)
