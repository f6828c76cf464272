"""A small squad with sent weeks and a season of what it told, for tests and the bench of the list. All of it is invented."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from uuid import NAMESPACE_OID, uuid5

from ferrule.model.entry import LoggedSet, Reserve
from ferrule.model.fact import Entry, Fact, PainTold, SessionTold, Source
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.quantity import Range
from ferrule.model.squad import Runner, Squad
from ferrule.record.standing import day_of

MONDAY = date(2026, 1, 19)


def runner(runner_id: str, *, birth_year: int | None = 1990) -> Runner:
    """A runner with nothing but a name and a year of birth."""
    return Runner(
        runner_id, f"Runner {runner_id}", "some", (), (0, 2, 4), (), None, Span("squad.csv", 2), birth_year=birth_year
    )


def squad(*runners: Runner) -> Squad:
    """A squad of these."""
    return Squad("squad.csv", runners)


def entry(runner_id: str, fact: Fact, *, number: int = 0, source: Source = "page", replaces: str = "") -> Entry:
    """A fact in an envelope whose id is made of what it says."""
    made = uuid5(NAMESPACE_OID, f"{runner_id} {number} {fact!r}")
    at = datetime.combine(max(day_of(fact), MONDAY), time(19, 30), UTC)
    if isinstance(fact, LoggedSet):
        fact = replace(fact, entry_id=str(made), recorded_at=at)
    return Entry(str(made), runner_id, at, source, fact, replaces)


def item(key: str = "i1", *, rir: float = 2) -> FittedItem:
    """Three sets of eight with a reserve."""
    return FittedItem(
        item_key=key, written="Step-up", variant_id="step-up", name="Step-up", sets=3, reps=Range(8, 8), hold_s=None,
        distance_m=None, contacts=None, per_side=True, alternating=False, rir=Range.of(rir), load=None, tempo=None,
        pause_s=None, rest_s=None, side_rest_s=None, notes=(), optional=False,
    )  # fmt: skip


def week(runner_id: str, monday: date = MONDAY, *, days: tuple[int, ...] = (0, 2, 4), lines: int = 2) -> FittedWeek:
    """A sent week with a session of `lines` lines on each of `days`."""
    items = tuple(item(f"i{n}") for n in range(1, lines + 1))
    sessions = tuple(
        FittedSession(
            f"{runner_id}-{monday}-s{n}", f"s{n}", f"Session {n}", monday + timedelta(days=day), None, 30.0,
            (FittedBlock("straight", "A", 3, None, None, items),), (), (), None,
        )
        for n, day in enumerate(days, 1)
    )  # fmt: skip
    return FittedWeek(runner_id, f"Runner {runner_id}", "P", 1, "C", monday, sessions, (), finding_week=False)


def told_set(
    runner_id: str, day: date, *, session: str = "s1", line: str = "i1", number: int = 3, reserve: Reserve | None = None
) -> LoggedSet:
    """One set of eight as asked, with what was left."""
    return LoggedSet(
        "", runner_id, day, session, line, "step-up", number, "counted", asked=8, done=8, reserve=reserve,
        effort_asked=reserve is not None,
    )  # fmt: skip


def season(runners: int, weeks: int, *, lines: int = 7, sets: int = 3) -> tuple[Squad, list[FittedWeek], list[Entry]]:
    """A squad that logs every set of three sessions a week; every fifth tells of pain, every seventh fell silent."""
    people = squad(*(runner(f"R{n:02d}") for n in range(1, runners + 1)))
    copies = [week(r.id, MONDAY + timedelta(weeks=w), lines=lines) for w in range(weeks) for r in people.runners]
    told = [e for n, r in enumerate(people.runners) for w in range(weeks) for e in _week(r, n, w, weeks, lines, sets)]
    return people, copies, told


def _week(person: Runner, place: int, number: int, weeks: int, lines: int, sets: int) -> Iterator[Entry]:
    monday = MONDAY + timedelta(weeks=number)
    if place % 7 == 6 and number >= weeks - 2:
        return
    for s, weekday in enumerate((0, 2, 4), 1):
        day = monday + timedelta(days=weekday)
        for line in range(1, lines + 1):
            for n in range(1, sets + 1):
                reserve = Reserve(2, 2) if n == sets else None
                fact = told_set(person.id, day, session=f"s{s}", line=f"i{line}", number=n, reserve=reserve)
                yield entry(person.id, replace(fact, outcome="counted" if reserve else "tapped"))
        yield entry(person.id, SessionTold(day, f"s{s}", "did", rating=6, minutes=35))
    if place % 5 == 4:
        yield entry(person.id, PainTold(monday, "calf", "left", 2 + number % 3, morning=1))
