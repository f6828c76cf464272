"""Which single change of the text would bring most runners back to it: tried by fitting the squad again, not guessed.

A runner is off a line when they do it otherwise than written, or not at all. For each change the runners who are off its
line are fitted again (for one round less, those who are off any line of its session); lines fewer runners are off than the
third best change already wins are not looked at. The changes that win most are then fitted to the whole squad: what is told
is what that says, losses elsewhere taken away. Lanes and the change budget are left out of the count: it is about the text.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import nullcontext
from dataclasses import dataclass
from datetime import date
from functools import partial

from ferrule.fit.one_change_edits import KINDS, Edit, edits
from ferrule.fit.runner import fit_runner
from ferrule.model.exercise import Library, Variant
from ferrule.model.finding import has_errors
from ferrule.model.fitted import FittedItem, FittedWeek, Impossible, Outcome
from ferrule.model.house import House
from ferrule.model.programme import Block, Item, Programme
from ferrule.model.squad import Capacity, Runner, Squad
from ferrule.programme.reader import read_programme
from ferrule.programme.weeks import week_of
from ferrule.squad.place import monday_of

TRIES = 60
CHECKED = 3
"""How many changes are told at most."""
INSTEAD = 2
"""Of what the moved runners do instead, the commonest few are tried as an alternative and in the line's place."""
Line = tuple[str, str]
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One change of the text and what the squad's week is with it.

    edit      the change;  session_key, item_key: its line
    back      (runner id, line) that are as written again;  off: those that are newly not
    """

    session_key: str
    item_key: str
    edit: Edit
    back: tuple[tuple[str, Line], ...]
    off: tuple[tuple[str, Line], ...]

    @property
    def net(self) -> int:
        """Lines over all runners that come back, those that go off taken away."""
        return len(self.back) - len(self.off)

    @property
    def runners(self) -> tuple[str, ...]:
        """Runners brought back to some line, in the order of the squad."""
        return tuple(dict.fromkeys(r for r, _ in self.back))


@dataclass(frozen=True, slots=True)
class OneChange:
    """The changes that bring most back, best first, each checked by a fit of the whole squad; empty when none wins.

    off        lines over all runners that are not as written now
    tried      changes tried of those there are;  checked: how many of them with everybody
    """

    off: int
    suggestions: tuple[Suggestion, ...]
    tried: int
    possible: int
    checked: int


@dataclass(frozen=True, slots=True)
class _Fits:
    """Fits runners with a text and says on which lines each is off it."""

    library: Library
    house: House
    monday: date
    last: Mapping[str, FittedWeek]
    beliefs: Mapping[str, Capacity]

    def outcome(self, programme: Programme, runner: Runner) -> Outcome:
        return fit_runner(
            programme, runner, self.library, self.house, self.monday, self.last.get(runner.id),
            capacity=self.beliefs.get(runner.id),
        )  # fmt: skip


_HERE: list[_Fits] = []
"""In a process of the pool: what it was started with, so that the library does not travel with every task."""


def _begin(fits: _Fits) -> None:
    _HERE[:] = [fits]


def _outcomes_there(programme: Programme, runners: Sequence[Runner]) -> list[Outcome]:
    return [_HERE[0].outcome(programme, r) for r in runners]


def one_change(
    text: str, squad: Squad, library: Library, house: House, monday: date, *,
    last: Mapping[str, FittedWeek] | None = None, beliefs: Mapping[str, Capacity] | None = None, tries: int = TRIES,
    workers: int = 1, progress: Progress | None = None,
) -> OneChange:  # fmt: skip
    """The single change of `text` that would bring most runners back, with the next best.

    tries     most changes tried, those of the lines most runners are off first
    progress  called after each change tried with (done, in all, what)
    last, beliefs, workers   as for `fit_squad`
    """
    programme, _ = read_programme(text, "programme.md", library)
    fits = _Fits(library, house, monday_of(monday), last or {}, beliefs or {})
    start = None if workers <= 1 else ProcessPoolExecutor(workers, initializer=_begin, initargs=(fits,))
    with start or nullcontext() as pool:

        def fitted(with_text: Programme, runners: Sequence[Runner]) -> list[Outcome]:
            if pool is None:
                return [fits.outcome(with_text, r) for r in runners]
            parts = [runners[n::workers] for n in range(workers)]
            done = {
                o.runner_id: o
                for part in pool.map(partial(_outcomes_there, with_text), [p for p in parts if p])
                for o in part
            }
            return [done[r.id] for r in runners]

        def off(with_text: Programme, runners: Sequence[Runner]) -> dict[str, frozenset[Line]]:
            return {o.runner_id: off_text(with_text, o) for o in fitted(with_text, runners)}

        outcomes = fitted(programme, squad.runners)
        now = {r.id: off_text(programme, o) for r, o in zip(squad.runners, outcomes, strict=True)}
        every = list(_all_edits(text, programme, library, outcomes, now))
        found: list[tuple[int, Suggestion, Programme]] = []
        tried_now = 0
        for n, (session, item, edit) in enumerate(every[:tries]):
            best = sorted((s.net for _, s, _ in found), reverse=True)[:CHECKED]
            some = [r for r in squad.runners if _concerned(now[r.id], session, item, edit)]
            if len(best) == CHECKED and len(some) < best[-1]:
                continue
            tried_now += 1
            changed, findings = read_programme(edit.text, "programme.md", library)
            if not has_errors(findings):
                then = off(changed, some)
                tried = _compared(session, item, edit, now, then)
                if tried.net > 0:
                    found.append((n, tried, changed))
            if progress is not None:
                progress(n + 1, min(tries, len(every)), edit.what)
        found.sort(key=lambda f: (-f[1].net, KINDS.index(f[1].edit.kind), f[0]))
        told: list[Suggestion] = []
        checked = 0
        for _, tried, changed in found:
            if len([s for s in told if s.net >= tried.net]) >= CHECKED:
                break  # nothing that is left can win more than what is told
            then = off(changed, squad.runners)
            checked += 1
            told.append(_compared(tried.session_key, tried.item_key, tried.edit, now, then))
            told.sort(key=lambda s: (-s.net, KINDS.index(s.edit.kind)))
    kept = tuple(s for s in told if s.net > 0)[:CHECKED]
    return OneChange(sum(map(len, now.values())), kept, tried_now, len(every), checked)


def _compared(
    session: str, item: str, edit: Edit, now: Mapping[str, frozenset[Line]], then: Mapping[str, frozenset[Line]]
) -> Suggestion:
    back = tuple((r, line) for r, lines in then.items() for line in sorted(now[r] - lines))
    off = tuple((r, line) for r, lines in then.items() for line in sorted(lines - now[r]))
    return Suggestion(session, item, edit, back, off)


def _concerned(off: frozenset[Line], session: str, item: str, edit: Edit) -> bool:
    """May the change bring this runner back?"""
    return any(line[0] == session for line in off) if edit.kind == "rounds" else (session, item) in off


def off_text(programme: Programme, outcome: Outcome) -> frozenset[Line]:
    """Lines of the runner's week that are done otherwise than written, or not at all; none where there is no week to do.

    A runner for whom no week is possible is off every line of theirs.
    """
    if isinstance(outcome, Impossible):
        return frozenset({("", "")})  # one thing to be mended, not one a line
    if not isinstance(outcome, FittedWeek):
        return frozenset()
    week = week_of(programme, outcome.programme_week)
    written = {(s.key, i.key) for s in (week.sessions if week else ()) for b in s.blocks for i in b.items}
    done = {(s.key.split(" (")[0], i.item_key): i for s in outcome.sessions for b in s.blocks for i in b.items}
    return frozenset(line for line in written if line not in done or done[line].departs)


def _all_edits(
    text: str, programme: Programme, library: Library, outcomes: Sequence[Outcome], now: Mapping[str, frozenset[Line]]
) -> Iterator[tuple[str, str, Edit]]:
    """(session, line, change) for every line somebody is off, those most are off first."""
    many = Counter(line for lines in now.values() for line in lines)
    order = [line for line, _ in sorted(many.items(), key=lambda m: (-m[1], m[0]))]
    seen: set[str] = set()
    for line in order:
        given = _given(line, outcomes, library)
        for item, block in _written(programme, line):
            for edit in edits(text, item, block, given):
                if edit.text not in seen:
                    seen.add(edit.text)
                    yield *line, edit


def _given(line: Line, outcomes: Sequence[Outcome], library: Library) -> tuple[Variant, ...]:
    """What those who are off the line do instead, of most runners first."""
    count: Counter[str] = Counter(i.variant_id for o in outcomes for i in _items(o, line) if i.departs)
    found = sorted(count.items(), key=lambda c: (-c[1], c[0]))[:INSTEAD]
    return tuple(library.variants[v] for v, _ in found if v in library.variants)


def _items(outcome: Outcome, line: Line) -> list[FittedItem]:
    sessions = outcome.sessions if isinstance(outcome, FittedWeek) else ()
    once = {s.key.split(" (")[0]: s for s in reversed(sessions)}
    here = once.get(line[0])
    return [] if here is None else [i for b in here.blocks for i in b.items if i.item_key == line[1]]


def _written(programme: Programme, line: Line) -> Iterator[tuple[Item, Block]]:
    """The line in every cycle that has it, as written."""
    for cycle in programme.cycles:
        for session in cycle.sessions:
            for block in session.blocks:
                for item in block.items:
                    if (session.key, item.key) == line:
                        yield item, block
