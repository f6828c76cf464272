"""Ways out for a runner without a week: the single changes there are, and the smallest sets of them that were tried and work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ferrule.fit.build import Laid, build, rebuild
from ferrule.fit.constraints import contacts
from ferrule.fit.days import GAP_RULE, KEY_RULE, RACE_RULE, RECOVERY_RULE, RUN_RULE
from ferrule.fit.problem import Answer, Problem
from ferrule.fit.solve import solve
from ferrule.fit.stability import hold_to
from ferrule.model.fitted import WayOut
from ferrule.model.house import House
from ferrule.model.programme import LIGHT
from ferrule.model.squad import KitItem, Runner
from ferrule.model.words import DAYS
from ferrule.squad.loads import missing_kit
from ferrule.squad.sites import sites_of, with_pieces

MOST_WAYS = 3
MOST_CHANGES = 2
"""A way out of three changes is a conversation, not a change (ours)."""
MOST_TRIED = 40
"""Sets of two changes that are solved for; which ones leave a time free is looked at for all (ours)."""
GAPS = {
    KEY_RULE: "key-run-gap-h",
    GAP_RULE: "session-gap-h",
    RACE_RULE: "race-gap-h",
    RUN_RULE: "same-day-run-gap-h",
    RECOVERY_RULE: "race-recovery-h",
}
PARTS = (0.75, 0.5, 0.25)
MORE_MIN = (5, 10, 15, 30)

World = tuple[Runner, House]


@dataclass(frozen=True, slots=True)
class Change:
    """One change somebody could make. kind: changes of one kind exclude each other;  size: smaller is asked for first."""

    kind: str
    size: int
    text: str
    apply: Callable[[Runner, House], World]


def time_changes(runner: Runner, house: House) -> Iterator[Change]:
    """A day more, a run moved, a rule of hours lowered."""
    for day in range(7):
        if day not in runner.days:
            yield Change("day", 1, f"{DAYS[day]} becomes possible", _with_day(day))
    for i, run in enumerate(runner.runs):
        if run.kind == "easy":
            continue
        for day in range(7):
            if all(r.day != day for r in runner.runs):
                text = f"the {run.kind} run moves from {DAYS[run.day]} to {DAYS[day]}"
                yield Change(f"run {i}", abs(day - run.day), text, _with_run(i, day))
    for rule, key in GAPS.items():
        now = house.value(key)
        for size, part in enumerate(PARTS, 1):
            if now > 0:
                yield Change(rule, size, f"{rule}: {now * part:g} instead of {now:g}", _with_rule(key, now * part))


def line_changes(laid: Laid) -> Iterator[Change]:
    """More minutes, more foot contacts, a piece of kit at hand, a limit or a note lifted by whoever set it."""
    runner, house = laid.setting.runner, laid.setting.house
    if runner.minutes is not None:
        for more in MORE_MIN:
            text = f"{runner.minutes + more} minutes instead of {runner.minutes}"
            yield Change("minutes", more, text, _with_minutes(runner.minutes + more))
    now = house.value("contacts-a-session")
    for size, times in enumerate((1.5, 2.0), 1):
        text = f"{contacts.NAME}: {now * times:g} instead of {now:g}"
        yield Change("contacts", size, text, _with_rule("contacts-a-session", now * times))
    written = [ln.choices.written.variant for ln in laid.lines]
    for site in sites_of(runner):
        wanted = {k: None for v in written if v is not None and missing_kit(site.kit, v) for k in v.kit}
        at = f" at {site.name}" if site.name else ""
        for kind in wanted:
            if all(item.kind != kind for item in site.kit):
                yield Change(f"kit {kind}", 1, f"a {kind} is at hand{at}", _with_kit(KitItem(kind), site.name))
    for i, limit in enumerate(runner.limits):
        yield Change(f"limit {i}", 2, f"whoever set it lifts the limit {limit.text!r}", _without_limit(i))
    for i, wish in enumerate(runner.wishes):
        yield Change(f"note {i}", 1, f"the note {wish.text!r} is taken back", _without_wish(i))


def _with_day(day: int) -> Callable[[Runner, House], World]:
    return lambda r, h: (replace(r, days=tuple(sorted({*r.days, day}))), h)


def _with_run(i: int, day: int) -> Callable[[Runner, House], World]:
    return lambda r, h: (
        replace(r, runs=tuple(replace(x, day=day) if j == i else x for j, x in enumerate(r.runs))),
        h,
    )


def _with_rule(key: str, value: float) -> Callable[[Runner, House], World]:
    return lambda r, h: (r, replace(h, changed={**h.changed, key: value}))


def _with_minutes(minutes: int) -> Callable[[Runner, House], World]:
    return lambda r, h: (replace(r, minutes=minutes), h)


def _with_kit(item: KitItem, site: str) -> Callable[[Runner, House], World]:
    return lambda r, h: (with_pieces(r, (item,), site), h)


def _without_limit(i: int) -> Callable[[Runner, House], World]:
    return lambda r, h: (replace(r, limits=tuple(x for x in r.limits if x is not r.limits[i])), h)


def _without_wish(i: int) -> Callable[[Runner, House], World]:
    return lambda r, h: (replace(r, wishes=tuple(x for x in r.wishes if x is not r.wishes[i])), h)


@dataclass(frozen=True, slots=True)
class Way:
    """A set of changes that works: the runner and the house with it, and how many sessions then have a time."""

    changes: tuple[Change, ...]
    runner: Runner
    house: House
    placed: int
    sessions: int

    @property
    def told(self) -> WayOut:
        """The way out as the coach reads it."""
        text = ", and ".join(c.text for c in self.changes)
        has = "has" if self.placed == 1 else "have"
        return WayOut(f"{text}: {self.placed} of {self.sessions} sessions then {has} a day", tried=True)


def free_times(problem: Problem) -> int:
    """Sessions with a time that no rule forbids: 0 when no session can be placed."""
    return sum(any(not t.blocked for t in s.slots) for s in problem.sessions)


def is_work(laid: Laid, line: int) -> bool:
    """True for a line outside the warm-up."""
    return laid.problem.blocks[laid.problem.lines[line].block].kind not in LIGHT


def has_week(laid: Laid, answer: Answer) -> bool:
    """Does the answer place a session with something to do outside the warm-up?"""
    lines = laid.problem.lines
    done = (i for i, a in enumerate(answer.option) if a is not None and answer.slot[lines[i].session] is not None)
    return any(is_work(laid, i) for i in done)


def ways_out(laid: Laid, times: bool) -> tuple[Way, ...]:
    """Up to three sets of changes that work, of as few changes as there are; each was tried on the whole week.

    times   no session has a free time: only changes of days and hours are tried, first on the times alone

    First one change; two together only when no single one works. Of those the ones that place most sessions, then the
    smaller changes; the best of each kind before a second of any.
    """
    runner, house = laid.setting.runner, laid.setting.house
    changes = list(time_changes(runner, house) if times else line_changes(laid))
    for count in range(1, MOST_CHANGES + 1):
        found = _working(laid, times, changes, count)
        told: list[Way] = []
        for way, again in _spread(sorted(found, key=lambda f: _rank(f[0]))):
            whole = solve(again.problem, time_limit_s=5.0)  # the whole week, so that what is told was tried
            if has_week(again, whole):
                told.append(replace(way, placed=sum(t is not None for t in whole.slot)))
            if len(told) == MOST_WAYS:
                break
        if told:
            return tuple(told)
    return ()


def _spread(found: list[tuple[Way, Laid]]) -> list[tuple[Way, Laid]]:
    """The first of each kind of change, then the others, each in their order."""
    first: dict[frozenset[str], int] = {}
    for n, (way, _) in enumerate(found):
        first.setdefault(frozenset(c.kind for c in way.changes), n)
    ahead = sorted(first.values())
    return [found[n] for n in ahead] + [f for n, f in enumerate(found) if n not in ahead]


def _rank(way: Way) -> tuple[int, int]:
    return -way.placed, sum(c.size for c in way.changes)


def _working(laid: Laid, times: bool, changes: Sequence[Change], count: int) -> list[tuple[Way, Laid]]:
    """Sets of `count` changes of different kinds after which a session has a time (and, for lines, something to do).

    The most hopeful are solved first, by how many sessions have a free time at all; it ends when three kinds place every
    session, for nothing ranks before those.
    """
    hopeful = []
    for order, chosen in enumerate(combinations(changes, count)):
        if len({x.kind for x in chosen}) == count or _days(chosen):
            again = _after(laid, times, chosen) if times else None
            bound = len(laid.problem.sessions) if again is None else free_times(again.problem)
            if bound:
                hopeful.append((-bound, sum(x.size for x in chosen), order, chosen, again))
    found: list[tuple[Way, Laid]] = []
    for tried, (_, _, _, chosen, laid_again) in enumerate(sorted(hopeful, key=lambda h: h[:3])):
        whole = {frozenset(c.kind for c in w.changes) for w, _ in found if w.placed == w.sessions}
        if len(whole) >= MOST_WAYS or (count > 1 and tried == MOST_TRIED):
            break
        again = _after(laid, times, chosen) if laid_again is None else laid_again
        small = replace(again.problem, lines=(), blocks=(), cover=()) if times else again.problem
        answer = solve(small, time_limit_s=5.0)
        placed = sum(t is not None for t in answer.slot)
        if placed and (times or has_week(again, answer)):
            setting = again.setting
            sessions = len(again.problem.sessions)
            found.append((Way(tuple(chosen), setting.runner, setting.house, placed, sessions), again))
    return found


def _after(laid: Laid, times: bool, chosen: Sequence[Change]) -> Laid:
    """The week laid out again after the changes."""
    runner, house = laid.setting.runner, laid.setting.house
    for change in chosen:
        runner, house = change.apply(runner, house)
    setting = replace(laid.setting, runner=runner, house=house, _screened={}, _loads={})
    again = rebuild(laid, setting) if times else build(laid.programme, laid.week, setting, laid.last)
    return again if laid.given is None else hold_to(again, laid.given)


def _days(chosen: Sequence[Change]) -> bool:
    """Two days more are two changes; two places of one run are not."""
    return all(c.kind == "day" for c in chosen)
