"""What is asked, or told the coach, about sets that do not go with what was believed. Nothing is dropped in silence."""

from __future__ import annotations

import math
from datetime import date
from typing import Final

from ferrule.capacity.observation import Observation
from ferrule.capacity.update import Step
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.quantity import number
from ferrule.model.words import Group

POUNDS: Final = 2.2046
SOURCE: Final = (
    "estimator trial on simulated runners: a set beyond four standard deviations is set aside, kept and asked about"
)


def unit(entry: LoggedSet, library: Library) -> Finding:
    """Seconds told of repetitions, or the other way round."""
    was, should = ("seconds", "repetitions") if entry.unit == "s" else ("repetitions", "seconds")
    return Finding(
        "log-ask",
        "advice",
        f"{_set(entry, library)} was told in {was}; it is counted in {should}.",
        "The set is kept and does not move what is believed until it is clear.",
        f"Ask the runner: how many {should} were these?",
        source="common practice, no source",
    )


def far_off(entry: LoggedSet, o: Observation, step: Step, library: Library) -> Finding:
    """A set too far from what was believed to be taken at its word."""
    higher = step.z > 0
    return Finding(
        "log-ask",
        "advice",
        f"{_set(entry, library)} says far {'more' if higher else 'less'} than was believed of this runner.",
        "One such set is more often a slip of the keyboard than a change; it is kept and set aside until it is clear.",
        f"Ask the runner: {_guess(entry, o, step, library)}",
        source=SOURCE,
    )


def changed(day: date, *, stronger: bool, group: Group | None = None) -> Finding:
    """Two sessions running that point one way: a change, not two days."""
    where = "" if group is None else f" in {group}"
    return Finding(
        "capacity-changed",
        "advice",
        f"Two sessions running, the last on {day:%d %B}, were {'stronger' if stronger else 'weaker'}{where} than believed.",
        "That is more than good and bad days do; what is believed is opened so that it can follow.",
        "Ask what has changed."
        if stronger
        else "Ask what has changed: illness, sleep, pain, a new injury. Pain comes before any number.",
        source=SOURCE,
    )


def _set(entry: LoggedSet, library: Library) -> str:
    variant = library.variants.get(entry.variant_id)
    name = entry.variant_id if variant is None else variant.name
    told = "" if entry.done is None else f", {number(entry.done)} {'s' if entry.unit == 's' else 'reps'}"
    load = f" with {number(entry.load_kg)} kg" if entry.load_kg else ""
    return f"{entry.day:%d %B}: set {entry.number} of {name}{load}{told}"


def _guess(entry: LoggedSet, o: Observation, step: Step, library: Library) -> str:
    """The slip that would explain it best, as a question; only where the set lies too high."""
    off = step.read - step.expected
    main = library.variants[o.variant_id].main
    if off > 0 and entry.load_kg and main is not None:
        demand = math.exp(o.log_demand)
        left = {by: abs(off - o.log_demand + math.log(main.base + (demand - main.base) / by)) for by in (10.0, POUNDS)}
        by = min(left, key=lambda b: left[b])
        if left[by] < off / 2:
            meant = number(round(entry.load_kg / by, 1))
            return (
                f"was it {meant} kg{' (pounds written as kg)' if by == POUNDS else ''}, not {number(entry.load_kg)} kg?"
            )
    if off > 0 and entry.done is not None and entry.done >= 20 and not o.hold and entry.done % 10 == 0:
        return f"was it {number(entry.done / 10)} repetitions, not {number(entry.done)}?"
    return "is this right: exercise, load, count and side?"
