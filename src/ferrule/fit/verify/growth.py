"""What we chose grows by one step a week at most, worked out again from the two fitted weeks."""

from __future__ import annotations

from collections.abc import Iterator

from ferrule.fit.verify.effort import demand_of
from ferrule.fit.verify.refused import refused
from ferrule.fit.verify.where import runner_there
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedItem, FittedWeek, LoadChoice
from ferrule.model.house import House
from ferrule.model.programme import Item, Named, ProgrammeWeek
from ferrule.model.squad import Runner
from ferrule.squad.loads import load_choices

SLACK = 1.001
"""A tenth of a percent is rounding."""


def check_growth(
    week: FittedWeek, last: FittedWeek | None, written: ProgrammeWeek, runner: Runner, library: Library, house: House
) -> tuple[Finding, ...]:
    """In one cycle a line's demand rises by a step at most, unless the coach wrote what is done.

    A step: the next load the runner's kit makes at that place, or `load-step-percent` of the load where that is more;
    `load-step-percent` of the demand for what takes no load.
    """
    if last is None or last.cycle_name != week.cycle_name:
        return ()
    lines = {(s.key, i.key): i for s in written.sessions for b in s.blocks for i in b.items}
    before = dict(_heaviest_first(last))
    out = []
    for s in week.sessions:
        there = runner_there(s, week, runner)
        for item in (i for b in s.blocks for i in b.items):
            line, old = lines.get((s.key, item.item_key)), before.get((_base(s.key), item.item_key))
            told = any("nothing that may be done asks less" in r.text for r in item.reasons)
            if line is None or old is None or told or _of_the_text(line, item):
                continue
            mass = runner.mass_kg or {"female": 60.0, "male": 70.0, None: 65.0}[runner.sex]
            group, now = demand_of(item.variant_id, item.load, library, mass)
            was, most = step_above(old, there, library, house, mass)
            if group is not None and group == was and now > most * SLACK:
                out.append(
                    refused("growth", week, f"{item.name} asks {now / most - 1:.0%} more than a step above last week")
                )
    return tuple(out)


def check_new(week: FittedWeek, last: FittedWeek | None, written: ProgrammeWeek, house: House) -> tuple[Finding, ...]:
    """Exercises the text does not name and last week did not have: at most `new-exercises-a-week` lines, each once."""
    known = {i.variant_id for s in last.sessions for b in s.blocks for i in b.items} if last is not None else set()
    if not known:
        return ()
    lines = {(_base(s.key), i.key): i for s in written.sessions for b in s.blocks for i in b.items}
    new = set()
    for s in week.sessions:
        for item in (i for b in s.blocks for i in b.items):
            line = lines.get((_base(s.key), item.item_key))
            if line is not None and item.variant_id not in {*known, *_named(line)}:
                new.add((_base(s.key), item.item_key))
    most = house.value("new-exercises-a-week")
    return () if len(new) <= most else (refused("new", week, f"{len(new)} exercises are new, {most:g} at most"),)


def _named(line: Item) -> set[str | None]:
    return {x.exercise.variant_id for x in (line, *line.alternatives) if isinstance(x.exercise, Named)}


def _base(key: str) -> str:
    return key.partition(" (")[0]


def _heaviest_first(last: FittedWeek) -> Iterator[tuple[tuple[str, str], FittedItem]]:
    """The lines of last week, the heaviest time of each last, so that a dict keeps it."""
    every = [(_base(s.key), i) for s in last.sessions for b in s.blocks for i in b.items]
    for key, item in sorted(every, key=lambda e: e[1].load.kg if e[1].load else 0.0):
        yield (key, item.item_key), item


def _of_the_text(line: Item, item: FittedItem) -> bool:
    """The written exercise or one of its alternatives, bare or with the written load."""
    for written in (line, *line.alternatives):
        if isinstance(written.exercise, Named) and written.exercise.variant_id in (item.variant_id, None):
            if item.load is None or item.load.place == "band":
                return True
            asked = None if written.dose.load is None else written.dose.load.total_kg
            return asked is not None and asked.low - 0.3 <= item.load.kg <= asked.high + 0.3
    return False


def _felt(old: FittedItem, load: LoadChoice, was: float, library: Library, mass: float, *, bare: bool) -> bool:
    """Where nothing was carried the first load is one that adds a twentieth to the demand or more."""
    return not bare or demand_of(old.variant_id, load, library, mass)[1] >= 1.05 * was


def step_above(old: FittedItem, runner: Runner, library: Library, house: House, mass: float) -> tuple[object, float]:
    """(group, most demand) one step above `old`."""
    share = 1 + house.value("load-step-percent") / 100
    group, was = demand_of(old.variant_id, old.load, library, mass)
    if group is None:
        return None, 0.0
    kg = old.load.kg if old.load else 0.0
    places = (old.load.place,) if old.load else library.variants[old.variant_id].loading
    bare = old.load is None
    made = [
        next(
            (
                x
                for x in load_choices(runner.kit, p, mass)
                if x.kg > kg + 1e-9 and _felt(old, x, was, library, mass, bare=bare)
            ),
            None,
        )
        for p in places
    ]
    steps = [demand_of(old.variant_id, x, library, mass)[1] for x in made if x is not None]
    by_load = 0.0
    if old.load:
        base = demand_of(old.variant_id, None, library, mass)[1]
        by_load = base + (was - base) * share
    # the smallest step that the kit makes, of the places it may be at
    return group, max(was, by_load, min(steps) if steps else was * share)
