"""The estimator of ferrule.capacity in the table: folded week by week, offsets shared as the product's versions say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from bench.estimator_peers import Expected
from ferrule.capacity import curves
from ferrule.capacity.belief import belief
from ferrule.capacity.fold import Checkpoint, fold_kept
from ferrule.capacity.foretell import foretell
from ferrule.capacity.offsets import NO_OFFSETS, Offsets, share_offsets
from ferrule.capacity.state import State
from ferrule.capacity.versions import versions
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Variant
from ferrule.model.squad import Capacity
from ferrule.model.words import Place
from ferrule.simulate.squad import CYCLE_WEEKS, MONDAY, SimulatedSquad


class Ours:
    """Beliefs of every runner, brought up to date each Monday; what the squad shares, at each version."""

    def __init__(self, squad: SimulatedSquad, *, first_weeks: bool = True) -> None:
        """first_weeks: offsets are shared once more when the first week of a cycle is in, as `versions` says; else not."""
        self.squad = squad
        begins = cycle_mondays_of(squad.weeks)
        days = [v.counts_from for v in versions(begins)] if first_weeks else begins
        self.share_on = {(day - MONDAY).days // 7 for day in days}
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
        if week + 1 in self.share_on:
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
        """As `ferrule.capacity.foretell` says."""
        said = foretell(self.beliefs[n], variant, load_kg, place, self.squad.bodies[n].mass_kg)
        b0, b1 = curves.hold_curve(said.group)
        return Expected(said.log_share, said.sd, said.hold, curves.k_of(said.group), b0, b1)


def cycle_mondays_of(weeks: int) -> list[date]:
    """The Mondays on which the cycles of a season of so many weeks begin, the one after the last included."""
    return [MONDAY + timedelta(7 * week) for week in range(0, weeks + 1, CYCLE_WEEKS)]
