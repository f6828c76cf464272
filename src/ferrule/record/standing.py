"""What stands of everything that was told: corrections applied, duplicates once, in one order by the time performed.

A pure function of the set of entries: the order of arrival, and how often each one arrived, do not matter.

Corrections  An entry that another one of the same runner replaces no longer stands, whatever came of the other. Of several
             that correct the same first entry the last recorded one stands. What is taken back stays back.
Twice        Two phones, or a phone and a typed line, may tell the same thing. Of two tellings of one set, session, week,
             test or run, the coach's correction stands before another, a correction before a first telling, then the one that tells more, of equals the last
             recorded one; `record.clashes` asks about it.
             Pain, questions, time away and decisions are never weighed against each other: only what is the same in every
             word stands once.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time
from typing import TypeVar

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.record.one_run import longest_each
from ferrule.squad.place import monday_of

Key = tuple[object, ...]
F = TypeVar("F", bound=Fact)

_KINDS: tuple[type, ...] = (
    TimeAway, WeekTold, SessionTold, LoggedSet, LoggedTest, RunTold, PainTold, Asked, Decided, TakenBack
)  # fmt: skip
_RANK = {kind: i for i, kind in enumerate(_KINDS)}
_TELLS = {"not said": 0, "tapped": 1, "counted": 2, "failed": 3}


class Stood(tuple[Entry, ...]):
    """Entries that stand, in the order of `performed`: a tuple of which nothing need be worked out again.

    Only this module makes one. What is taken of it by runner stands as well.
    """

    __slots__ = ()


def standing(entries: Iterable[Entry]) -> Stood:
    """The entries that stand, each once, in the order of `performed`. `standing(standing(e)) is standing(e)`."""
    if isinstance(entries, Stood):
        return entries
    told = _corrected(once(entries))
    return Stood(sorted((_filled(e) for e in _weighed(told)), key=performed))


def standing_of(entries: Iterable[Entry], runner_id: str) -> Stood:
    """What stands of what one runner told."""
    own = (e for e in entries if e.runner_id == runner_id)
    return Stood(own) if isinstance(entries, Stood) else standing(own)


def standing_apart(entries: Iterable[Entry]) -> Stood:
    """What stands of each runner's entries taken by themselves, all together in the order of `performed`."""
    if isinstance(entries, Stood):
        return entries
    return Stood(sorted((e for own in by_runner(entries).values() for e in standing(own)), key=performed))


def performed(entry: Entry) -> tuple[date, time, int, str, str, int, str, str]:
    """The one order of entries: by day, time (unknown first), kind, session, item, number, side, id."""
    fact = entry.fact
    session, item, number, side = "", "", 0, ""
    at: time | None = None
    if isinstance(fact, LoggedSet):
        session, item, number, side, at = fact.session_key, fact.item_key, fact.number, fact.side, fact.at
    elif isinstance(fact, SessionTold):
        session, at = fact.session_key, fact.at
    elif isinstance(fact, RunTold):
        at = fact.at
    return day_of(fact), at or time(), _RANK[type(fact)], session, item, number, side, entry.entry_id


def day_of(fact: Fact) -> date:
    """The day a fact is about: the first of several; `date.min` for what has none."""
    if isinstance(fact, LoggedSet):
        return fact.day  # most are sets
    if isinstance(fact, TimeAway):
        return fact.first
    if isinstance(fact, (WeekTold, Decided)):
        return fact.monday
    if isinstance(fact, TakenBack):
        return date.min
    return fact.day


