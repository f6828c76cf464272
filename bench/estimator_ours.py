"""The estimator of ferrule.capacity in the table: folded week by week, offsets shared between cycles.

The chance and the spread of a first set: what `Capacity.of` says, the day, the noise of a set, and the runner's own curve.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bench.estimator_peers import Expected, expected
from ferrule.capacity import curves
from ferrule.capacity.belief import belief
from ferrule.capacity.fold import Checkpoint, fold_kept
from ferrule.capacity.offsets import NO_OFFSETS, Offsets, share_offsets
from ferrule.capacity.state import LEGS, State
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Variant
from ferrule.model.squad import Capacity
from ferrule.model.words import Place
from ferrule.simulate.squad import CYCLE_WEEKS, MONDAY, SimulatedSquad

SET_SD = 0.015
STEEP_NEW = curves.K_CV
STEEP_KNOWN = 0.10
"""Spread of log steepness left over: where a variant is known, its offset has taken up most of it (ours)."""
KNOWN_SETS = 3


class Ours:
    """Beliefs of every runner, brought up to date each Monday; offsets re-estimated when a cycle ends, frozen within."""

    def __init__(self, squad: SimulatedSquad, *, first_week_too: bool = False) -> None:
        """first_week_too: offsets are re-estimated once more when the first week of a cycle is in."""
        self.squad = squad
        ends = set(range(CYCLE_WEEKS, squad.weeks + 1, CYCLE_WEEKS))
        self.share_after = frozenset(ends | {1} | {week + 1 for week in ends} if first_week_too else ends)
        self.logs: list[list[LoggedSet]] = [[] for _ in squad.runners]
        self.starts: list[Checkpoint | None] = [None] * len(squad.runners)
        self.states: list[State] = []
        self.beliefs: list[Capacity] = []
        self.offsets: Offsets = NO_OFFSETS
        self.asked: int = 0
        self._fold(0)

    def learn(self, n: int, sets: Sequence[LoggedSet]) -> None:
        self.logs[n] += sets

    def week_over(self, week: int) -> None:
        if week + 1 in self.share_after:
            self._fold(week + 1)
            states = {m.runner.id: s for m, s in zip(self.squad.runners, self.states, strict=True)}
            self.offsets = share_offsets(states, self.squad.library, week + 1, MONDAY + timedelta(7 * (week + 1)))
            self.starts = [None] * len(self.starts)
        self._fold(week + 1)

    def _fold(self, week: int) -> None:
        """Everybody's record up to the Sunday before week `week`."""
        until = MONDAY + timedelta(7 * week - 1)
        self.states, self.beliefs, self.asked = [], [], 0
        for n, member in enumerate(self.squad.runners):
            away = tuple(replace(a, last=min(a.last, until)) for a in member.away if a.first <= until)
            state, findings, kept = fold_kept(
                member.runner,
                self.squad.library,
                until=until,
                sets=self.logs[n],
                away=away,
                races=member.races,
                offsets=self.offsets,
                start=self.starts[n],
            )
            if kept:
                self.starts[n] = kept[-1]
            self.asked += len(findings)
            self.states.append(state)
            self.beliefs.append(belief(state, self.squad.library, self.squad.bodies[n].mass_kg))

    def predict(self, n: int, variant: Variant, load_kg: float, place: Place | None) -> Expected:
        capacity = self.beliefs[n]
        mean, sd = capacity.of(variant)
        main = variant.main
        assert main is not None
        day = math.hypot(curves.DAY_SD_LOG, 0.03 if main.group in LEGS else 0.0)
        own = capacity.variants.get(variant.id)
        mass = self.squad.bodies[n].mass_kg
        middle = expected(variant, load_kg, place, mass, mean, 0.0)
        if middle.hold:
            curve = 0.0 if own is not None and own.sets >= KNOWN_SETS else curves.HOLD_SD_LOG
        else:
            more = -math.expm1(middle.log_share)  # k (n - 1) / (1 + k (n - 1))
            curve = (STEEP_KNOWN if own is not None and own.sets >= KNOWN_SETS else STEEP_NEW) * abs(more)
        return replace(middle, sd=math.hypot(sd, day, SET_SD, curve))
