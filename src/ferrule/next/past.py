"""What a squad shares, and what corrects the chances it is told, made of what stands in one pass over the past weeks.

Monday by Monday: the offsets of a version are shared when it begins; then what the belief of that Sunday foretold of the
week, with the offsets in force, is put beside what was told of it. Each week is folded on from the one before.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.capacity.belief import belief
from ferrule.capacity.calibration import calibrate
from ferrule.capacity.compared import Compared, compared_week
from ferrule.capacity.exchange import exchanged
from ferrule.capacity.fold import fold_mondays
from ferrule.capacity.observation import mass_of
from ferrule.capacity.offsets import NO_OFFSETS, Offsets, share_offsets
from ferrule.capacity.state import State
from ferrule.capacity.versions import Version, cycle_mondays, version_on, versions
from ferrule.capacity.working import Context
from ferrule.fit.runner import capacity_of
from ferrule.model.calibration import NO_CALIBRATION, Calibration
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library
from ferrule.model.programme import Programme
from ferrule.model.squad import Runner, Squad
from ferrule.next.beliefs import something_known
from ferrule.record.standing import Stood, away_of, by_runner, sets_of, tests_of
from ferrule.squad.place import first_monday, monday_of

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Shared:
    """What counts for one runner on a Monday, beside their own sets: what the squad shares, and what corrects chances."""

    offsets: Offsets = NO_OFFSETS
    calibration: Calibration = NO_CALIBRATION


@dataclass(frozen=True, slots=True)
class Past:
    """The weeks before a Monday. offsets: by version; compared: every set that tells something, foretold and told."""

    offsets: Mapping[Version, Offsets]
    compared: tuple[Compared, ...]


NOTHING_SHARED = Shared()


def shared_on(
    programme: Programme, squad: Squad, library: Library, stand: Stood, runners: Sequence[Runner], monday: date
) -> dict[str, Shared]:
    """Runner id -> what counts for each of `runners` on `monday`: by the version of their own cycle.

    stand   what stands of the whole squad. Where no set was told before the version, nothing is corrected.
    """
    now = {r.id: version_on(versions_of(programme, r), monday) for r in runners} if stand else {}
    here = {v for v in now.values() if v is not None}
    if not here:
        return dict.fromkeys((r.id for r in runners), NOTHING_SHARED)
    past = past_of(programme, squad, library, stand, max(here).counts_from, also=here)
    made = {}
    for version in here:
        told = [c for c in past.compared if c.day <= version.until]
        made[version] = Shared(
            past.offsets[version], calibrate(told, version, reserve=False) if told else NO_CALIBRATION
        )
    return {runner_id: NOTHING_SHARED if v is None else made[v] for runner_id, v in now.items()}


def past_of(
    programme: Programme,
    squad: Squad,
    library: Library,
    stand: Stood,
    end: date,
    *,
    also: set[Version] | frozenset[Version] = frozenset(),
) -> Past:
    """The weeks before the Monday `end`. also: versions whose offsets are wanted beside those in force in these weeks."""
    own = by_runner(stand)
    sets = {r.id: sets_of(own.get(r.id, ()), r.id) for r in squad.runners}
    tests = {r.id: tests_of(own.get(r.id, ()), r.id) for r in squad.runners}
    days = {s.day for told in sets.values() for s in told} | {t.day for told in tests.values() for t in told}
    first = min(days, default=end)
    begin = min(monday_of(first), end)
    mondays = [begin + n * WEEK for n in range((end - begin).days // 7 + 1)]
    schedule = {r.id: versions_of(programme, r) for r in squad.runners}
    wanted = {v.counts_from: v for every in (*schedule.values(), also) for v in every if begin <= v.counts_from <= end}
    before = {v for every in (*schedule.values(), also) for v in every if v.counts_from < begin}
    offsets = {v: share_offsets({}, library, v.number, v.until) for v in before}
    compared: list[Compared] = []
    contexts: dict[tuple[str, int], Context] = {}
    weeks = {r.id: _by_week(sets[r.id]) for r in squad.runners}
    states = {
        r.id: fold_mondays(
            r, library, mondays, sets=sets[r.id], tests=tests[r.id], away=away_of(own.get(r.id, ()), r.id)
        )
        for r in squad.runners
    }
    for monday in mondays:
        here = {runner_id: next(every) for runner_id, every in states.items()}
        if monday in wanted:
            version = wanted[monday]
            offsets[version] = share_offsets(here, library, version.number, version.until)
        for runner in squad.runners if monday < end else ():
            told = weeks[runner.id].get(monday, ())
            if told:
                inforce = version_on(schedule[runner.id], monday)
                shared = NO_OFFSETS if inforce is None else offsets[inforce]
                key = (runner.id, shared.version)
                rest = contexts[key] if key in contexts else contexts.setdefault(key, shared.context(runner.id))
                compared += _compared(runner, here[runner.id], rest, told, library, monday)
    return Past(offsets, tuple(compared))


def versions_of(programme: Programme, runner: Runner) -> tuple[Version, ...]:
    """The versions of a runner's cycles; none without an anchor."""
    first = first_monday(runner, programme.weeks)
    return () if first is None else versions(cycle_mondays(programme, first))


def _by_week(sets: Sequence[LoggedSet]) -> dict[date, list[LoggedSet]]:
    out: dict[date, list[LoggedSet]] = defaultdict(list)
    for one in sets:
        out[monday_of(one.day)].append(one)
    return out


def _compared(
    runner: Runner, state: State, rest: Context, told: Sequence[LoggedSet], library: Library, monday: date
) -> tuple[Compared, ...]:
    """The week of `monday`, foretold as the fit foretells it: from norms and tests while nothing at all is known.

    rest   what the rest of the squad says
    """
    mass = mass_of(runner)
    if something_known(state, rest):
        before = belief(exchanged(state, rest, library, (s.variant_id for s in told)), library, mass)
    else:
        before = capacity_of(runner, monday)
    return compared_week(told, before, library, mass)
