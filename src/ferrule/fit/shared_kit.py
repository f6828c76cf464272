"""Two runners of one home and one kit: the same single piece is not wanted by both at the same time and site.

Looked at after everybody is fitted, for it concerns the clock and not the exercises: the runner who stands later in the
squad list starts when the other is done, or before, or at the other usual time - whichever the verifier lets pass. What
cannot be parted is told to the coach.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, time
from itertools import combinations

from ferrule.fit.days import DAY, HOUR, hours_to_key, run_times
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedSession, FittedWeek, Reason
from ferrule.model.quantity import number
from ferrule.model.squad import KitItem, Runner, Site
from ferrule.model.words import DAYS, KitKind
from ferrule.squad.sites import site_on, sites_of
from ferrule.squad.stand_in import piece_words

ONE_EACH: frozenset[KitKind] = frozenset((
    "step", "box", "bench", "band", "dumbbell", "kettlebell", "barbell", "plate", "rucksack", "ball", "rope", "doorway bar",
))  # fmt: skip
"""Pieces one runner has at a time. Mats, chairs, sofas, stairs, books and bottles are taken to be there for two (ours)."""
USUAL_MIN = (7 * HOUR, 18 * HOUR)
EARLIEST_MIN, LATEST_END_MIN, STEP_MIN = 6 * HOUR, 22 * HOUR, 15
"""A start moved for the other's sake stays within these, on the quarter of an hour (ours)."""
_MANY = re.compile(r"^(two|three|four|five|six|seven|eight|nine|ten|\d+(?= \d)) (.+?)s?$")
_COUNTS = {w: n for n, w in enumerate(("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"), 2)}

Passes = Callable[[Runner, FittedWeek], bool]


def pieces_wanted(session: FittedSession) -> Counter[str]:
    """How many of each piece the session needs at one time, by its name without settings."""
    out: Counter[str] = Counter()
    for words in session.fetch:
        text = words.split(" with ")[0].split(" at ")[0]
        found = _MANY.match(text)
        name, n = text, 1
        if found:
            name, n = found[2], _COUNTS.get(found[1]) or int(found[1])
        if any(name.endswith(kind) for kind in ONE_EACH):
            out[name] = max(out[name], n)
    return out


def pieces_owned(kits: Iterable[tuple[KitItem, ...]]) -> Counter[str]:
    """How many of each piece there are at home: what two rows list is the same piece listed twice."""
    most: Counter[str] = Counter()
    for kit in kits:
        mine: Counter[str] = Counter()
        for item in kit:
            mine[_name(item)] += item.count
        most |= mine
    return most


def _name(item: KitItem) -> str:
    if item.kind == "rucksack" or item.kg is None:
        return piece_words(item)
    return f"adjustable {item.kind}" if item.up_to_kg is not None else f"{number(item.kg)} kg {item.kind}"


def both_want(a: FittedSession, b: FittedSession, owned: Mapping[str, int]) -> tuple[str, ...]:
    """Pieces of which both together need more than there are, whenever they are done; a piece nobody lists counts once."""
    mine, its = pieces_wanted(a), pieces_wanted(b)
    return tuple(p for p in mine if p in its and mine[p] + its[p] > owned.get(p, 1))


def _both_want(a: FittedSession, b: FittedSession, one: Runner, two: Runner) -> tuple[str, ...]:
    """The same where both train on that day at the site they share, with the kit that is there; else none."""
    here, there = site_on(one, a.day.weekday()), site_on(two, b.day.weekday())
    if not _same_site(one, here, two, there):
        return ()
    return both_want(a, b, pieces_owned((here.kit, there.kit)))


def _same_site(one: Runner, here: Site, two: Runner, there: Site) -> bool:
    """Sites of one name are one; a site without a name is home, which is the first of the other."""
    if here.name and there.name:
        return here.name.lower() == there.name.lower()
    return here == sites_of(one)[0] and there == sites_of(two)[0]


def at_once(a: FittedSession, b: FittedSession) -> bool:
    """May the two overlap? Where no start is printed the runner chooses one of the usual two."""
    if a.day != b.day:
        return False
    return any(x < y + b.minutes and y < x + a.minutes for x in _starts(a) for y in _starts(b))


def _starts(session: FittedSession) -> tuple[int, ...]:
    return USUAL_MIN if session.start is None else (session.start.hour * HOUR + session.start.minute,)


