"""Our curve and a level with a trend, on open data of people, beside published equations.

Reps to failure of 14 lifters on the bench press at 90, 80 and 70 % of a measured 1RM (several visits; B. Mitter,
University of Vienna): error of the 1RM read from the repetitions. Strength trials (exscidata): the next test foretold
from the ones before. Data and licences: tests/data.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise
from pathlib import Path

from ferrule.capacity import curves
from ferrule.capacity.prior import GAIN_B

DATA = Path(__file__).parents[1] / "tests" / "data" / "strength"
PERCENTS = (90, 80, 70)

EQUATIONS: Mapping[str, Callable[[float], float]] = {
    "ours, press": lambda n: 1 / curves.share_at(n, curves.K_PRESS),
    "ours, general": lambda n: 1 / curves.share_at(n, curves.K_GENERAL),
    "Epley": lambda n: 1 + n / 30,
    "Brzycki": lambda n: 36 / (37 - n),
    "O'Conner": lambda n: 1 + 0.025 * n,
}
"""1RM over load at n repetitions to failure. Epley 1985, Brzycki 1993, O'Conner 1989: as printed in the data's check A."""

TEN_THIRTY_STEPS = (("pre", 1.0), ("mid", 5.0), ("post", 10.0))
VOLUME_STEPS = (("pre", 1.0), ("week2", 3.0), ("week5", 6.0), ("week9", 10.0), ("post", 13.0))
"""Tests and the week of training they stand at, 1 before it begins. The weeks of the first trial are a guess."""


def rows(name: str) -> list[dict[str, str]]:
    """A file of tests/data/strength."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def one_rm_errors(percent: int, visit: str, equation: Callable[[float], float]) -> tuple[float, float]:
    """(bias, RMSE), % of the measured 1RM, of the 1RM an equation reads from repetitions to failure."""
    errors = []
    for row in rows("reps_to_failure_bench_press.csv"):
        reps = float(row[f"reps{percent}_{visit}_visit"])
        read = float(row[f"load{percent}_kg"]) * equation(reps)
        errors.append(100 * (read / float(row["one_rm_kg"]) - 1))
    return sum(errors) / len(errors), math.sqrt(sum(e * e for e in errors) / len(errors))


def reps_errors(percent: int, visit: str, equation: str) -> float:
    """RMSE of log repetitions foretold from the load alone: the inverse of each equation."""
    inverse: Mapping[str, Callable[[float], float]] = {
        "ours, press": lambda f: curves.reps_at(f, curves.K_PRESS),
        "ours, general": lambda f: curves.reps_at(f, curves.K_GENERAL),
        "Epley": lambda f: 30 * (1 / f - 1),
        "Brzycki": lambda f: 37 - 36 * f,
        "O'Conner": lambda f: (1 / f - 1) / 0.025,
    }
    errors = []
    for row in rows("reps_to_failure_bench_press.csv"):
        share = float(row[f"load{percent}_kg"]) / float(row["one_rm_kg"])
        errors.append(math.log(inverse[equation](share) / float(row[f"reps{percent}_{visit}_visit"])))
    return math.sqrt(sum(e * e for e in errors) / len(errors))


Series = list[tuple[float, float]]
"""Tests of one person in one exercise: (week of training, log load)."""


def series(name: str, steps: tuple[tuple[str, float], ...], keys: tuple[str, ...]) -> dict[tuple[str, ...], Series]:
    """Log loads by `keys`, in the order of the tests; missing tests are left out. The better of two baselines stands."""
    week = dict(steps)
    found: dict[tuple[str, ...], dict[float, float]] = {}
    for row in rows(name):
        time = "pre" if row["time"] == "session1" else row["time"]
        if not row["load"] or time not in week:
            continue
        tests = found.setdefault(tuple(row[k] for k in keys), {})
        tests[week[time]] = max(math.log(float(row["load"])), tests.get(week[time], -math.inf))
    return {key: sorted(tests.items()) for key, tests in found.items() if len(tests) > 1}


def foretold(all_series: Mapping[tuple[str, ...], Series]) -> dict[str, float]:
    """RMSE of the next test's log load by: the last one, the last one and the published trend, and the others' mean gain.

    Published trend   strength = start (1 + b ln week), b = 0.40 / ln 52 (Steele 2022)
    Others' gain      mean step of the other people in the same exercise between the same tests
    """
    steps: dict[tuple[str, float, float], dict[tuple[str, ...], float]] = {}
    for key, tests in all_series.items():
        for (w0, y0), (w1, y1) in pairwise(tests):
            steps.setdefault((key[-1], w0, w1), {})[key] = y1 - y0
    errors: dict[str, list[float]] = {
        "last test": [],
        "last test + published trend": [],
        "last test + others' gain": [],
    }
    for (_, w0, w1), gains in steps.items():
        trend = math.log((1 + GAIN_B * math.log(w1)) / (1 + GAIN_B * math.log(w0)))
        for key, gain in gains.items():
            others = [g for k, g in gains.items() if k[0] != key[0]]
            errors["last test"].append(gain)
            errors["last test + published trend"].append(gain - trend)
            if others:
                errors["last test + others' gain"].append(gain - sum(others) / len(others))
    return {name: _rms(e) for name, e in errors.items()}


def _rms(values: Iterable[float]) -> float:
    held = list(values)
    return math.sqrt(sum(v * v for v in held) / len(held))


def run() -> list[tuple[str, float, str]]:
    """Rows: bias and RMSE of the 1RM by equation and load; log repetitions; the next strength test."""
    out: list[tuple[str, float, str]] = []
    for name, equation in EQUATIONS.items():
        for percent in PERCENTS:
            bias, error = one_rm_errors(percent, "multi", equation)
            out.append((f"1RM from reps at {percent} %, {name}: bias", bias, "%"))
            out.append((f"1RM from reps at {percent} %, {name}: RMSE", error, "%"))
    for name in EQUATIONS:
        errors = [reps_errors(p, "multi", name) for p in PERCENTS]
        out.append((f"reps foretold from the load, {name}: RMSE, all loads", _rms(errors), "log"))
    trials = (
        ("10 v 30 RM", series("ten_vs_thirty_rm_trial.csv", TEN_THIRTY_STEPS, ("participant", "exercise"))),
        ("1 v 3 sets", series("strength_volume_trial.csv", VOLUME_STEPS, ("participant", "leg", "exercise"))),
    )
    for trial, tests in trials:
        for name, error in foretold(tests).items():
            out.append((f"next test, {trial}, {name}: RMSE", error, "log"))
    return out