def once(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Each id once. Of different contents under one id the first recorded stands, of equals the earlier in its own text."""
    kept: dict[str, Entry] = {}
    for entry in entries:
        known = kept.get(entry.entry_id)
        if known is None or (known != entry and _with_text(entry) < _with_text(known)):
            kept[entry.entry_id] = entry
    return tuple(kept.values())


def same_thing(entry: Entry) -> Key | None:
    """What is told once only: two entries with equal keys tell of the same set, session, week, test or run; else None.

    A set and a session belong to the week of their day, since a week's sessions have keys of their own and a session may
    be done on another day than the one it was given. Sets of no sent line are the same by day, exercise and number.
    """
    fact = entry.fact
    who = entry.runner_id
    if isinstance(fact, LoggedSet):
        if fact.item_key:
            return who, "set", monday_of(fact.day), fact.session_key, fact.item_key, fact.number, fact.side
        return who, "set", fact.day, fact.session_key, fact.variant_id, fact.number, fact.side
    if isinstance(fact, SessionTold):
        return who, "session", monday_of(fact.day) if fact.session_key else fact.day, fact.session_key
    if isinstance(fact, WeekTold):
        return who, "week", monday_of(fact.monday)
    if isinstance(fact, LoggedTest):
        return who, "test", fact.day, fact.kind, fact.side
    if isinstance(fact, RunTold):
        return who, "run", fact.day, fact.at, round(fact.distance_km, 1)
    return None


def moment(entry: Entry) -> datetime:
    """When it was recorded; a time without a zone is taken as UTC."""
    at = entry.recorded_at
    return at if at.tzinfo is not None else at.replace(tzinfo=UTC)


def sets_of(entries: Iterable[Entry], runner_id: str) -> tuple[LoggedSet, ...]:
    """Sets of one runner that stand, in order."""
    return _of(LoggedSet, entries, runner_id)


def tests_of(entries: Iterable[Entry], runner_id: str) -> tuple[LoggedTest, ...]:
    """Home tests of one runner that stand, in order."""
    return _of(LoggedTest, entries, runner_id)


def away_of(entries: Iterable[Entry], runner_id: str) -> tuple[TimeAway, ...]:
    """Times away of one runner that stand, in order."""
    return _of(TimeAway, entries, runner_id)


def pains_of(entries: Iterable[Entry], runner_id: str) -> tuple[PainTold, ...]:
    """Pain one runner told that stands, in order."""
    return _of(PainTold, entries, runner_id)


def sessions_of(entries: Iterable[Entry], runner_id: str) -> tuple[SessionTold, ...]:
    """Sessions one runner told of that stand, in order."""
    return _of(SessionTold, entries, runner_id)


def weeks_of(entries: Iterable[Entry], runner_id: str) -> tuple[WeekTold, ...]:
    """Answers of one runner to the weekly question that stand, in order."""
    return _of(WeekTold, entries, runner_id)


def runs_of(entries: Iterable[Entry], runner_id: str) -> tuple[RunTold, ...]:
    """Runs of one runner that stand, in order."""
    return _of(RunTold, entries, runner_id)


def asked_of(entries: Iterable[Entry], runner_id: str) -> tuple[Asked, ...]:
    """Questions of one runner that stand, in order."""
    return _of(Asked, entries, runner_id)


def decided_of(entries: Iterable[Entry], runner_id: str) -> tuple[Decided, ...]:
    """Decisions of the coach on one runner that stand, in order."""
    return _of(Decided, entries, runner_id)


def by_runner(entries: Iterable[Entry]) -> dict[str, tuple[Entry, ...]]:
    """The entries of each runner; asking of one runner's entries costs less than of everybody's. Of `Stood`, each `Stood`."""
    out: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        out[entry.runner_id].append(entry)
    kind = Stood if isinstance(entries, Stood) else tuple
    return {runner_id: kind(own) for runner_id, own in out.items()}


def _of(kind: type[F], entries: Iterable[Entry], runner_id: str) -> tuple[F, ...]:
    if isinstance(entries, Stood):
        return tuple(e.fact for e in entries if isinstance(e.fact, kind) and e.runner_id == runner_id)
    stand = standing(e for e in entries if e.runner_id == runner_id)
    return tuple(e.fact for e in stand if isinstance(e.fact, kind))


def _corrected(entries: tuple[Entry, ...]) -> Iterator[Entry]:
    """The entries that no other one of the same runner replaces, without those that only take back."""
    own = {(e.runner_id, e.entry_id): e for e in entries}
    replaced = {(e.runner_id, e.replaces) for e in entries if e.replaces}
    heads = [e for e in entries if (e.runner_id, e.entry_id) not in replaced]
    heads += _circles(own, replaced)
    last: dict[tuple[str, str], Entry] = {}
    for entry in heads:
        root = _root(entry, own) if entry.replaces else (entry.runner_id, entry.entry_id)
        if root not in last or _later(entry) > _later(last[root]):
            last[root] = entry
    return (e for e in last.values() if not isinstance(e.fact, TakenBack))


def _root(entry: Entry, own: dict[tuple[str, str], Entry]) -> tuple[str, str]:
    """The first entry of a chain of corrections, whether or not it is there; of a circle its least id."""
    path = [entry.entry_id]
    while entry.replaces:
        if entry.replaces in path:
            return entry.runner_id, min(path[path.index(entry.replaces) :])
        path.append(entry.replaces)
        before = own.get((entry.runner_id, entry.replaces))
        if before is None:
            break
        entry = before
    return entry.runner_id, path[-1]


def _circles(own: dict[tuple[str, str], Entry], replaced: set[tuple[str, str]]) -> list[Entry]:
    """Entries that replace one another in a circle would all be lost: the last recorded one of each circle."""
    out: list[Entry] = []
    known: set[tuple[str, str]] = set()
    for key, entry in own.items():
        path: list[tuple[str, str]] = []
        here: tuple[str, str] | None = key if entry.replaces and key in replaced else None
        while here is not None and here in own and here not in known:
            known.add(here)
            path.append(here)
            before = own[here].replaces
            here = (here[0], before) if before else None
        if here in path:
            out.append(max((own[k] for k in path[path.index(here) :]), key=_later))
    return out


def _weighed(entries: Iterable[Entry]) -> Iterator[Entry]:
    """One telling of each thing; and what is the same in every word once."""
    alone: dict[Key, Entry] = {}
    best: dict[Key, Entry] = {}
    for entry in entries:
        key = same_thing(entry)
        if key is None:
            into, key = alone, (entry.runner_id, entry.fact)
        else:
            into = best
        if key not in into or weight(entry) > weight(into[key]):
            into[key] = entry
    yield from alone.values()
    runs = []
    for key, entry in best.items():
        if key[1] == "run":
            runs.append(entry)
        elif key[1] != "set" or not _told_by_side(key, entry, best):
            yield entry
    yield from longest_each(runs, weight)


def _told_by_side(key: Key, entry: Entry, best: dict[Key, Entry]) -> bool:
    """Is this set told for both sides at once and for a side alone, and does the other telling stand?"""
    if key[-1] == "both":
        left, right = best.get((*key[:-1], "left")), best.get((*key[:-1], "right"))
        return (left is not None or right is not None) and max(_says(e) for e in (left, right) if e) >= _says(entry)
    both = best.get((*key[:-1], "both"))
    if both is None:
        return False
    alone = [best[side] for s in ("left", "right") if (side := (*key[:-1], s)) in best]
    return max(map(_says, alone)) < _says(both)


def weight(entry: Entry) -> tuple[int, int, datetime, str]:
    """Of two tellings of one thing the one with more weight stands: a correction, the coach's first; tells more; was recorded later."""
    return (bool(entry.replaces) + settles(entry)), _tells(entry), moment(entry), entry.entry_id


def settles(entry: Entry) -> bool:
    """Is it the coach's word on what was told?"""
    return entry.source == "coach" and bool(entry.replaces)


def _says(entry: Entry) -> tuple[bool, int]:
    """The coach's word, then how much is told."""
    return settles(entry), _tells(entry)


def _tells(entry: Entry) -> int:
    """How much is told."""
    fact = entry.fact
    if isinstance(fact, LoggedSet):
        return 4 * _TELLS[fact.outcome] + 2 * (fact.reserve is not None) + (fact.stopped is not None)
    if isinstance(fact, SessionTold):
        return sum((fact.rating is not None, fact.minutes is not None, bool(fact.why), bool(fact.words)))
    if isinstance(fact, WeekTold):
        return sum((fact.felt is not None, fact.pain is not None, bool(fact.words)))
    if isinstance(fact, RunTold):
        return sum((fact.minutes is not None, fact.climb_m is not None, bool(fact.kind), fact.rating is not None))
    return 0


def _later(entry: Entry) -> tuple[datetime, str]:
    return moment(entry), entry.entry_id


def _with_text(entry: Entry) -> tuple[datetime, str]:
    return moment(entry), repr(entry)


def _filled(entry: Entry) -> Entry:
    """A set carries the id and the moment of its envelope."""
    fact = entry.fact
    if not isinstance(fact, LoggedSet) or (
        fact.entry_id == entry.entry_id and fact.recorded_at == entry.recorded_at and fact.runner_id == entry.runner_id
    ):
        return entry
    told = replace(fact, entry_id=entry.entry_id, recorded_at=entry.recorded_at, runner_id=entry.runner_id)
    return replace(entry, fact=told)
