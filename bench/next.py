"""Processor and wall time of the next week of the demo squad, with a month of sets told by everybody."""

from __future__ import annotations

import time
from datetime import UTC, date, datetime, timedelta
from importlib.resources import files

from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.next.squad import next_week, told_of
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

MONDAY, WEEKS = date(2026, 1, 19), 4


def sets_of(week: FittedWeek, copies: int) -> list[Entry]:
    """Every set of a week, counted at the top of what was asked; ids made of the week."""
    out = []
    for s in week.sessions:
        for b in s.blocks:
            for i in b.items if b.kind != "warm-up" else ():
                amount = i.reps or i.hold_s
                if amount is None:
                    continue
                for n in range(1, i.sets + 1):
                    entry_id = f"{week.runner_id}-{copies}-{s.key}-{i.item_key}-{n}"
                    at = datetime(s.day.year, s.day.month, s.day.day, 19, tzinfo=UTC)
                    fact = LoggedSet(
                        entry_id, week.runner_id, s.day, s.key, i.item_key, i.variant_id, n, "counted",
                        unit="s" if i.reps is None else "reps", asked=amount.low, done=amount.high, reserve=Reserve(2, 2),
                        load_kg=0.0 if i.load is None else i.load.kg, place=None if i.load is None else i.load.place,
                    )  # fmt: skip
                    out.append(Entry(entry_id, week.runner_id, at, "page", fact))
    return out


def run() -> list[tuple[str, float, str]]:
    """One process; the aim is below 10 s a week of 24 runners, growing no faster than what was told."""
    library, house = load_library()[0], House()
    demo = files("ferrule.demo")
    programme = read_programme(demo.joinpath("programme.md").read_bytes(), "programme.md", library)[0]
    squad = read_squad(demo.joinpath("squad.csv").read_bytes(), "squad.csv", library)[0]
    week = fit_squad(programme, squad, library, house, MONDAY)
    sent = {o.runner_id: [o] for o in week.outcomes if isinstance(o, FittedWeek)}
    entries: list[Entry] = []
    rows: list[tuple[str, float, str]] = []
    for n in range(1, WEEKS + 1):
        monday = MONDAY + timedelta(weeks=n)
        entries += [e for weeks in sent.values() for e in sets_of(weeks[-1], n)]
        wall, start = time.perf_counter(), time.process_time()
        told = told_of(programme, squad, library, house, monday, sent=sent, entries=entries)
        middle = time.process_time()
        found = next_week(programme, library, house, told)
        what = f"week {n + 1} of {len(squad.runners)} runners, {len(entries)} sets told"
        rows += [
            (what, time.perf_counter() - wall, "s"),
            (f"{what}: processor", time.process_time() - start, "s"),
            (f"{what}: of it beliefs and plans", middle - start, "s"),
        ]
        for o in found.week.outcomes:
            if isinstance(o, FittedWeek):
                sent.setdefault(o.runner_id, []).append(o)
    return rows
