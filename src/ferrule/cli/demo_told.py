"""What the demo's invented runners tell of a week: files of phones, a table, typed lines, and some silence."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta, timezone
from itertools import groupby
from typing import Final

import numpy as np

from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.fact import Asked, Entry, Fact, PainTold, SessionTold, WeekTold
from ferrule.model.squad import Runner
from ferrule.record.phone_write import phone_file
from ferrule.simulate.doing import do_session, enveloped
from ferrule.simulate.reports import Habits
from ferrule.simulate.truth import Body, after_week, make_body, make_today, possible
from ferrule.simulate.world import World, make_world
from ferrule.store.record import SentWeek

SEED: Final = 24
DRAWS: Final = 40
"""Bodies drawn for each runner; the one most like what the squad list tells is theirs."""
_TESTED: Final[Mapping[str, str]] = {
    "heel raises": "heel-raise-one-leg",
    "press-ups": "press-up",
    "side plank": "side-plank",
    "front plank": "front-plank",
}
SORE: Final = "R08"
"""Whose calf gets worse from the second week on."""
ILL: Final = "R12"
"""Who misses the second week."""
SLIP: Final = "R16"
"""Whose thumb slips: a nought too many behind a load or a count."""
TWICE: Final = "R01"
"""Who hands every file over twice."""
LATE: Final = "R21"
"""Whose second week comes with the third."""
WEEKLY: Final = "R07"
"""Who logs nothing and answers the one weekly question."""
SILENT: Final = "R24"
"""Who says nothing after the first week."""
TABLE: Final = "R11"
"""Who keeps a spreadsheet."""
TYPED: Final = "R23"
"""Whose words the coach types in."""
ASKS: Final = "R20"
"""Who has a question in the fourth week."""

_HABITS: Final = Habits(writes=False, slips=0.0, pain=0.0, stops_early=0.0)
_ZONE: Final = timezone(timedelta(hours=1))
_COLUMNS: Final = ("runner", "date", "session", "exercise", "set", "reps", "seconds", "load", "side", "RIR", "outcome")


@dataclass(frozen=True, slots=True)
class Play:
    """The invented bodies of the squad before a week. late: files that come a week later."""

    world: World
    bodies: Mapping[str, Body]
    late: tuple[Handed, ...] = ()


@dataclass(frozen=True, slots=True)
class Handed:
    """One file as it is handed to the coach."""

    name: str
    data: bytes


def start(runners: Iterable[Runner], library: Library, year: int) -> Play:
    """A hidden body for each runner, around the norms and the home tests the squad list tells; the same every time."""
    world = make_world(library, np.random.default_rng([SEED, 0]))
    bodies = {}
    for n, runner in enumerate(runners):
        rng = np.random.default_rng([SEED, 1, n])
        drawn = [make_body(runner, world, year, rng) for _ in range(DRAWS)]
        bodies[runner.id] = min(drawn, key=lambda body: _unlike(body, runner, world))
    return Play(world, bodies)


def _unlike(body: Body, runner: Runner, world: World) -> float:
    """How far a body is from the runner's home tests, log repetitions or seconds; without tests, from the usual."""
    off = [
        abs(math.log(possible(world, body, world.variants[_TESTED[t.kind]], 0.0) / max(t.value, 1.0)))
        for t in runner.tests
        if t.kind in _TESTED
    ]
    return float(np.mean(off)) if off else float(np.abs(body.log_capacity - body.average).mean())


def told(play: Play, copies: Iterable[SentWeek], library: Library, week: int) -> tuple[Play, tuple[Handed, ...]]:
    """Everybody goes through the week they were sent and tells it in their own way. week: of the demo, from 1.

    Returns the play after the week, and the files in the order they arrive.
    """
    files: list[Handed] = list(play.late)
    late: list[Handed] = []
    bodies = dict(play.bodies)
    for copy in copies:
        runner, rng = copy.runner_id, np.random.default_rng([SEED, 2, int(copy.runner_id[1:]), week])
        missed = runner == ILL and week == 2
        if not missed:
            bodies[runner] = after_week(bodies[runner], 1.0, rng)
        entries = _missed(copy, rng) if missed else _done(play, copy, bodies[runner], library, week, rng)
        own = _files(copy, entries, library, week)
        if runner == LATE and week == 2:
            late.extend(own)
        else:
            files.extend(own)
    return Play(play.world, bodies, tuple(late)), tuple(files)


def _files(copy: SentWeek, entries: tuple[Entry, ...], library: Library, week: int) -> list[Handed]:
    """The entries in the form this runner hands them over; none from who is silent."""
    runner, stem = copy.runner_id, f"{copy.runner_id}-{copy.monday.isoformat()}"
    if runner == SILENT and week > 1:
        return []
    if runner == TABLE:
        return [Handed(f"{stem}.csv", _table(entries, library))]
    if runner == TYPED:
        return [Handed(f"{stem}.txt", _typed(entries, library))]
    made = datetime.combine(copy.monday + timedelta(days=6), time(20, 15), tzinfo=_ZONE)
    phone = phone_file(entries, copy.copy_id, runner, made)
    names = (f"{stem}.json", f"{stem}-again.json") if runner == TWICE else (f"{stem}.json",)
    return [Handed(name, phone) for name in names]


