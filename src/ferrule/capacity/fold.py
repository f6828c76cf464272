"""The record of one runner folded into a belief: a pure function of the facts, in whatever order they arrived.

Facts are put in order by the time they were done, one canonical order within a day. A late entry changes nothing before
its day, so a checkpoint from before it may be started from; one whose facts have changed is not used.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import groupby
from typing import Final, TypeVar

import numpy as np

from ferrule.capacity import questions
from ferrule.capacity.drift import advance, new_session_day, race, weeks_of_level
from ferrule.capacity.home_tests import reading_of
from ferrule.capacity.observation import Observation, mass_of, observe, one_bound_a_day, wrong_unit
from ferrule.capacity.offsets import NO_OFFSETS, Offsets
from ferrule.capacity.state import DAY, DAY_LEGS, DAY_LEGS_SD, DAY_SD, Aside, State, first_state
from ferrule.capacity.update import SET_SD, Step, fold_one, fold_reading
from ferrule.capacity.working import Context, Working
from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.squad import FieldTest, Runner
from ferrule.model.words import Group

CHANGE_Z: Final = 2.5
"""Two sessions running whose shock of the day points one way by this much together are a change, not two days
(estimator trial: without it a sudden loss of 25 % takes six weeks to see, with it two to three)."""
CHANGE_COMMON_SD: Final = 0.12
CHANGE_OWN_SD: Final = 0.05
TOLD_PART: Final = 0.3
"""A session tells of its day when it removed this part of the day's variance."""
SHOCK_DAYS: Final = 14
AGAIN_COMMON_SD: Final = 0.10
AGAIN_OWN_SD: Final = 0.30
"""Doubt added to a group when a third set, on a second day, would be set aside the same way (ours)."""


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """A belief before the Monday `before`, with the findings until then; `state.made_from` tells from which facts."""

    before: date
    state: State
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Facts:
    """Everything told of one runner, in canonical order, each once, by day."""

    sets: Mapping[date, tuple[LoggedSet, ...]]
    tests: Mapping[date, tuple[LoggedTest, ...]]
    away: tuple[TimeAway, ...]
    races: tuple[date, ...]
    undated: tuple[FieldTest, ...]
    basis: str

    def days(self) -> tuple[date, ...]:
        """Days with anything told or run, from the first set or test on."""
        told = self.sets.keys() | self.tests.keys()
        first = min(told, default=date.max)
        return tuple(sorted(told | {r for r in self.races if r >= first}))

    def digests(self, ends: Sequence[date]) -> dict[date, str]:
        """Digests of all facts with an influence before each of `ends`; one pass over the record."""
        run, told, days, result = hashlib.sha256(self.basis.encode()), 0, self.days(), {}
        for end in sorted(set(ends)):
            while told < len(days) and days[told] < end:
                day = days[told]
                lines = [f"{day} {day in self.races}", *(f"{t.entry_id} {t.value}" for t in self.tests.get(day, ()))]
                lines += [f"{e.entry_id} {e.recorded_at}" for e in self.sets.get(day, ())]
                run.update("\n".join(lines).encode())
                told += 1
            here = run.copy()
            here.update(repr([(a.kind, a.first, min(a.last, end)) for a in self.away if a.first < end]).encode())
            result[end] = here.hexdigest()
        return result


def fold(
    runner: Runner,
    library: Library,
    *,
    until: date,
    sets: Iterable[LoggedSet] = (),
    tests: Iterable[LoggedTest] = (),
    away: Iterable[TimeAway] = (),
    races: Iterable[date] = (),
    offsets: Offsets = NO_OFFSETS,
    start: Checkpoint | None = None,
) -> tuple[State, tuple[Finding, ...]]:
    """What is believed of `runner` at the end of the day `until`; later facts are left out.

    offsets   what the squad shares, frozen for the cycle;  start: a checkpoint to go on from, where it still holds
    Returns   the state, and questions about sets that were set aside. Never raises for what a runner told.
    """
    state, found, _ = fold_kept(
        runner, library, until=until, sets=sets, tests=tests, away=away, races=races, offsets=offsets, start=start
    )
    return state, found


