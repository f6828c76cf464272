"""Who goes through a dry run: runners invented for the programme, or those of a squad list, as often as it takes."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np

from ferrule.model.exercise import Library
from ferrule.model.programme import Programme
from ferrule.model.squad import Anchor, Runner, Squad
from ferrule.squad.place import monday_of
from ferrule.squad.reader import read_squad

MONDAY: Final = date(2026, 1, 5)
"""Where a dry run begins when no squad list says otherwise."""
HOMES: Final = (
    "mat; chair; stair; sofa",
    "mat; chair; stair; sofa; rucksack to 12 kg; water bottle 1.5 kg x 2",
    "mat; chair; stair; dumbbell 6 kg x 2; band thin; band medium",
    "mat; chair; stair; sofa; dumbbell 10 kg x 2; rucksack to 15 kg; step 20 cm",
    "mat; chair; kettlebell 12 kg; kettlebell 16 kg; step 20 cm; step 30 cm; band medium",
    "mat; bench 45 cm; box 40 cm; step 20 cm; step 30 cm; chair; dumbbells 4/6/8/10/12/16/20 kg x 2; doorway bar; "
    "band thin; band medium; band thick",
)
"""Kit of invented homes, plain to full (ours); what the programme says it needs comes on top."""
_WEEKS_OF_DAYS: Final = ("Mon Wed Fri", "Mon Wed Thu Fri", "Tue Thu Sat", "Mon Wed Sat", "Mon Tue Wed Thu Fri Sat")
_RUNS: Final = (
    "Tue easy; Thu key 18:30; Sun long 09:00",
    "Tue key 18:30; Thu easy; Sun long 10:00",
    "Wed key 18:30; Fri easy; Sun long 09:00",
    "Tue easy; Sat long 08:00",
    "",
)
_LEVELS: Final = ("never", "some", "regular", "strong")


def invented_squad(programme: Programme, library: Library, runners: int, seed: int) -> Squad:
    """`runners` invented people whose homes hold what the programme needs; all begin in its first week on MONDAY."""
    rng = np.random.default_rng([seed, 10])
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(("id", "name", "birth year", "sex", "mass", "level", "kit", "minutes", "days", "runs", "anchor"))
    needs = "; ".join(programme.needs)
    longest = max((s.minutes or 0 for c in programme.cycles for s in c.sessions), default=0)
    for n in range(runners):
        sex = "female" if rng.random() < 0.5 else "male"
        mass = float(np.clip(rng.normal(61 if sex == "female" else 73, 7), 45, 100))
        minutes = max(longest, 30) + 5 * int(rng.integers(-1, 4))
        rows.writerow((
            f"S{n + 1:03d}", f"Simulated {n + 1}", int(rng.integers(1958, 2005)), sex, f"{mass:.0f}",
            _LEVELS[int(rng.choice(4, p=[0.15, 0.4, 0.3, 0.15]))],
            "; ".join(x for x in (HOMES[int(rng.integers(len(HOMES)))], needs) if x), minutes,
            _WEEKS_OF_DAYS[int(rng.integers(len(_WEEKS_OF_DAYS)))], _RUNS[int(rng.integers(len(_RUNS)))],
            f"from {MONDAY.isoformat()}",
        ))  # fmt: skip
    squad, _ = read_squad(out.getvalue().encode(), "invented", library)  # kit it cannot read is left out
    return squad


def as_often(squad: Squad, runners: int) -> Squad:
    """So many runners after those of a squad list, one after the other and again; all begin in the first week together.

    Health questions, limits, sore places, kit and days stay theirs; races and times to join are left out.
    """
    if not squad.runners:
        return squad
    starts = [r.anchor.day for r in squad.runners if r.anchor is not None]
    monday = monday_of(min(starts)) if starts else MONDAY
    made = []
    for n in range(runners):
        like = squad.runners[n % len(squad.runners)]
        turn = n // len(squad.runners)
        made.append(_placed(like, monday, like.id if turn == 0 else f"{like.id}-{turn + 1}"))
    return replace(squad, runners=tuple(made))


def _placed(runner: Runner, monday: date, runner_id: str) -> Runner:
    anchor = Anchor("from", monday, runner.span)
    return replace(runner, id=runner_id, anchor=anchor, starts=None, races=(), away=(), shares=())


def begins(squad: Squad) -> date:
    """The Monday of the first week."""
    days = [r.anchor.day for r in squad.runners if r.anchor is not None]
    return monday_of(min(days)) if days else MONDAY
