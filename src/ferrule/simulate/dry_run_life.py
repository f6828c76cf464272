"""What happens to a simulated runner around the sessions: days missed, pain that comes and goes, drop-out, and telling.

Every rate here is ours (assumptions, or from the trial on simulated runners); none is taken from the rules it tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, Fact, PainTold, RedFlag, SessionTold, WeekTold
from ferrule.model.fitted import FittedSession, FittedWeek
from ferrule.model.words import REGION_GROUPS, Region, Side
from ferrule.simulate.doing import do_session, enveloped
from ferrule.simulate.fair import HONEST, fair_today
from ferrule.simulate.reports import Habits, Happened
from ferrule.simulate.truth import Body, after_week, make_today
from ferrule.simulate.world import World

Telling = Literal["sets", "taps", "weekly", "silent"]
"""sets: what was done and effort; taps: a tap on Done whatever was done; weekly: the one question; silent: nothing."""

ONSET: Final = 0.012
"""Chance that a session leaves one region sore that it loaded."""
ILL: Final = 0.015
"""Chance of a week lost to illness."""
FLAGGED: Final = 0.03
"""Share of sore places that come with a red flag."""
MUCH: Final = 5.0
"""Pain above which some stop coming."""


@dataclass(frozen=True, slots=True)
class Nature:
    """How one runner is.

    misses       chance that a session is missed;  says: chance that a miss, or pain, is told
    late         share of weeks that are handed over a week late
    """

    telling: Telling
    habits: Habits
    misses: float
    says: float
    late: float


@dataclass(frozen=True, slots=True)
class Life:
    """One runner between two weeks. sores: (region, side) -> pain, 0-10. off_until: rests before that day. gone: for good."""

    body: Body
    sores: dict[tuple[Region, Side], float] = field(default_factory=dict)
    off_until: date = date.min
    gone: bool = False


@dataclass(frozen=True, slots=True)
class Lived:
    """A week as it went. happened: by session key, dosed sets with the truth; entries: told; missed: sessions not done."""

    life: Life
    happened: dict[str, tuple[Happened, ...]]
    entries: tuple[Entry, ...]
    missed: tuple[str, ...]
    late: bool = False


def nature_of(rng: Generator, *, fair: bool) -> Nature:
    """A nature drawn at random; in a fair world everybody trains, and writes down what they did."""
    if fair:
        return Nature("sets", HONEST, 0.0, 1.0, 0.0)
    telling: Telling = ("sets", "taps", "weekly", "silent")[int(rng.choice(4, p=[0.6, 0.2, 0.13, 0.07]))]
    habits = Habits(writes=bool(rng.random() < 0.35), empty_taps=float(rng.choice([0.0, 0.3, 0.8])), in_range=True)
    return Nature(
        telling, habits, float(rng.uniform(0.02, 0.2)), float(rng.uniform(0.5, 1.0)), float(rng.choice([0, 0.15]))
    )


def live_week(
    life: Life, nature: Nature, week: FittedWeek, copy_id: str, world: World, library: Library, rng: Generator,
    *, fair: bool,
) -> Lived:  # fmt: skip
    """Everything one runner does and tells of one sent week."""
    happened: dict[str, tuple[Happened, ...]] = {}
    told: list[Entry] = []
    missed: list[str] = []
    state = life
    ill = not fair and rng.random() < ILL
    for session in week.sessions:
        away = state.gone or session.day < state.off_until
        if ill or away or rng.random() < nature.misses:
            missed.append(session.key)
            told += _missed(session, nature, week, copy_id, "ill" if ill else "pain" if away else "", state.gone, rng)
            continue
        today = fair_today(rng) if fair else make_today(rng)
        habits = replace(nature.habits, pain=0.0) if state.sores else nature.habits
        done = do_session(week, session, copy_id, world, state.body, library, today, habits, rng)
        happened[session.key] = done.happened
        told += done.entries
        if not fair:
            state, pains = _soreness(state, nature, session, done.entries, library, rng)
            told += enveloped(list(pains), week.runner_id, session.day, "page", rng)
    body = replace(state.body) if fair else after_week(state.body, len(happened) / max(1, len(week.sessions)), rng)
    state = replace(state, body=body)
    own = _as_told(told, nature, week, copy_id, happened, state, rng)
    return Lived(state, happened, own, tuple(missed), bool(rng.random() < nature.late))


def _missed(
    session: FittedSession, nature: Nature, week: FittedWeek, copy_id: str, why: str, gone: bool, rng: Generator
) -> tuple[Entry, ...]:
    if gone or rng.random() >= nature.says:
        return ()
    said: Fact = SessionTold(session.day, session.key, "none", why=why or "time", copy_id=copy_id)  # type: ignore[arg-type]
    return enveloped([said], week.runner_id, session.day, "page", rng)


def _soreness(
    life: Life, nature: Nature, session: FittedSession, entries: Iterable[Entry], library: Library, rng: Generator
) -> tuple[Life, tuple[PainTold, ...]]:
    """Pain after a session: what was told inside it goes on, what was there rises or settles, new soreness begins."""
    sores = dict(life.sores)
    loaded = _loaded(session, library)
    for (region, side), level in life.sores.items():
        drift = rng.normal(0.1, 1.1) if region in loaded else -abs(rng.normal(0.9, 0.5))
        sores[region, side] = float(np.clip(level + drift, 0, 10))
    for e in entries:
        if isinstance(e.fact, PainTold) and e.fact.region is not None:
            sores[e.fact.region, e.fact.side] = float(e.fact.worst or 4)
    flags: dict[tuple[Region, Side], tuple[RedFlag, ...]] = {}
    if loaded and rng.random() < ONSET:
        place: tuple[Region, Side] = (loaded[int(rng.integers(len(loaded)))], "left" if rng.random() < 0.5 else "right")
        sores[place] = float(rng.uniform(1, 5))
        if rng.random() < FLAGGED:
            flags[place] = ("bone or hop",) if rng.random() < 0.5 else ("pop",)
    sores = {p: x for p, x in sores.items() if x >= 0.5}
    pains = []
    for (region, side), level in sorted(sores.items()):
        flag = flags.get((region, side), ())
        if not flag and rng.random() >= nature.says:
            continue
        worst = int(np.clip(round(level - (0 if rng.random() < 0.7 else 1)), 0, 10))
        morning = None if rng.random() < 0.25 else round(level * rng.uniform(0, 1.1))
        pains.append(PainTold(session.day, region, side, worst, morning, session.key, flags=flag))
    off, gone = life.off_until, life.gone
    if max(sores.values(), default=0.0) > MUCH:
        u = rng.random()
        gone = gone or u > 0.9
        if u > 0.3:
            off = session.day + timedelta(days=int(rng.integers(7, 15)))
    return replace(life, sores=sores, off_until=off, gone=gone), tuple(pains)


def _loaded(session: FittedSession, library: Library) -> list[Region]:
    """Regions whose groups the session doses."""
    groups = {
        ask.group
        for b in session.blocks
        if b.kind not in ("warm-up", "cool-down")
        for i in b.items
        if (v := library.variants.get(i.variant_id)) is not None and (ask := v.main) is not None
    }
    return sorted(r for r, own in REGION_GROUPS.items() if groups & set(own))


def _as_told(
    entries: Iterable[Entry], nature: Nature, week: FittedWeek, copy_id: str,
    happened: dict[str, tuple[Happened, ...]], life: Life, rng: Generator,
) -> tuple[Entry, ...]:  # fmt: skip
    """What reaches the coach of it, by the way this runner tells."""
    if nature.telling == "sets":
        return tuple(entries)
    if nature.telling == "taps":
        return tuple(_tapped(e) for e in entries)
    if nature.telling == "silent" or life.gone:
        return ()
    sets = [h for s in happened.values() for h in s]
    failed = sum(h.done < h.asked.amount for h in sets)
    spare = [math.floor(h.possible) - h.done for h in sets]
    felt: Literal["too easy", "right", "too hard"] = (
        "too hard" if sets and failed > 0.15 * len(sets) else "too easy" if sets and np.median(spare) > 8 else "right"
    )
    did: Literal["all", "some", "none"] = (
        "all" if len(happened) == len(week.sessions) else "some" if happened else "none"
    )
    answer = WeekTold(week.monday, did, felt if sets else None, bool(life.sores), "", copy_id)
    return enveloped([answer], week.runner_id, week.monday + timedelta(days=6), "page", rng)


def _tapped(entry: Entry) -> Entry:
    """A set told by a tap on Done, also where it was not."""
    fact = entry.fact
    if not isinstance(fact, LoggedSet) or fact.outcome not in ("counted", "failed") or fact.stopped is not None:
        return entry
    return replace(entry, fact=replace(fact, outcome="tapped", done=None, reserve=None, effort_asked=False))