def fold_kept(
    runner: Runner,
    library: Library,
    *,
    until: date,
    sets: Iterable[LoggedSet] = (),
    tests: Iterable[LoggedTest] = (),
    away: Iterable[TimeAway] = (),
    races: Iterable[date] = (),
    offsets: Offsets = NO_OFFSETS,
    start: Checkpoint | None = None,
) -> tuple[State, tuple[Finding, ...], tuple[Checkpoint, ...]]:
    """`fold`, with a checkpoint for each Monday that was passed, to be kept."""
    facts = _facts(runner, until, sets, tests, away, races, offsets)
    context = offsets.context(runner.id)
    days = facts.days()
    mondays = [d - timedelta(days=d.weekday()) for d in days]
    end = until + timedelta(days=1)
    digests = facts.digests([*mondays, end, *([] if start is None else [start.before])])
    found: list[Finding] = []
    if start is not None and start.before <= end and start.state.made_from == digests[start.before]:
        work, before = Working(start.state, library, context), start.before
        found.extend(start.findings)
    else:
        work, before = _begin(runner, library, days, facts, until, context), date.min
    kept: list[Checkpoint] = []
    for day, monday in zip(days, mondays, strict=True):
        if day < before:
            continue
        if work.day is not None and work.day < monday and monday != before:
            kept.append(Checkpoint(monday, work.frozen(digests[monday]), tuple(found)))
        _one_day(work, day, facts, runner, found)
    kept.append(Checkpoint(end, work.frozen(digests[end]), tuple(found)))
    advance(work, until, facts.away)
    new_session_day(work)
    work.join_shared()
    return work.frozen(digests[end]), tuple(found), tuple(kept)


def fold_mondays(
    runner: Runner,
    library: Library,
    mondays: Sequence[date],
    *,
    sets: Iterable[LoggedSet] = (),
    tests: Iterable[LoggedTest] = (),
    away: Iterable[TimeAway] = (),
) -> Iterator[State]:
    """The state on the Sunday before each of `mondays` (in order), each folded on from the one before; nothing is shared.

    Number for number what `fold` gives until that day, in the time of one fold: a week costs the same however late it is.
    """
    sets, tests, away, one_day = tuple(sets), tuple(tests), tuple(away), timedelta(days=1)
    told = sorted({e.day for e in sets} | {t.day for t in tests})
    begin = min([d for d in told[:1] if mondays and d < mondays[-1]], default=date.max)
    early = [m for m in mondays if m <= begin]
    listed = {(t.kind, t.value, t.side) for t in runner.tests}
    if any((t.kind, t.value, t.side) in listed for t in tests):
        early = list(mondays)  # a test is undated until its dated telling comes
    for monday in early:
        until = monday - one_day
        races = [r for r in runner.races if r <= until]
        yield fold(runner, library, until=until, sets=sets, tests=tests, away=away, races=races)[0]
    mondays = mondays[len(early) :]
    if not mondays:
        return
    facts = _facts(runner, mondays[-1] - one_day, sets, tests, away, runner.races, NO_OFFSETS)
    context, days = NO_OFFSETS.context(), facts.days()
    digests = facts.digests(mondays)
    work, n = _begin(runner, library, days, facts, mondays[-1], context), 0
    found: list[Finding] = []
    for monday in mondays:
        while n < len(days) and days[n] < monday:
            _one_day(work, days[n], facts, runner, found)
            n += 1
        here = Working(work.frozen(), library, context)
        advance(here, monday - one_day, facts.away)
        new_session_day(here)
        yield here.frozen(digests[monday])


def _facts(
    runner: Runner,
    until: date,
    sets: Iterable[LoggedSet],
    tests: Iterable[LoggedTest],
    away: Iterable[TimeAway],
    races: Iterable[date],
    offsets: Offsets,
) -> _Facts:
    latest: dict[str, LoggedSet] = {}
    for entry in sets:
        old = latest.get(entry.entry_id)
        if old is None or _version(entry) > _version(old):
            latest[entry.entry_id] = entry
    tested = {t.entry_id: t for t in sorted(tests, key=repr)}
    dated = {(t.kind, t.value, t.side) for t in tested.values() if t.day <= until}
    undated = tuple(t for t in runner.tests if (t.kind, t.value, t.side) not in dated)
    who = (runner.id, runner.level, runner.sex, runner.birth_year, runner.mass_kg, runner.mass_sd_kg, undated)
    return _Facts(
        _by_day(sorted((e for e in latest.values() if e.day <= until), key=_when)),
        _by_day(sorted((t for t in tested.values() if t.day <= until), key=lambda t: (t.day, t.entry_id))),
        tuple(sorted(set(away), key=lambda a: (a.first, a.last, a.kind))),
        tuple(sorted({r for r in races if r <= until})),
        undated,
        f"{who} {offsets.version}",
    )


Told = TypeVar("Told", LoggedSet, LoggedTest)


def _by_day(entries: Iterable[Told]) -> dict[date, tuple[Told, ...]]:
    return {day: tuple(told) for day, told in groupby(entries, key=lambda e: e.day)}


def _version(entry: LoggedSet) -> tuple[str, str]:
    """Of two entries with one id the one recorded later stands; a tie is broken by the text, so that order cannot."""
    return ("" if entry.recorded_at is None else _utc(entry.recorded_at), repr(entry))


