"""The next week of a whole squad: beliefs, plans, one fit with lanes and budget, and what it proposes to each runner."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from ferrule.capacity.offsets import Offsets
from ferrule.fit.given import Given, base_key
from ferrule.fit.squad import Progress, fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, in_order
from ferrule.model.fitted import FittedSession, FittedWeek, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Runner, Squad
from ferrule.next.beliefs import beliefs
from ferrule.next.past import Shared, shared_on
from ferrule.next.plan import Plan, plan_of
from ferrule.next.propose import Proposals, told
from ferrule.record.standing import by_runner, standing_apart


@dataclass(frozen=True, slots=True)
class Told:
    """What the record says before the week of `monday` is fitted.

    squad   the runners as the record has them;  plans, beliefs: by runner id (no belief: the prior)
    last    the newest copy sent before;  goes_on: the same with lines it left out, as they were sent before that
    """

    monday: date
    squad: Squad
    plans: Mapping[str, Plan]
    beliefs: Mapping[str, Capacity]
    last: Mapping[str, FittedWeek] = field(default_factory=dict)
    goes_on: Mapping[str, FittedWeek] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class NextWeek:
    """The fitted week of the squad, and what it proposes to each runner, in the order of the squad."""

    week: SquadWeek
    proposals: tuple[Proposals, ...]
    told: Told


def told_of(
    programme: Programme, squad: Squad, library: Library, house: House, monday: date, *,
    sent: Mapping[str, Sequence[FittedWeek]], entries: Iterable[Entry],
) -> Told:  # fmt: skip
    """Plans and beliefs of everybody; pure, the same in any order of arrival.

    sent   runner id -> copies sent before that Monday, oldest first: the last one counts, and what it left out goes on
           from the one before
    """
    last = {r: weeks[-1] for r, weeks in sent.items() if weeks}
    goes_on = {r: remembered(weeks) for r, weeks in sent.items() if weeks}
    every = standing_apart(entries)
    known, doubts = beliefs_on(programme, squad, library, every, monday)
    own = by_runner(every)
    plans = {
        r.id: plan_of(programme, r, library, house, monday, last=last.get(r.id), entries=own.get(r.id, ()))
        for r in squad.runners
    }
    runners = tuple(plans[r.id].runner for r in squad.runners)
    found = in_order((*doubts, *(f for p in plans.values() for f in p.findings)))
    return Told(monday, replace(squad, runners=runners), plans, known, last, goes_on, found)


def remembered(weeks: Sequence[FittedWeek]) -> FittedWeek:
    """The last of `weeks`, with the lines of its cycle that it left out as they were sent last before it.

    So a line that was stopped for a while goes on from what it was, not from nothing. weeks: oldest first, at least one.
    """
    last = weeks[-1]
    there = {(base_key(s.key), i.item_key) for s in last.sessions for b in s.blocks for i in b.items}
    extra: list[FittedSession] = []
    for week in reversed(weeks[:-1]):
        if week.cycle_name != last.cycle_name:
            break
        for session in week.sessions:
            key = base_key(session.key)
            blocks = []
            for block in session.blocks:
                items = tuple(i for i in block.items if (key, i.item_key) not in there)
                if items:
                    blocks.append(replace(block, items=items))
                    there |= {(key, i.item_key) for i in items}
            if blocks:
                extra.append(replace(session, blocks=tuple(blocks)))
    return replace(last, sessions=(*last.sessions, *extra)) if extra else last


def next_week(
    programme: Programme, library: Library, house: House, told_before: Told, *, workers: int = 1,
    progress: Progress | None = None, given: Mapping[str, Given] | None = None,
) -> NextWeek:  # fmt: skip
    """Fit the week within what was told, and say what it proposes."""
    t = told_before
    week = fit_squad(
        programme, t.squad, library, house, t.monday, last=t.goes_on, workers=workers, progress=progress, beliefs=t.beliefs,
        given=given, own={r: p.own for r, p in t.plans.items()},
    )  # fmt: skip
    said = tuple(told(t.plans[o.runner_id], o, t.last.get(o.runner_id), library, t.monday) for o in week.outcomes)
    return NextWeek(replace(week, findings=in_order((*week.findings, *t.findings))), said, t)


def beliefs_on(
    programme: Programme, squad: Squad, library: Library, entries: Iterable[Entry], monday: date
) -> tuple[Mapping[str, Capacity], tuple[Finding, ...]]:
    """`beliefs`, each runner with the version that counts in their cycle (`capacity.versions`) of what the squad shares, and
    of what corrects its chances.
    """
    stand = standing_apart(entries)
    shared = shared_on(programme, squad, library, stand, squad.runners, monday)
    own = by_runner(stand)
    known: dict[str, Capacity] = {}
    found: list[Finding] = []
    for runner in squad.runners:
        by = shared[runner.id]
        one = replace(squad, runners=(runner,))
        some, doubts = beliefs(one, library, own.get(runner.id, ()), monday, by.offsets)
        known |= {r: replace(capacity, calibration=by.calibration) for r, capacity in some.items()}
        found += doubts
    return known, tuple(found)


def shared_for(
    programme: Programme, squad: Squad, library: Library, entries: Iterable[Entry], runner: Runner, monday: date
) -> Shared:
    """What the squad shares, and what corrects its chances, as they count for this runner on `monday`."""
    return shared_on(programme, squad, library, standing_apart(entries), (runner,), monday)[runner.id]


def offsets_for(
    programme: Programme, squad: Squad, library: Library, entries: Iterable[Entry], runner: Runner, monday: date
) -> Offsets:
    """What the squad shares, as it counts for this runner on `monday`."""
    return shared_for(programme, squad, library, entries, runner, monday).offsets
