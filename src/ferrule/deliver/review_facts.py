"""What one runner was asked in a cycle, what they told of it, what hurt, what was moved: counted, never judged."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ferrule.capacity.detectable import Change, ChangeOfTest, change_of, changes_of_tests
from ferrule.deliver.dose_words import asked_words
from ferrule.deliver.repeats import base_key
from ferrule.model.entry import LoggedSet, TimeAway
from ferrule.model.exercise import Library
from ferrule.model.fact import Decided, Entry, PainTold, SessionTold, WeekTold
from ferrule.model.fitted import FittedItem, FittedSession, FittedWeek
from ferrule.model.programme import LIGHT
from ferrule.model.squad import Capacity, Runner
from ferrule.model.words import GROUPS, Group
from ferrule.record.standing import away_of, decided_of, pains_of, sessions_of, sets_of, standing_of, tests_of, weeks_of
from ferrule.squad.place import monday_of

Outcome = Literal["did", "part", "none", "not told"]


@dataclass(frozen=True, slots=True)
class SentCopy:
    """The newest copy of one week, as sent."""

    copy_id: str
    week: FittedWeek


@dataclass(frozen=True, slots=True)
class SessionReview:
    """One session that was sent. sets, told: sets asked for outside the warm-up, and sets something was told of.

    outcome  as told of the session; else `did` when sets of every line were told, `part` when of some
    """

    monday: date
    session: FittedSession
    outcome: Outcome
    why: str
    words: str
    rating: int | None
    minutes: float | None
    sets: int
    told: int


@dataclass(frozen=True, slots=True)
class LineWeek:
    """One line in one week: what was asked, in brief, and what was told.

    done, failed, stopped   sets told as done, tried for one more and not managed, ended early by pain
    """

    week: int
    item: FittedItem
    asked: str
    done: int
    failed: int
    stopped: int
    reserves: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class LineReview:
    """One written line over the cycle, week by week. key: (session, line)."""

    key: tuple[str, str]
    session: str
    written: str
    weeks: tuple[LineWeek, ...]

    @property
    def moved(self) -> tuple[LineWeek, ...]:
        """The weeks in which it was done otherwise than written."""
        return tuple(w for w in self.weeks if w.item.departs)


@dataclass(frozen=True, slots=True)
class RunnerReview:
    """One runner's cycle. Everything in order of day; nothing here is a judgement.

    first, last   the first and the last day of the weeks that were sent
    """

    runner: Runner
    first: date
    last: date
    weeks: tuple[SentCopy, ...]
    sessions: tuple[SessionReview, ...]
    told_weeks: tuple[WeekTold, ...]
    lines: tuple[LineReview, ...]
    changes: tuple[Change, ...]
    tests: tuple[ChangeOfTest, ...]
    pains: tuple[PainTold, ...]
    away: tuple[TimeAway, ...]
    decided: tuple[Decided, ...]

    def count(self, outcome: Outcome) -> int:
        """Sessions with that outcome."""
        return sum(s.outcome == outcome for s in self.sessions)

    @property
    def silent(self) -> bool:
        """Nothing at all was told of any session or week."""
        return self.count("not told") == len(self.sessions) and not self.told_weeks


def review_of(
    runner: Runner,
    weeks: Sequence[SentCopy],
    entries: Iterable[Entry],
    library: Library,
    before: Capacity | None = None,
    after: Capacity | None = None,
) -> RunnerReview | None:
    """The cycle of one runner from the copies sent, in any order, and the entries that stand; None without a copy.

    before   what was believed at the end of the first week of the cycle;  after: at the end of its last
    """
    if not weeks:
        return None
    weeks = tuple(sorted(weeks, key=lambda c: c.week.monday))
    first = weeks[0].week.monday
    last = max(weeks[-1].week.monday + timedelta(days=6), *(s.day for c in weeks for s in c.week.sessions), first)
    own = standing_of(entries, runner.id)

    def inside(day: date) -> bool:
        return first <= day <= last

    sets = [s for s in sets_of(own, runner.id) if inside(s.day)]
    told = [s for s in sessions_of(own, runner.id) if inside(s.day)]
    by_line = _by_line(sets, weeks)
    return RunnerReview(
        runner=runner,
        first=first,
        last=last,
        weeks=weeks,
        sessions=tuple(_sessions(weeks, told, by_line)),
        told_weeks=tuple(w for w in weeks_of(own, runner.id) if inside(w.monday)),
        lines=_lines(weeks, by_line, library),
        changes=_changes(weeks, sets, library, before, after),
        tests=changes_of_tests([t for t in tests_of(own, runner.id) if t.day <= last]),
        pains=tuple(p for p in pains_of(own, runner.id) if inside(p.day)),
        away=tuple(a for a in away_of(own, runner.id) if a.first <= last and a.last >= first),
        decided=tuple(d for d in decided_of(own, runner.id) if inside(d.monday)),
    )


_Sets = Mapping[tuple[date, str, str], Sequence[LoggedSet]]


def _by_line(sets: Iterable[LoggedSet], weeks: Sequence[SentCopy]) -> _Sets:
    """Sets by Monday, session and line: the week of the copy they answer, else that of their day."""
    mondays = {c.copy_id: c.week.monday for c in weeks}
    found: dict[tuple[date, str, str], list[LoggedSet]] = {}
    for one in sets:
        monday = mondays.get(one.copy_id, monday_of(one.day))
        found.setdefault((monday, one.session_key, one.item_key), []).append(one)
    return found


def work(session: FittedSession) -> tuple[FittedItem, ...]:
    """The lines of a session outside warm-up and cool-down."""
    return tuple(i for b in session.blocks if b.kind not in LIGHT for i in b.items)


def sets_asked(item: FittedItem) -> int:
    """Sets or rounds asked for."""
    return len(item.per_set) or item.sets


def _told(sets: Sequence[LoggedSet]) -> set[int]:
    return {s.number for s in sets if s.outcome != "not said"}


def _sessions(weeks: Sequence[SentCopy], told: Sequence[SessionTold], by_line: _Sets) -> Iterable[SessionReview]:
    mondays = {c.copy_id: c.week.monday for c in weeks}
    by_session = {(mondays.get(t.copy_id, monday_of(t.day)), t.session_key): t for t in told}
    for copy in weeks:
        monday = copy.week.monday
        for session in copy.week.sessions:
            said = by_session.get((monday, session.key))
            items = work(session)
            done = [len(_told(by_line.get((monday, session.key, i.item_key), ()))) for i in items]
            outcome: Outcome = "not told" if not any(done) else "did" if all(done) else "part"
            yield SessionReview(
                monday=monday,
                session=session,
                outcome=outcome if said is None else said.outcome,
                why="" if said is None else said.why,
                words="" if said is None else said.words,
                rating=None if said is None else said.rating,
                minutes=None if said is None else said.minutes,
                sets=sum(map(sets_asked, items)),
                told=sum(min(n, sets_asked(i)) for n, i in zip(done, items, strict=True)),
            )


def _lines(weeks: Sequence[SentCopy], by_line: _Sets, library: Library) -> tuple[LineReview, ...]:
    found: dict[tuple[str, str, str], tuple[str, list[LineWeek]]] = {}
    for copy in weeks:
        for session in copy.week.sessions:
            for item in work(session):
                sets = by_line.get((copy.week.monday, session.key, item.item_key), ())
                key = (base_key(session.key), item.item_key, item.written)
                line = found.setdefault(key, (session.name, []))[1]
                line.append(_line_week(copy.week.programme_week, item, sets, library))
    return tuple(
        LineReview((session, item), name, written, tuple(made))
        for (session, item, written), (name, made) in found.items()
    )


def _line_week(week: int, item: FittedItem, sets: Sequence[LoggedSet], library: Library) -> LineWeek:
    asked = asked_words(item, library.variants.get(item.variant_id))
    failed = {s.number for s in sets if s.outcome == "failed"}
    stopped = {s.number for s in sets if s.stopped == "pain"}
    reserves = tuple(s.reserve.low for s in sets if s.reserve is not None)
    return LineWeek(week, item, asked, len(_told(sets)), len(failed), len(stopped), reserves)


def _changes(
    weeks: Sequence[SentCopy],
    sets: Sequence[LoggedSet],
    library: Library,
    before: Capacity | None,
    after: Capacity | None,
) -> tuple[Change, ...]:
    """The groups that the cycle dosed, in the order of the house."""
    asked = {i.variant_id for c in weeks for s in c.week.sessions for i in work(s)}
    dosed = {group for v in asked if (group := _group(v, library)) is not None}
    if before is None or after is None:
        return ()
    counted = [
        _group(s.variant_id, library)
        for s in sets
        if s.outcome in ("counted", "failed", "tapped") and s.stopped != "pain"
    ]
    made = (change_of(before, after, g, counted.count(g)) for g in GROUPS if g in dosed)
    return tuple(c for c in made if c is not None)


def _group(variant_id: str, library: Library) -> Group | None:
    variant = library.variants.get(variant_id)
    return None if variant is None or variant.main is None else variant.main.group
