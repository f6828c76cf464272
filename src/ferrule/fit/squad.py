"""Fit the whole squad for one week, verify every answer, keep the change budget, and read it back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial

from ferrule.fit.bounds import NO_OWN, Own
from ferrule.fit.build import Laid, offered
from ferrule.fit.gap import stopped_early
from ferrule.fit.given import Given
from ferrule.fit.lanes import Allowed
from ferrule.fit.lanes_squad import LinePrices, hold_to_lanes, told
from ferrule.fit.runner import NOTHING, Pinned, capacity_of, lay, outcome_of
from ferrule.fit.runner import fit_runner as fit_runner
from ferrule.fit.shared_kit import part
from ferrule.fit.solve import solve
from ferrule.fit.spread import LineVerdict, spread_of, verdicts
from ferrule.fit.stability import DONE, kept
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, in_order
from ferrule.model.fitted import FittedWeek, Impossible, Outcome, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, Runner, Squad
from ferrule.squad.place import monday_of

Progress = Callable[[int, int, str], None]
"""Called with (runners done, runners in all, name)."""


@dataclass(frozen=True, slots=True)
class _Known:
    """What the squad knows of one runner: the week sent for the week before, the belief, the lanes they keep to, their copy,
    and the lines given back to the text."""

    last: FittedWeek | None = None
    capacity: Capacity | None = None
    allowed: Allowed | None = None
    given: Given | None = None
    own: Own | None = None
    pinned: Pinned = NOTHING


@dataclass(frozen=True, slots=True)
class _Fitted:
    """One runner's outcome with what the squad needs of it."""

    outcome: Outcome
    verdicts: tuple[LineVerdict, ...] = ()
    gains: tuple[tuple[float, str, str], ...] = ()
    findings: tuple[Finding, ...] = ()
    prices: LinePrices = field(default_factory=dict)


def fit_squad(
    programme: Programme, squad: Squad, library: Library, house: House, monday: date, *,
    last: Mapping[str, FittedWeek] | None = None, workers: int = 1, progress: Progress | None = None,
    beliefs: Mapping[str, Capacity] | None = None, lanes: int | None = None,
    given: Mapping[str, Given] | None = None, own: Mapping[str, Own] = NO_OWN,
) -> SquadWeek:  # fmt: skip
    """Every runner's outcome for the calendar week of `monday`, in the order of the squad.

    last      runner id -> the week sent for the week before
    workers   processes; 1 stays in this one. The answer does not depend on it.
    progress  called after each runner
    beliefs   runner id -> what is believed of them on that Monday; who is not among them has the prior
    lanes     most variants a line over the squad, 0 for as many as it takes; None takes the house rule
    given     runner id -> the copy they have of this week: what is past stays, the rest changes as little as can be
    own       runner id -> what the record makes of this week for them (`ferrule.next`)

    Each fitted week has passed `verify`; one that has not becomes Impossible with what was found.
    """
    monday = monday_of(monday)
    known = {
        r.id: _Known((last or {}).get(r.id), (beliefs or {}).get(r.id), None, (given or {}).get(r.id), own.get(r.id))
        for r in squad.runners
    }
    one = partial(_fit, programme, library, house, monday)
    most = int(house.value("lanes-a-line")) if lanes is None else lanes
    budget = int(house.value("changes-a-week"))
    told_lanes = None
    with _pool(one, workers) as pool:
        fitted: list[_Fitted] = []
        for runner, result in _each(one, squad.runners, known, pool, workers):
            fitted.append(result)
            if progress is not None:
                progress(len(fitted), len(squad.runners), runner.name)
        if most > 0:

            def refit(held: Mapping[str, Allowed]) -> Iterator[tuple[str, _Fitted]]:
                some = [r for r in squad.runners if r.id in held]
                inside = {r: replace(known[r], allowed=a) for r, a in held.items()}
                for runner, result in _each(one, some, inside, pool, workers):
                    yield runner.id, result

            alone = {r.id: f for r, f in zip(squad.runners, fitted, strict=True)}
            together, allowed, plan = hold_to_lanes(alone, refit, most)
            known = {r: replace(k, allowed=allowed[r]) for r, k in known.items()}
            fitted, told_lanes = list(together.values()), told(plan, alone, together)
        pins = _over_budget(fitted, squad, budget)
        pinned = {r: replace(known[r], pinned=lines) for r, lines in pins.items()}
        again = _each(one, [r for r in squad.runners if r.id in pins], pinned, pool, workers)
        back = {runner.id: result for runner, result in again}
        fitted = [back.get(r.id, f) for r, f in zip(squad.runners, fitted, strict=True)]
    fitted, shared = _at_one_home(fitted, squad, known, programme, library, house)
    outcomes = tuple(f.outcome for f in fitted)
    weeks = [o for o in outcomes if isinstance(o, FittedWeek)]
    said = [v for f in fitted if isinstance(f.outcome, FittedWeek) for v in f.verdicts]
    return SquadWeek(
        programme=programme.title or programme.file, monday=monday, outcomes=outcomes, spread=spread_of(said, weeks, library),
        departures=_departures(weeks), change_budget=budget, findings=in_order((*(f for r in fitted for f in r.findings), *shared)),
        lanes=told_lanes,
    )  # fmt: skip


_HERE: list[partial[_Fitted]] = []
"""In a process of the pool: what it was started with, so that the library does not travel with every runner."""