def _utc(at: datetime) -> str:
    return f"{at.timestamp():020.6f}" if at.tzinfo else at.isoformat()


def _when(e: LoggedSet) -> tuple[date, bool, time, str, str, int, str, str]:
    return (e.day, e.at is None, e.at or time.min, e.session_key, e.item_key, e.number, e.side, e.entry_id)


def _begin(
    runner: Runner, library: Library, days: Sequence[date], facts: _Facts, until: date, context: Context
) -> Working:
    """The belief before the record: norms, then the tests in the squad file that are not dated facts as well."""
    year = (days[0] if days else until).year
    work = Working(first_state(runner, year, mass_of(runner), weeks_of_level(runner)), library, context)
    work.join_norms()
    for test in facts.undated:
        _test(work, test, runner)
        new_session_day(work)
    return work


def _test(work: Working, test: FieldTest | LoggedTest, runner: Runner) -> Group | None:
    """Fold a test as one reading of its first group, which is returned; others are told by the correlation."""
    readings = reading_of(test, runner)
    if not readings:
        return None
    reading = readings[0]
    row = work.row(reading.group, None, reading.side)
    day_var = DAY_SD**2 + (DAY_LEGS_SD**2 if DAY_LEGS in row[0] else 0.0)
    fold_reading(work, row, reading.log_capacity, max(SET_SD**2, reading.sd_log**2 - day_var))
    return reading.group


def _one_day(work: Working, day: date, facts: _Facts, runner: Runner, found: list[Finding]) -> None:
    sets, tests = facts.sets.get(day, ()), facts.tests.get(day, ())
    advance(work, day, facts.away)
    if sets or tests:
        new_session_day(work)
    for test in tests:
        group = _test(work, test, runner)
        if group is not None:
            work.group_days[group] = day
    if sets:
        _sets(work, day, sets, runner, found)
    if day in facts.races:
        race(work)


def _sets(work: Working, day: date, sets: Sequence[LoggedSet], runner: Runner, found: list[Finding]) -> None:
    read = one_bound_a_day(observe(e, work.library, work.mass_kg, runner.mass_sd_kg) for e in sets)
    for entry, o in zip(sets, read, strict=True):
        if wrong_unit(entry, work.library):
            found.append(questions.unit(entry, work.library))
            continue
        step = fold_one(work, o)
        if step.result == "aside" and o.group is not None:
            sign = 1 if step.z > 0 else -1
            if _third(work, o, day, sign):
                step = _opened(work, o, day, sign, found)
            if step.result == "aside":
                work.asides.append(Aside(entry.entry_id, o.group, day, sign))
                found.append(questions.far_off(entry, o, step, work.library))
        if step.result == "folded":
            work.saw(o)
        if o.group is not None and entry.outcome != "not said":
            work.group_days[o.group] = day
    if any(e.outcome != "not said" for e in sets):
        work.trained = day
    _shocked(work, day, found)


def _third(work: Working, o: Observation, day: date, sign: int) -> bool:
    """True for the third set of a group set aside the same way, on a second day: slips do not go in threes."""
    like = [a.day for a in work.asides if a.group == o.group and a.sign == sign and (day - a.day).days <= SHOCK_DAYS]
    return len(like) >= 2 and like[0] < day


def _opened(work: Working, o: Observation, day: date, sign: int, found: list[Finding]) -> Step:
    """A third set, on a second day, lies as far off, the same way: open the group and read the set again."""
    assert o.group is not None
    before = work.m.copy(), work.P.copy()
    work.widen(AGAIN_COMMON_SD, AGAIN_OWN_SD, (o.group,))
    step = fold_one(work, o)
    if step.result == "aside":
        work.m, work.P = before
    else:
        found.append(questions.changed(day, stronger=sign > 0, group=o.group))
    return step


def _shocked(work: Working, day: date, found: list[Finding]) -> None:
    """The change rule: compare the shock of this day with the last session's."""
    places = [DAY, DAY_LEGS]
    before = DAY_SD**2 + DAY_LEGS_SD**2
    removed = before - float(work.P[np.ix_(places, places)].sum())
    if removed < TOLD_PART * before:
        return
    z = float(work.m[places].sum()) / math.sqrt(removed)
    last, work.shock = work.shock, (day, z)
    if last is None or (day - last[0]).days > SHOCK_DAYS or last[1] * z <= 0:
        return
    if abs(last[1] + z) / math.sqrt(2) > CHANGE_Z:
        work.widen(CHANGE_COMMON_SD, CHANGE_OWN_SD)
        work.shock = None
        found.append(questions.changed(day, stronger=z > 0))
