"""The closed loop: next week's dose is chosen from what is believed, aiming at the repetitions and the reserve meant.

Loads are chosen so that the middle of what is expected is reps + reserve + 0.5; without load the repetitions move (3-25),
holds are three quarters of the middle. Scored: first sets in repetitions that some dose could have met; more than two
repetitions too hard or too easy. With 80 % empty taps hardly anything is told but Done.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from bench.estimator_peers import Expected
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Variant
from ferrule.model.words import Place
from ferrule.simulate.reports import Asked
from ferrule.simulate.squad import MOST_LOAD_SHARE, SimulatedSquad, do_week, make_squad, open_loop, round_load
from ferrule.simulate.truth import Body, load_for, possible
from ferrule.simulate.world import load_place

Row = tuple[str, float, str]
FIRST_SEED = 200
OFF = 2.0
"""Repetitions beyond which a set is called too hard or too easy."""
TAPS = 0.8


class Chooser(Protocol):
    """What the loop needs of an estimator."""

    def predict(self, n: int, variant: Variant, load_kg: float, place: Place | None) -> Expected: ...
    def learn(self, n: int, sets: Sequence[LoggedSet]) -> None: ...
    def week_over(self, week: int) -> None: ...


@dataclass(frozen=True, slots=True)
class Dosed:
    """One first set of the loop. off: true reserve minus the one meant, repetitions (above 0 too easy)."""

    week: int
    off: float
    done: bool
    known: bool


def choose(chooser: Chooser, squad: SimulatedSquad, n: int, asked: Asked, reps: int) -> Asked:
    """The same line with a dose that meets what was meant, as `chooser` sees it."""
    asks = squad.world.variants[asked.variant_id]
    variant, mass = asks.variant, squad.bodies[n].mass_kg
    place: Place | None = load_place(variant)  # type: ignore[assignment]
    empty = chooser.predict(n, variant, 0.0, place)
    if asks.hold:
        return replace(asked, load_kg=0.0, amount=float(np.clip(5 * round(0.75 * empty.amount() / 5), 5, 120)))
    load = 0.0
    if place is not None and variant.main is not None:
        aim = -math.log1p(empty.k * (reps + asked.rir - 0.5))
        demand = variant.main.base * math.exp(aim - empty.log_share)
        load = (demand - variant.main.base) / variant.main.per_kg[place] * mass
        load = round_load(min(max(load, 0.0), MOST_LOAD_SHARE * mass))
    amount = float(reps)
    if load <= 0:
        amount = float(np.clip(math.floor(empty.amount() - asked.rir), 3, 25))
    return replace(asked, load_kg=load, amount=amount, place=place)


def choose_knowing(squad: SimulatedSquad, body: Body, asked: Asked, reps: int) -> Asked:
    """The dose that meets what was meant for who knows the body but not the day: the best any chooser can do."""
    asks = squad.world.variants[asked.variant_id]
    empty = possible(squad.world, body, asks, 0.0)
    if asks.hold:
        return replace(asked, load_kg=0.0, amount=float(np.clip(5 * round(0.75 * empty / 5), 5, 120)))
    most = MOST_LOAD_SHARE * body.mass_kg
    load = round_load(load_for(squad.world, body, asks, reps + asked.rir + 0.5, most) or 0.0)
    amount = float(reps) if load > 0 else float(np.clip(math.floor(empty - asked.rir), 3, 25))
    return replace(asked, load_kg=load, amount=amount)


def feasible(squad: SimulatedSquad, body: Body, asked: Asked, reps: int) -> bool:
    """True where some load, or some number of repetitions, would have met what was meant."""
    asks = squad.world.variants[asked.variant_id]
    if asks.hold:
        return False
    empty = possible(squad.world, body, asks, 0.0)
    if load_place(asks.variant) is None:
        return 4 + asked.rir <= empty <= 25 + asked.rir
    most = possible(squad.world, body, asks, MOST_LOAD_SHARE * body.mass_kg)
    return most <= reps + asked.rir + 0.5 and empty >= 4 + asked.rir


def loop(squad: SimulatedSquad, chooser: Chooser | None) -> list[Dosed]:
    """One squad's season with doses from `chooser` (None knows the bodies); the variants are the open-loop coach's."""
    bodies, found = squad.bodies, []
    days: dict[tuple[int, str], set[object]] = {}
    off: Mapping[int, int] = {}
    lines = {line.key: line for cycle in squad.cycles for line in cycle}
    for week in range(squad.weeks):
        asked = []
        for n, body in enumerate(bodies):
            given = [(a, lines[a.item_key].reps) for a in open_loop(squad, bodies, week, n)]
            if chooser is None:
                asked.append([choose_knowing(squad, body, a, reps) for a, reps in given])
            else:
                asked.append([choose(chooser, squad, n, a, reps) for a, reps in given])
        after = do_week(squad, bodies, asked, week, off)
        for n, sets in enumerate(after.happened):
            for one in sets:
                known = days.setdefault((n, one.asked.variant_id), set())
                reps = lines[one.asked.item_key].reps
                if one.number == 1 and one.entry.side == "both" and feasible(squad, bodies[n], one.asked, reps):
                    left = one.possible - 0.5 - one.asked.amount - one.asked.rir
                    found.append(Dosed(week, left, one.possible >= one.asked.amount, len(known) >= 2))
            for one in sets:
                days[n, one.asked.variant_id].add(one.asked.day)
            if chooser is not None:
                chooser.learn(n, [h.entry for h in sets])
        if chooser is not None:
            chooser.week_over(week)
        bodies, off = after.bodies, after.off
    return found


def summary(doses: Sequence[Dosed]) -> tuple[float, float, float, float]:
    """(% too hard, % too easy, median of reserve minus meant, % completed)."""
    off = np.array([d.off for d in doses])
    done = 100 * float(np.mean([d.done for d in doses]))
    return 100 * float((off < -OFF).mean()), 100 * float((off > OFF).mean()), float(np.median(off)), done


def loop_rows(squads: int, makers: Mapping[str, Callable[[SimulatedSquad], Chooser] | None]) -> list[Row]:
    """Rows of the closed loop, with honest reports and with 80 % empty taps."""
    library, _ = load_library()
    rows: list[Row] = []
    for reports, taps in (("honest", 0.0), ("80 % empty taps", TAPS)):
        for name, make in makers.items():
            if make is None and taps > 0:
                continue  # who knows the bodies reads no reports
            doses: list[Dosed] = []
            for seed in range(FIRST_SEED, FIRST_SEED + squads):
                squad = make_squad(library, seed, empty_taps=taps)
                doses += loop(squad, None if make is None else make(squad))
            for when, chosen in (
                ("week 2", [d for d in doses if d.week == 1]),
                ("week 4", [d for d in doses if d.week == 3]),
                ("week 8", [d for d in doses if d.week == 7]),
                ("weeks 9-12", [d for d in doses if d.week >= 8]),
                ("done before", [d for d in doses if d.known]),
            ):
                if not chosen:
                    continue
                hard, easy, middle, done = summary(chosen)
                label = f"closed loop, {reports}, {name}, {when}"
                rows += [
                    (f"{label}: over 2 reps too hard", hard, "%"),
                    (f"{label}: over 2 reps too easy", easy, "%"),
                    (f"{label}: median reserve minus meant", middle, "reps"),
                    (f"{label}: completed", done, "%"),
                ]
    return rows