def part(
    weeks: Mapping[str, FittedWeek], runners: Mapping[str, Runner], passes: Passes,
    fixed: Mapping[str, frozenset[str]] | None = None,
) -> tuple[dict[str, FittedWeek], tuple[Finding, ...]]:  # fmt: skip
    """The weeks with starts moved apart, in the order of `weeks`, and what could not be parted.

    passes   does the verifier let this week pass?
    fixed    runner id -> keys of sessions that may not move any more: they are past
    """
    out = dict(weeks)
    for first, second, one, two in _clashing(weeks, runners):
        a, b = _session(out[first], one), _session(out[second], two)
        pieces = _both_want(a, b, runners[first], runners[second])
        if at_once(a, b):  # still: a move for another's sake may have parted them
            out.update(_parted(out, first, a, second, b, pieces, runners, passes, fixed or {}) or {})
    left = {
        (first, second, _session(out[first], one).day): (one, two)
        for first, second, one, two in _clashing(out, runners)
    }
    told = []
    for (first, second, day), (one, two) in left.items():
        a, b = _session(out[first], one), _session(out[second], two)
        pieces = _both_want(a, b, runners[first], runners[second])
        told.append(_told(runners[first], runners[second], day, pieces))
    return out, tuple(told)


def _clashing(weeks: Mapping[str, FittedWeek], runners: Mapping[str, Runner]) -> list[tuple[str, str, str, str]]:
    """(runner, runner, session key, session key) of every two sessions that want one piece at once."""
    return [
        (first, second, a.key, b.key)
        for first, second in combinations(weeks, 2)
        if second in runners[first].shares
        for a in weeks[first].sessions
        for b in weeks[second].sessions
        if at_once(a, b) and _both_want(a, b, runners[first], runners[second])
    ]


def _session(week: FittedWeek, key: str) -> FittedSession:
    return next(s for s in week.sessions if s.key == key)


def _parted(
    weeks: Mapping[str, FittedWeek], first: str, a: FittedSession, second: str, b: FittedSession, pieces: tuple[str, ...],
    runners: Mapping[str, Runner], passes: Passes, fixed: Mapping[str, frozenset[str]],
) -> dict[str, FittedWeek] | None:  # fmt: skip
    """The two weeks with one or both starts printed anew; None when no way passes."""
    ways: list[tuple[int | None, int | None]] = []
    if b.key not in fixed.get(second, ()):
        ways += [(None if a.start is not None else x, y) for x in reversed(_starts(a)) for y in _beside(x, a, b)]
    if a.key not in fixed.get(first, ()):
        ways += [(x, None if b.start is not None else y) for y in reversed(_starts(b)) for x in _beside(y, b, a)]
    for at_a, at_b in ways:
        if (at_a is not None and a.key in fixed.get(first, ())) or (
            at_b is not None and b.key in fixed.get(second, ())
        ):
            continue
        new_a = _moved(a, at_a, runners[first], runners[second].name, pieces, weeks[first].monday)
        new_b = _moved(b, at_b, runners[second], runners[first].name, pieces, weeks[second].monday)
        if at_once(new_a, new_b):
            continue
        made = {first: _with(weeks[first], new_a), second: _with(weeks[second], new_b)}
        if all(passes(runners[r], week) for r, week in made.items()):
            return made
    return None


def _beside(start: int, still: FittedSession, moved: FittedSession) -> list[int]:
    """Starts of `moved` that leave `still`, begun at `start`, alone: the usual ones first, then right after, right before."""
    after = -(-int(start + still.minutes + 0.999) // STEP_MIN) * STEP_MIN
    before = int(start - moved.minutes) // STEP_MIN * STEP_MIN
    own = [s for s in _starts(moved) if moved.start is None]
    return [s for s in (*own, after, before) if s >= EARLIEST_MIN and s + moved.minutes <= LATEST_END_MIN]


def _moved(
    session: FittedSession, at: int | None, runner: Runner, other: str, pieces: tuple[str, ...], monday: date
) -> FittedSession:
    if at is None:
        return session
    end = session.day.toordinal() - monday.toordinal()
    hours = hours_to_key(end * DAY + at + round(session.minutes), run_times(runner, monday))
    why = Reason("days", f"at {at // HOUR:02d}:{at % HOUR:02d}: {other} shares the {' and the '.join(pieces)}")
    return replace(
        session,
        start=time(at // HOUR, at % HOUR),
        hours_to_key=None if hours is None else round(hours, 1),
        reasons=(*session.reasons, why),
    )


def _with(week: FittedWeek, session: FittedSession) -> FittedWeek:
    return replace(week, sessions=tuple(session if s.key == session.key else s for s in week.sessions))


def _told(one: Runner, two: Runner, day: date, pieces: tuple[str, ...]) -> Finding:
    what = f"{one.name} ({one.id}) and {two.name} ({two.id}) both need the {' and the '.join(pieces)} on {DAYS[day.weekday()]} {day}"
    why = "They share one kit, and no other start of either session on that day keeps to the rules."
    fix = "Give one of them another day, or another load, or a second piece."
    return Finding(code="shared-kit", level="advice", what=what, why=why, fix=fix, span=two.span)
