"""Simple ways to learn what a runner can do, as peers of the estimator: they meet the same weeks and read the same log.

Every peer gives a log capacity against the computed demand of a variant and a spread; the curve that turns it into
repetitions is the same for all (ferrule.capacity.curves). All start from the same prior (norms, level, home tests): what
they learn is the deviation from it. The fair ones read effort as the estimator's notes say (bias of one repetition,
"4 or more" and taps as bounds, one bound a line and day, set fatigue); gain 0.3, a step held to +-0.25.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from ferrule.capacity import curves
from ferrule.capacity.prior import prior_capacity
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library, Variant
from ferrule.model.squad import Runner
from ferrule.model.words import Place

GAIN = 0.3
MOST_STEP = 0.25
MOST_FIRST_STEP = 0.8
BIAS_REPS = 1.0

Kind = Literal["point", "at least"]


@dataclass(frozen=True, slots=True)
class Expected:
    """What is expected of a first set: log share of best, its spread, and the curve to read it on."""

    log_share: float
    sd: float
    hold: bool
    k: float
    b0: float
    b1: float

    def amount(self, z: float = 0.0) -> float:
        """Repetitions or seconds at `z` spreads above the middle."""
        h = self.log_share - z * self.sd
        if self.hold:
            return float(min(400.0, max(2.0, self.b0 * math.exp(h * self.b1))))
        return min(60.0, max(0.3, 1 + math.expm1(-h) / self.k))

    def z_of(self, amount: float) -> float:
        """How many spreads `amount` lies above the middle."""
        held = math.log(amount / self.b0) / self.b1
        at = held if self.hold else -math.log1p(self.k * max(amount - 1, -0.9))
        return (self.log_share - at) / self.sd

    def chance(self, amount: float) -> float:
        """Chance that `amount` or more is possible."""
        return 0.5 * math.erfc(self.z_of(amount) / math.sqrt(2))


def expected(variant: Variant, load_kg: float, place: Place | None, mass_kg: float, mean: float, sd: float) -> Expected:
    """The first set of `variant` for a runner of log capacity `mean` (spread `sd`, day included)."""
    ask = variant.main
    assert ask is not None  # only dosed variants are asked for
    b0, b1 = curves.hold_curve(ask.group)
    h = math.log(ask.demand(load_kg, place, mass_kg)) - mean
    return Expected(h, sd, variant.dose_kind == "hold", curves.k_of(ask.group), b0, b1)


def share_log(variant: Variant, amount: float) -> float:
    """Log share of best at which `amount` is just possible, on the tool's own mean curve."""
    ask = variant.main
    assert ask is not None
    if variant.dose_kind == "hold":
        b0, b1 = curves.hold_curve(ask.group)
        return math.log(max(amount, 1.0) / b0) / b1
    return -math.log1p(curves.k_of(ask.group) * max(amount - 1, -0.7))


def readings(sets: Iterable[LoggedSet], fair: bool) -> list[tuple[LoggedSet, float, Kind]]:
    """What each set says: repetitions or seconds, and whether just so or at least so many.

    fair    bias and bounds handled; one bound a line and day, the last. Else effort at its word, and a set without it
            read as done with two left
    """
    found: list[tuple[LoggedSet, float, Kind]] = []
    bounds: dict[tuple[object, str], int] = {}
    for one in sets:
        if one.stopped == "pain":
            continue
        done = one.asked if one.done is None else one.done
        if done is None:
            continue
        kind: Kind = "point"
        if one.outcome == "failed":
            amount = done + (0.5 if fair and one.unit == "reps" else 0.0)
        elif one.reserve is not None:
            low, high = one.reserve.low, one.reserve.high
            left = low if high is None else (low + high) / 2
            if fair:
                amount = done + left + 0.5 + BIAS_REPS * min(1.0, (left + 1) / 2.5)
                kind = "at least" if high is None else "point"
            else:
                amount = done + left
        elif fair:
            amount, kind = done, "at least"
        else:
            amount = done + 2 if one.unit == "reps" else done
        if kind == "at least":
            key = (one.day, one.item_key)
            if key in bounds:
                found[bounds[key]] = (one, amount, kind)
                continue
            bounds[key] = len(found)
        found.append((one, amount, kind))
    return found


