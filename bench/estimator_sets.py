"""The closed loop with the dose chosen anew before each set, from what the sets before it that day told.

Weeks and first sets are as in `estimator_loop`. After each set the effort is asked for (one in five gives no answer); its
reading moves what is expected of the line, as one normal number: the spread of set to set is left, all else was shared. The
next set has another load, or other repetitions where nothing is carried. Nothing else of the day is read.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from bench.estimator_loop import Chooser, Dosed, choose, feasible, summary
from bench.estimator_peers import Expected
from ferrule.capacity import curves
from ferrule.capacity.foretell import SET_SD, log_share_of
from ferrule.capacity.observation import observe
from ferrule.capacity.state import BIAS_MEAN
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Variant
from ferrule.model.words import Place
from ferrule.simulate.reports import Asked, perform
from ferrule.simulate.squad import MONDAY, SimulatedSquad, do_week, make_squad, open_loop
from ferrule.simulate.truth import Body, Today, make_today

Row = tuple[str, float, str]
FIRST_SEED = 200
SETS = 3


@dataclass
class _Line:
    """A chooser whose expectation of one line is moved by `up` (log share), with `part` of its variance left."""

    base: Chooser
    up: float = 0.0
    part: float = 1.0

    def predict(self, n: int, variant: Variant, load_kg: float, place: Place | None) -> Expected:
        said = self.base.predict(n, variant, load_kg, place)
        return replace(said, log_share=said.log_share + self.up, sd=math.hypot(said.sd * math.sqrt(self.part), SET_SD))

    def learn(self, n: int, sets: Sequence[LoggedSet]) -> None:
        """Nothing: the week is learnt as a whole."""

    def week_over(self, week: int) -> None:
        """Nothing."""

    def read(self, said: Expected, entry: LoggedSet, squad: SimulatedSquad, n: int) -> None:
        """Take in what one set told: a count, or a bound where it lies above the middle."""
        seen = observe(entry, squad.library, squad.bodies[n].mass_kg)
        if seen.kind == "nothing" or seen.amount is None or seen.group is None or seen.hold:
            return
        amount = seen.amount + BIAS_MEAN * seen.bias_weight
        gap = log_share_of(amount, seen.group, hold=False) - said.log_share  # below 0: more was possible
        if seen.kind == "at least" and gap > 0:
            return
        shared = said.sd**2 - SET_SD**2
        error = seen.amount_sd * said.k / (1 + said.k * (amount - 1))
        gain = shared / (shared + SET_SD**2 + error**2)
        if abs(gap) < 4 * math.sqrt(shared + error**2):
            self.up += gain * gap
            self.part *= 1 - gain


def set_by_set(squad: SimulatedSquad, chooser: Chooser, anew: bool) -> list[tuple[int, Dosed]]:
    """(set number, how it was dosed) of lines that some dose could have met, from week 2; anew: chosen before each set."""
    bodies, found = squad.bodies, []
    days: dict[tuple[int, str], set[object]] = {}
    off: Mapping[int, int] = {}
    lines = {line.key: line for cycle in squad.cycles for line in cycle}
    for week in range(squad.weeks):
        asked: list[list[Asked]] = []
        for n, body in enumerate(bodies):
            given = [(a, lines[a.item_key].reps) for a in open_loop(squad, bodies, week, n)]
            asked.append([choose(chooser, squad, n, a, reps) for a, reps in given])
            for i, (one, reps) in enumerate(given):
                if week > 0 and feasible(squad, body, one, reps):
                    known = len(days.get((n, one.variant_id), ())) >= 2
                    found += _line(squad, chooser, n, body, one, reps, week, known, (i, anew))
        after = do_week(squad, bodies, asked, week, off)
        for n, sets in enumerate(after.happened):
            for h in sets:
                days.setdefault((n, h.asked.variant_id), set()).add(h.asked.day)
            chooser.learn(n, [h.entry for h in sets])
        chooser.week_over(week)
        bodies, off = after.bodies, after.off
    return found


def _line(
    squad: SimulatedSquad,
    chooser: Chooser,
    n: int,
    body: Body,
    asked: Asked,
    reps: int,
    week: int,
    known: bool,
    how: tuple[int, bool],
) -> list[tuple[int, Dosed]]:
    """The sets of one line on its day, each told, none of it kept: the week itself is done and logged by `do_week`."""
    i, anew = how
    asks = squad.world.variants[asked.variant_id]
    index = (asked.day - MONDAY).days
    today = make_today(np.random.default_rng([squad.seed, 4, n, index]), None)
    rng = np.random.default_rng([squad.seed, 8, n, index, i])
    habits = replace(squad.runners[n].habits, writes=True, stops_early=0.0, one_sided=0.0, pain=0.0)
    line, found = _Line(chooser), []
    dose = choose(line, squad, n, asked, reps)
    for number in range(1, SETS + 1):
        if anew and number > 1:
            dose = choose(line, squad, n, asked, reps)
        here = Today(today.log_shift - body.set_loss * (number - 1))
        said = line.predict(n, asks.variant, dose.load_kg, dose.place)
        (one,) = perform(squad.world, body, asks, replace(dose, sets=1), squad.runners[n].runner.id, here, habits, rng)
        left = one.possible - 0.5 - dose.amount - dose.rir
        found.append((number, Dosed(week, left, one.possible >= dose.amount, known)))
        line.read(said, one.entry, squad, n)
        line.up += curves.SET_FATIGUE_LOG
    return found


def sets_rows(squads: int, makers: Mapping[str, Callable[[SimulatedSquad], Chooser]]) -> list[Row]:
    """Too hard and too easy by set, with the dose of the first set kept and with it chosen anew, done before and new."""
    library, _ = load_library()
    rows: list[Row] = []
    for name, make in makers.items():
        for anew in (False, True):
            doses: list[tuple[int, Dosed]] = []
            for seed in range(FIRST_SEED, FIRST_SEED + squads):
                squad = make_squad(library, seed)
                doses += set_by_set(squad, make(squad), anew)
            for number in (1, SETS):
                for label, known in (("done before", True), ("new or done once", False)):
                    hard, easy, middle, done = summary([d for k, d in doses if k == number and d.known == known])
                    head = f"set {number}, {'chosen anew' if anew else 'as set 1'}, {name}, {label}"
                    rows += [
                        (f"{head}: over 2 reps too hard", hard, "%"),
                        (f"{head}: over 2 reps too easy", easy, "%"),
                        (f"{head}: median reserve minus meant", middle, "reps"),
                        (f"{head}: completed", done, "%"),
                    ]
    return rows