def _done(
    play: Play, copy: SentWeek, body: Body, library: Library, week: int, rng: np.random.Generator
) -> tuple[Entry, ...]:
    """The entries of a week that was done, with what happens to this runner in it."""
    runner, sent = copy.runner_id, copy.week
    entries: list[Entry] = []
    for session in sent.sessions:
        done = do_session(sent, session, copy.copy_id, play.world, body, library, make_today(rng), _HABITS, rng)
        entries.extend(done.entries)
    if runner == WEEKLY:
        answer: Fact = WeekTold(copy.monday, "all", "right", False, "", copy.copy_id)
        return enveloped([answer], runner, copy.monday + timedelta(days=6), "page", rng)
    if runner == SORE and week >= 2 and sent.sessions:
        entries.extend(_calf(copy, week, rng))
    if runner == ASKS and week == 4:
        asked = Asked(copy.monday + timedelta(days=4), "My knee clicks on the stairs, no pain. Go on?")
        entries.extend(enveloped([asked], runner, asked.day, "page", rng))
    if runner == SLIP and week == 3:
        entries = _slipped(entries)
    return tuple(entries)


def _calf(copy: SentWeek, week: int, rng: np.random.Generator) -> tuple[Entry, ...]:
    """A sore left calf: 3 and gone by morning, then 4 and worse in the morning, then 5."""
    day, key = copy.week.sessions[0].day, copy.week.sessions[0].key
    worst, morning = {2: (3, 1), 3: (4, 5)}.get(week, (5, 5))
    words = "tight at first, then it let go" if week == 2 else "stiff getting out of bed"
    return enveloped(
        [PainTold(day, "calf", "left", worst, morning, key, "", "", (), words)], copy.runner_id, day, "page", rng
    )


def _missed(copy: SentWeek, rng: np.random.Generator) -> tuple[Entry, ...]:
    facts: list[Fact] = [
        SessionTold(s.day, s.key, "none", None, None, None, "ill", "in bed with a cold", copy.copy_id)
        for s in copy.week.sessions
    ]
    return enveloped(facts, copy.runner_id, copy.monday + timedelta(days=6), "page", rng)


def _slipped(entries: list[Entry]) -> list[Entry]:
    """The first counted set with a nought too many."""
    for n, entry in enumerate(entries):
        if isinstance(entry.fact, LoggedSet) and entry.fact.done is not None and entry.fact.unit == "reps":
            entries[n] = replace(entry, fact=replace(entry.fact, done=entry.fact.done * 10))
            return entries
    return entries


def _sets(entries: Iterable[Entry]) -> list[LoggedSet]:
    return [e.fact for e in entries if isinstance(e.fact, LoggedSet)]


def _table(entries: Iterable[Entry], library: Library) -> bytes:
    """The sets as the rows of a spreadsheet. A set that was only tapped holds what was asked for."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(_COLUMNS)
    for s in _sets(entries):
        amount = s.done if s.done is not None else s.asked
        reps, seconds = ("", amount) if s.unit == "s" else (amount, "")
        left = "" if s.reserve is None else str(s.reserve.low)
        rows.writerow((
            s.runner_id, s.day.isoformat(), s.session_key, library.variants[s.variant_id].name, s.number,
            *("" if v in ("", None) else f"{v:g}" for v in (reps, seconds)), f"{s.load_kg:g}" if s.load_kg else "",
            "" if s.side == "both" else s.side, left, "failed" if s.outcome == "failed" else "",
        ))  # fmt: skip
    return out.getvalue().encode("utf-8-sig")


def _typed(entries: Iterable[Entry], library: Library) -> bytes:
    """The week as the coach types it from a message: a head line a day, a line an exercise."""
    lines: list[str] = []
    for day, of_day in groupby(_sets(entries), key=lambda s: s.day):
        lines.append(f"{TYPED} {_day(day)}")
        for _, of_line in groupby(of_day, key=lambda s: (s.session_key, s.item_key)):
            lines.append(_line(list(of_line), library))
        lines.append("")
    return "\n".join(lines).encode()


def _day(day: date) -> str:
    return day.strftime("%a %d %b %Y")


def _line(sets: list[LoggedSet], library: Library) -> str:
    """`Step-up: 6, 6, 5/side, 12 kg, 1 RIR`."""
    first, variant = sets[0], library.variants[sets[0].variant_id]
    whole = [s for s in sets if s.side in ("both", "left")]
    unit = " s" if first.unit == "s" else ""
    counts = ", ".join(_count(s) + unit for s in whole)
    parts = [counts + ("/side" if variant.sided else "")]
    if first.load_kg and first.band is None:
        parts.append(f"{first.load_kg:g} kg")
    last = whole[-1].reserve
    if last is not None:
        parts.append(f"{last.low}+ RIR" if last.high is None else f"{last.low} RIR")
    return f"{variant.name}: {', '.join(parts)}"


def _count(told_set: LoggedSet) -> str:
    amount = told_set.done if told_set.done is not None else told_set.asked
    return f"{amount or 0:g}" + (f" failed at {amount + 1:g}" if told_set.outcome == "failed" and amount else "")
