"""A simulated runner goes through a fitted week: what truly happened, and what is told of it, as entries."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Final

import numpy as np
from numpy.random import Generator

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, Fact, PainTold, SessionTold, Source
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek
from ferrule.model.words import Region, Side
from ferrule.record.sent import asked_of, unit_of
from ferrule.record.uuid7 import RANDOM_BITS, milliseconds, uuid7
from ferrule.simulate.reports import Asked, Habits, Happened, perform
from ferrule.simulate.truth import Body, Today
from ferrule.simulate.world import TrueVariant, World

START: Final = time(18, 0)
"""When a session begins whose hour nobody told."""


@dataclass(frozen=True, slots=True)
class Done:
    """One session as it went.

    happened   every dosed set, with the truth;  entries: what was told, sets without a dose among them
    rating     0-10 of the whole session, as told
    """

    happened: tuple[Happened, ...]
    entries: tuple[Entry, ...]
    rating: int


def true_of(world: World, item: FittedItem, library: Library) -> TrueVariant | None:
    """What the line truly asks with its load where the fit puts it; None for what is not dosed."""
    asks = world.variants.get(item.variant_id)
    if asks is None or item.load is None:
        return asks
    ask = library.variants[item.variant_id].main
    place = item.load.place
    if ask is None or place not in ask.per_kg:
        return asks
    wrong = asks.base / ask.base if ask.base > 0 else 1.0
    return replace(asks, base=asks.base, per_kg=ask.per_kg[place] * wrong)


def do_session(
    week: FittedWeek,
    session: FittedSession,
    copy_id: str,
    world: World,
    body: Body,
    library: Library,
    today: Today,
    habits: Habits,
    rng: Generator,
    *,
    day: date | None = None,
    source: Source = "page",
) -> Done:
    """Go through the session, block by block, and tell it the way of `habits`.

    day   when it was done, if not on its own day. A set stopped by pain ends its line; it is told as pain of the first
          region that the exercise loads, worst 4-6.
    """
    on = day or session.day
    happened: list[Happened] = []
    facts: list[Fact] = []
    hurt = False
    for block in session.blocks:
        for item in block.items:
            asks = true_of(world, item, library)
            amount = asked_of(item, 1)
            if asks is None or amount is None:
                facts.extend(_taps(week, session, item, on, copy_id))
                continue
            done = perform(world, body, asks, _asked(session, item, on, amount), week.runner_id, today, habits, rng)
            happened.extend(done)
            facts.extend(_of_line(h.entry, item, copy_id) for h in done)
            if done[-1].pain:
                hurt = True
                facts.append(_pain(session, item, on, _region(library, item), rng))
    rating = int(np.clip(round(_effort(happened) + 0.7 * float(rng.standard_normal())), 1, 10))
    minutes = round(session.minutes * float(rng.uniform(0.9, 1.25)))
    facts.append(
        SessionTold(
            on,
            session.key,
            "part" if hurt else "did",
            START,
            rating,
            minutes,
            "pain" if hurt else "",
            copy_id=copy_id,
        )
    )
    return Done(tuple(happened), enveloped(facts, week.runner_id, on, source, rng), rating)


def enveloped(facts: list[Fact], runner_id: str, on: date, source: Source, rng: Generator) -> tuple[Entry, ...]:
    """Each fact in an envelope of its own, recorded in the minutes after START on the day it was told."""
    start = datetime.combine(on, START, tzinfo=UTC)
    made = []
    for n, fact in enumerate(facts):
        at = start + timedelta(seconds=45 * n)
        bits = int.from_bytes(rng.bytes(10), "big") >> (80 - RANDOM_BITS)
        entry_id = str(uuid7(milliseconds(at), bits))
        if isinstance(fact, LoggedSet):
            fact = replace(fact, entry_id=entry_id, recorded_at=at)
        made.append(Entry(entry_id, runner_id, at, source, fact))
    return tuple(made)


def _asked(session: FittedSession, item: FittedItem, on: date, amount: float) -> Asked:
    meant = item.prediction.intended.low if item.prediction else 2.0
    load, place = (item.load.kg, item.load.place) if item.load else (0.0, None)
    most = amount if item.reps is None else max(amount, float(item.reps.high))
    by_effort = item.rir is not None and item.reps is not None
    return Asked(
        on, session.key, item.item_key, item.variant_id, item.sets, amount, meant, load, place, most, by_effort
    )


def _of_line(entry: LoggedSet, item: FittedItem, copy_id: str) -> LoggedSet:
    """The set as the page tells it: with its copy, what this set asked for, and the band where there was one."""
    told = replace(entry, copy_id=copy_id, asked=asked_of(item, entry.number))
    if item.load is None or item.load.band is None:
        return told
    return replace(told, band=item.load.band, place="band", load_kg=item.load.kg)


def _taps(week: FittedWeek, session: FittedSession, item: FittedItem, on: date, copy_id: str) -> list[Fact]:
    """Mobility, balance, hops, carries over metres: done as asked, a tap a set."""
    return [
        LoggedSet(
            "",
            week.runner_id,
            on,
            session.key,
            item.item_key,
            item.variant_id,
            n,
            "tapped",
            unit_of(item),
            asked_of(item, n),
            copy_id=copy_id,
        )
        for n in range(1, item.sets + 1)
    ]


def _region(library: Library, item: FittedItem) -> Region | None:
    variant = library.variants.get(item.variant_id)
    return next(iter(variant.regions), None) if variant else None


def _pain(session: FittedSession, item: FittedItem, on: date, region: Region | None, rng: Generator) -> PainTold:
    worst = int(rng.integers(4, 7))
    side: Side = "left" if rng.random() < 0.5 else "right"
    morning = int(rng.integers(0, worst + 1))
    return PainTold(on, region, side, worst, morning, session.key, item.item_key, item.variant_id)


def _effort(happened: list[Happened]) -> float:
    """A rating from what was left in the sets: 9 when most failed, 3 when all were easy."""
    if not happened:
        return 3.0
    left = [max(0.0, h.possible - h.done) / max(1.0, h.possible) for h in happened]
    return 8.5 - 9.0 * float(np.median(left))
