"""What is believed of each runner on a Monday: everything that stands, folded; a pure function of the record."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from ferrule.capacity.belief import belief
from ferrule.capacity.fold import fold
from ferrule.capacity.observation import mass_of
from ferrule.capacity.offsets import NO_OFFSETS, Offsets
from ferrule.capacity.state import State
from ferrule.capacity.working import Context
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding
from ferrule.model.squad import Capacity, Runner, Squad
from ferrule.record.standing import away_of, by_runner, sets_of, standing_apart, standing_of, tests_of


def beliefs(
    squad: Squad, library: Library, entries: Iterable[Entry], monday: date, offsets: Offsets = NO_OFFSETS
) -> tuple[Mapping[str, Capacity], tuple[Finding, ...]]:
    """Runner id -> what is believed on `monday`, from what was done before it; and questions about odd sets.

    entries   of any runners, in any order, corrections among them
    offsets   what the squad shares, frozen for the cycle

    A runner of whom nothing is known, and nothing of the squad either, is left out: the fit then takes the prior.
    """
    own = by_runner(standing_apart(entries))
    out: dict[str, Capacity] = {}
    found: list[Finding] = []
    for runner in squad.runners:
        state, doubts = state_of(runner, library, own.get(runner.id, ()), monday - timedelta(days=1), offsets)
        found.extend(_named(f, runner) for f in doubts)
        if something_known(state, offsets):
            out[runner.id] = belief(state, library, mass_of(runner))
    return out, tuple(found)


def something_known(state: State, offsets: Offsets | Context) -> bool:
    """Whether the record says anything for this runner, be it through the squad; else the fit takes the prior."""
    return bool(state.seen or state.group_days or offsets.names)


def states_of(
    squad: Squad, library: Library, entries: Iterable[Entry], until: date, offsets: Offsets = NO_OFFSETS
) -> dict[str, State]:
    """Runner id -> folded state at the end of `until`; what `share_offsets` makes the squad's offsets of."""
    own = by_runner(standing_apart(entries))
    return {r.id: state_of(r, library, own.get(r.id, ()), until, offsets)[0] for r in squad.runners}


def state_of(
    runner: Runner, library: Library, entries: tuple[Entry, ...], until: date, offsets: Offsets = NO_OFFSETS
) -> tuple[State, tuple[Finding, ...]]:
    """The folded state of one runner from entries in any order, and the questions that arose."""
    own = standing_of(entries, runner.id)
    return fold(
        runner,
        library,
        until=until,
        sets=sets_of(own, runner.id),
        tests=tests_of(own, runner.id),
        away=away_of(own, runner.id),
        races=(r for r in runner.races if r <= until),
        offsets=offsets,
    )


def _named(finding: Finding, runner: Runner) -> Finding:
    """The finding with the runner it is about, for a list of the whole squad."""
    return replace(finding, what=f"{runner.name} ({runner.id}): {finding.what}")
