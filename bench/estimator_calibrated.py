"""Chances and reserves of any estimator in the table, corrected by its squad's own past, as the product does.

At each version everything foretold and told before it corrects what comes until the next: nothing is corrected by its own
week or by another squad. The peers get the same, so that what is left between them is not the correction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from bench.estimator_ours import cycle_mondays_of
from bench.estimator_scores import Score, brier, later, stated_and_happened
from ferrule.capacity.calibration import calibrate, corrected_chance
from ferrule.capacity.versions import version_on, versions
from ferrule.model.calibration import LEAST_SETS, NO_CALIBRATION, SAME
from ferrule.simulate.squad import MONDAY

Row = tuple[str, float, str]


def corrected(scores: Sequence[Score]) -> list[Score]:
    """The same scores, with `chance` and `z` as corrected by what their squad had told before the version in force."""
    found: list[Score] = []
    for squad in sorted({s.squad for s in scores}):
        found += _squad([s for s in scores if s.squad == squad])
    return found


def _squad(scores: Sequence[Score]) -> list[Score]:
    weeks = 1 + max(s.week for s in scores)
    told = [c for s in scores for c in s.told]
    every = versions(cycle_mondays_of(weeks))
    made = {v: calibrate(told, v) for v in every}
    found = []
    for s in scores:
        version = version_on(every, MONDAY.fromordinal(MONDAY.toordinal() + 7 * s.week))
        calibration = NO_CALIBRATION if version is None else made[version]
        by = SAME if s.stratum is None else calibration.of(s.stratum)
        z = (s.z - by.shift) / by.factor
        found.append(replace(s, chance=s.chance if by.same else corrected_chance(by, s.asked_z), z=z))
    return found


def calibrated_rows(scores: Mapping[str, Sequence[Score]], fair: str, ours: Sequence[str]) -> list[Row]:
    """Brier with and without the correction, of the estimator and of the fair peer, both ways; then by stratum."""
    after = {name: corrected(scores[name]) for name in (fair, *ours)}
    rows = [(f"{name}, corrected: Brier of will complete, from week 2", brier(a), "") for name, a in after.items()]
    for name in ours:
        for peer, against in (("as foretold", scores[fair]), ("corrected in the same way", after[fair])):
            ratio = brier(after[name]) / brier(against)
            met = "met" if ratio <= 0.80 else "NOT MET"
            rows.append((f"TARGET, {name}, corrected: Brier over the {fair} {peer}, at most 0.80: {met}", ratio, ""))
    for name in (fair, *ours[:1]):
        for stated, happened, count in stated_and_happened(after[name]):
            rows.append((f"{name}, corrected: stated {stated:.2f} ({count} sets), happened", happened, ""))
    return rows + stratum_rows(scores[ours[0]], after[ours[0]])


def stratum_rows(before: Sequence[Score], after: Sequence[Score]) -> list[Row]:
    """By stratum with enough sets: chances stated and happened, middle and spread of z (0 and 1 are right), both ways."""
    rows: list[Row] = []
    for stratum in sorted({s.stratum for s in before if s.stratum is not None}):
        for label, scores in (("as foretold", before), ("corrected", after)):
            mine = [s for s in scores if s.stratum == stratum and later(s)]
            if len(mine) < LEAST_SETS:
                continue
            z = np.array([s.z for s in mine])
            rows += [
                (f"{stratum} ({len(mine)} sets), {label}: chance stated", float(np.mean([s.chance for s in mine])), ""),
                (f"{stratum}, {label}: happened", float(np.mean([s.done for s in mine])), ""),
                (f"{stratum}, {label}: Brier", brier(mine), ""),
                (f"{stratum}, {label}: reserve above the middle, median", float(np.median(z)), "spreads"),
                (f"{stratum}, {label}: 90 % interval holds", 100 * float((np.abs(z) < 1.6449).mean()), "%"),
            ]
    return rows