@dataclass
class Weighted:
    """An exponentially weighted 1RM per exercise, as a deviation from the prior.

    gain     1 is "the last set", 0.3 the usual weight
    fair     reads effort, bounds, curve and slips as the estimator does
    runner   adds a runner effect for exercises new to the runner (two-way: exercise + runner, both shrunk)
    """

    library: Library
    runners: Sequence[Runner]
    year: int
    gain: float = GAIN
    fair: bool = False
    runner: bool = False
    known: dict[tuple[int, str], float] = field(default_factory=dict)
    residual: tuple[float, float] = (20 * 0.12**2, 20.0)
    first: tuple[float, float] = (5 * 0.3**2, 5.0)

    def __post_init__(self) -> None:
        self.prior = [prior_capacity(r, self.year).mean_log for r in self.runners]
        self.runner_effect: dict[int, float] = {}
        self.exercise_effect: dict[str, float] = {}

    def _effects(self) -> None:
        """Exercise means and, two-way, runner effects: three passes of means, shrunk by one more count in each."""
        runner: dict[int, float] = {}
        exercise: dict[str, float] = {}
        shrink = 1.0 if self.runner else 0.0
        for _ in range(3 if self.runner else 1):
            by_exercise: dict[str, list[float]] = {}
            for (n, variant), y in self.known.items():
                by_exercise.setdefault(variant, []).append(y - runner.get(n, 0.0))
            exercise = {v: sum(ys) / (len(ys) + shrink) for v, ys in by_exercise.items()}
            if self.runner:
                by_runner: dict[int, list[float]] = {}
                for (n, variant), y in self.known.items():
                    by_runner.setdefault(n, []).append(y - exercise[variant])
                runner = {n: sum(ys) / (len(ys) + shrink) for n, ys in by_runner.items()}
        self.runner_effect, self.exercise_effect = runner, exercise

    def believed(self, n: int, variant: Variant) -> tuple[float, bool]:
        """(deviation from the prior, whether this runner is known in it)."""
        y = self.known.get((n, variant.id))
        if y is not None:
            return y, True
        return self.exercise_effect.get(variant.id, 0.0) + self.runner_effect.get(n, 0.0), False

    def predict(self, n: int, variant: Variant, load_kg: float, place: Place | None) -> Expected:
        y, known = self.believed(n, variant)
        total, count = self.residual if known else self.first
        assert variant.main is not None
        mean = self.prior[n][variant.main.group] + y
        mass = self.runners[n].mass_kg or 65.0
        return expected(variant, load_kg, place, mass, mean, math.sqrt(total / count))

    def learn(self, n: int, sets: Iterable[LoggedSet]) -> None:
        """One runner's week, in the order it was done."""
        mass = self.runners[n].mass_kg or 65.0
        for one, amount, kind in readings(sets, self.fair):
            variant = self.library.variants[one.variant_id]
            ask = variant.main
            if ask is None or amount <= 0:
                continue
            seen = math.log(ask.demand(one.load_kg, one.place, mass)) - share_log(variant, amount)
            seen += curves.SET_FATIGUE_LOG * (one.number - 1) if self.fair else 0.0
            seen -= self.prior[n][ask.group]
            y, known = self.believed(n, variant)
            step = seen - y
            if kind == "at least" and step < 0:
                continue
            if known:
                self.residual = (0.999 * self.residual[0] + min(step**2, 0.16), 0.999 * self.residual[1] + 1)
            else:
                self.first = (self.first[0] + min(step**2, 1.0), self.first[1] + 1)
            if self.fair:
                most = MOST_STEP if known else MOST_FIRST_STEP
                step = max(-most, min(most, step))
            self.known[n, variant.id] = y + (self.gain if known else 1.0) * step

    def week_over(self, week: int) -> None:  # noqa: ARG002
        """The squad's means are made anew."""
        self._effects()