def _begin(one: partial[_Fitted]) -> None:
    _HERE[:] = [one]


def _there(runner: Runner, known: _Known) -> _Fitted:
    return _HERE[0](runner, known)


def _pool(one: partial[_Fitted], workers: int) -> AbstractContextManager[Executor | None]:
    return nullcontext() if workers <= 1 else ProcessPoolExecutor(workers, initializer=_begin, initargs=(one,))


def _each(
    one: partial[_Fitted], runners: Sequence[Runner], known: Mapping[str, _Known], pool: Executor | None, workers: int
) -> Iterator[tuple[Runner, _Fitted]]:
    """Each runner with the outcome, in their order; in this process without a pool, or for one runner alone."""
    of_each = [known[r.id] for r in runners]
    if pool is None or len(runners) < 2:
        yield from zip(runners, map(one, runners, of_each), strict=True)
        return
    chunk = max(1, len(runners) // (workers * 8))
    yield from zip(runners, pool.map(_there, runners, of_each, chunksize=chunk), strict=True)


def _fit(
    programme: Programme, library: Library, house: House, monday: date, runner: Runner, known: _Known,
) -> _Fitted:  # fmt: skip
    allowed = known.allowed if known.given is None else None  # a copy that was sent keeps the lanes it was sent with
    own = Own(programme) if known.own is None else known.own
    pinned = known.pinned | own.pinned
    laid = lay(
        own.programme,
        runner,
        library,
        house,
        monday,
        known.last,
        pinned,
        known.capacity,
        allowed,
        known.given,
        own.bounds,
    )
    if not isinstance(laid, Laid):
        return _Fitted(laid)
    answer = solve(laid.problem)
    outcome = outcome_of(laid, answer)
    early = stopped_early(runner, answer)
    if isinstance(outcome, Impossible):
        return _Fitted(outcome, findings=(*outcome.reasons, *early))
    capacity = laid.setting.capacity
    wrong = verify(outcome, own.programme, runner, library, house, capacity, known.last, known.given, own.bounds)
    if wrong:
        return _Fitted(Impossible(runner.id, runner.name, wrong, ()), findings=wrong)
    gains = []
    moved = {(s.key, i.item_key) for s in outcome.sessions for b in s.blocks for i in b.items if i.departs}
    for i, ln in enumerate(laid.lines):
        a = answer.option[i]
        written = (ln if a is None else ln.part(a)).choices.written
        key = (laid.week.sessions[ln.session].key, ln.item.key)
        out_of_lane = ln.choices.only is not None and (
            written.variant is None or written.variant.id not in ln.choices.only
        )
        if (
            a is None
            or laid.problem.lines[i].options[a].id == DONE
            or kept(laid, ln, ln.choices.choices[a]) is not None
        ):
            continue  # nothing to give back: it is past, or signed already
        if written.barred is None and key in moved and not out_of_lane:
            gains.append((written.expected_loss - ln.choices.choices[a].expected_loss, *key))
    return _Fitted(outcome, verdicts(laid, answer), tuple(gains), prices=offered(laid))


def _over_budget(fitted: list[_Fitted], squad: Squad, budget: int) -> dict[str, Pinned]:
    """Runner id -> lines given back to the text until the budget holds: those that gain least first (lines do not interact
    much, so this is the least total loss up to pairs). Departures that kit or a limit forces are never given back."""
    over = _departures([f.outcome for f in fitted if isinstance(f.outcome, FittedWeek)]) - budget
    if over <= 0:
        return {}
    cheapest = sorted((gain, n, session, key) for n, f in enumerate(fitted) for gain, session, key in f.gains)[:over]
    return {
        squad.runners[n].id: frozenset((session, key) for _, m, session, key in cheapest if m == n)
        for n in sorted({n for _, n, _, _ in cheapest})
    }


def _at_one_home(
    fitted: list[_Fitted],
    squad: Squad,
    known: Mapping[str, _Known],
    programme: Programme,
    library: Library,
    house: House,
) -> tuple[list[_Fitted], tuple[Finding, ...]]:
    """Starts parted where runners of one home want the same piece at once; each moved week has passed `verify` again."""
    runners = {r.id: r for r in squad.runners if r.shares}
    weeks = {
        f.outcome.runner_id: f.outcome
        for f in fitted
        if isinstance(f.outcome, FittedWeek) and f.outcome.runner_id in runners
    }
    if len(weeks) < 2:
        return fitted, ()

    def passes(runner: Runner, week: FittedWeek) -> bool:
        k = known[runner.id]
        capacity = capacity_of(runner, week.monday) if k.capacity is None else k.capacity
        own = Own(programme) if k.own is None else k.own
        return not verify(week, own.programme, runner, library, house, capacity, k.last, k.given, own.bounds)

    past = {r: frozenset(given.done()) for r in weeks if (given := known[r].given) is not None}
    parted, told = part(weeks, runners, passes, past)
    return [replace(f, outcome=parted.get(f.outcome.runner_id, f.outcome)) for f in fitted], told


def _departures(weeks: list[FittedWeek]) -> int:
    """Lines that differ from the text, each once however often its session is done in the week."""
    return len({
        (w.runner_id, s.key.split(" (")[0], i.item_key)
        for w in weeks for s in w.sessions for b in s.blocks for i in b.items if i.departs
    })  # fmt: skip
