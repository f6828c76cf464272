"""The times a session may start, each with the rules that forbid it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ferrule.fit.problem import Slot
from ferrule.model.house import House
from ferrule.model.programme import Session
from ferrule.model.squad import Run, Runner

HOUR: Final = 60
DAY: Final = 24 * HOUR
TIMES: Final = (7 * HOUR, 18 * HOUR)
"""Morning and evening: a session starts at one of the two (common practice, no source)."""
EARLIEST: Final = 7 * HOUR
"""A key run without a stated time is taken to start this early, so that the hours before it are not overstated."""
RUN_MIN: Final = {"easy": 60, "key": 75, "long": 120, "race": 180}
"""Minutes a run is taken to last (common practice, no source)."""
RACE_START: Final = 9 * HOUR
EARLIEST_JOINED, LATEST_END, BESIDE_MIN = 5 * HOUR, 22 * HOUR, 2 * HOUR
"""A session joined to a run starts and ends within these, and is beside it within two hours (ours)."""
FAR_H: Final = 72.0
NOT_TOGETHER: Final = 60
NOT_SPREAD: Final = 20
"""Price of heavy leg work on a day without a key or long run where hard days go together, and on one with, where they are
spread: more than a good spread of the week is worth, less than the coach's own day (ours)."""

DAYS_RULE: Final = "possible days"
KEY_RULE: Final = "hours to the next key run"
RACE_RULE: Final = "hours to a race"
RUN_RULE: Final = "hours between leg work and a run on the same day"
RECOVERY_RULE: Final = "hours after a race"
GAP_RULE: Final = "hours between sessions"
REST_RULE: Final = "a day with neither run nor session"


@dataclass(frozen=True, slots=True)
class RunTime:
    """A run of this or the next week, or a race of the last two. at_min: minutes from this Monday 00:00; None when its time of day is not told."""

    day: int
    kind: str
    at_min: int | None

    @property
    def earliest_min(self) -> int:
        return self.day * DAY + EARLIEST if self.at_min is None else self.at_min


def run_times(runner: Runner, monday: date) -> tuple[RunTime, ...]:
    """The usual runs of this week and the next, races within them, and races of the two weeks before (days below 0): a
    runner is still tired from last Sunday's. A race replaces the run of its day."""
    races = {(d - monday).days for d in _races(runner)}
    out = [RunTime(d, "race", d * DAY + RACE_START) for d in sorted(races) if -14 <= d < 14]
    for week in (0, 7):
        out += [_time(run, week) for run in runner.runs if run.day + week not in races]
    return tuple(sorted(out, key=lambda r: r.earliest_min))


def _races(runner: Runner) -> set[date]:
    anchor = runner.anchor
    return set(runner.races) | ({anchor.day} if anchor is not None and anchor.kind == "to race" else set())


def _time(run: Run, week: int) -> RunTime:
    day = run.day + week
    at = None if run.start is None else day * DAY + run.start.hour * HOUR + run.start.minute
    return RunTime(day, run.kind, at)


def hours_to_key(end_min: int, runs: tuple[RunTime, ...]) -> float | None:
    """Hours from the end of a session to the next key run, long run or race; None when none is known within two weeks.

    A run without a stated time that lies on the session's own day counts as at once (0 h): nobody knows which is first.
    """
    best: float | None = None
    for run in runs:
        if run.kind == "easy":
            continue
        if run.at_min is None and run.day == end_min // DAY:
            return 0.0
        if run.earliest_min >= end_min:
            hours = (run.earliest_min - end_min) / HOUR
            best = hours if best is None else min(best, hours)
    return best


def slots_of(
    runner: Runner, monday: date, minutes: float, heavy: bool, ideal_day: float, session: Session, house: House,
    last: tuple[int, int] | None, every_day: bool = False,
) -> tuple[Slot, ...]:  # fmt: skip
    """Fourteen slots, Monday morning to Sunday evening; for a session joined to a run also the times right beside the
    runs whose time is told, to the quarter of an hour.

    minutes    planned length of the session;  heavy: it works the legs outside the warm-up
    ideal_day  where an even spread would put it (Monday 0)
    session    the coach's own day, part of the day, and whether it is joined to a run (then the hours to that run are
               the coach's)
    last       (day, minutes of the day) of the same session last week
    every_day  written for nearly every day: the runner's possible days are not asked, and it goes before or after a run
    """
    runs = run_times(runner, monday)
    join = None if runner.anchor is None else runner.anchor
    slots = []
    for day in range(7):
        for at in (*TIMES, *_joined(session, day, round(minutes), runs)):
            start = day * DAY + at
            end = start + round(minutes)
            blocked = []
            if day not in runner.days and not every_day:
                blocked.append(DAYS_RULE)
            if join is not None and join.kind == "from" and monday + timedelta(days=day) < join.day:
                blocked.append(DAYS_RULE)
            to_key = hours_to_key(end, runs)
            near = _too_near(start, end, runs, heavy, house, joined=session.beside_run is not None)
            blocked += [r for r in near if r != RUN_RULE] if every_day else near
            cost = _cost(day, at, to_key, heavy, runs, ideal_day) + _against(session, day, at, runs)
            if heavy:
                cost += hard_day_cost(day, runs, house.value("hard-days-together") > 0)
            same = 0 if last is None or last == (day, at) else 1 if last[0] == day else 2
            slots.append(Slot(day, start, cost, same, tuple(dict.fromkeys(blocked))))
    return tuple(slots)


def _joined(session: Session, day: int, minutes: int, runs: tuple[RunTime, ...]) -> tuple[int, ...]:
    """Minutes of the day at which a session joined to a run stands right after or before one, both where either will do."""
    out: set[int] = set()
    for run in runs:
        if session.beside_run is not None and run.day == day and run.at_min is not None and run.kind != "race":
            if session.beside_run != "before":
                out.add(-(-(run.at_min + RUN_MIN[run.kind]) // 15) * 15 - day * DAY)
            if session.beside_run != "after":
                out.add((run.at_min - minutes) // 15 * 15 - day * DAY)
    return tuple(sorted(at for at in out - set(TIMES) if at >= EARLIEST_JOINED and at + minutes <= LATEST_END))


def _too_near(
    start: int, end: int, runs: tuple[RunTime, ...], heavy: bool, house: House, joined: bool = False
) -> list[str]:
    """Names of the rules a time breaks. joined: the hours to a run of that day are the coach's, but not at once with it."""
    blocked = []
    recovery_h = house.value("race-recovery-h")
    key_h, race_h, run_h = (house.value(k) for k in ("key-run-gap-h", "race-gap-h", "same-day-run-gap-h"))
    for run in runs:
        hours = (run.earliest_min - end) / HOUR
        same_day = run.day == start // DAY
        after = run.at_min is not None and start >= run.at_min + RUN_MIN[run.kind]
        before = hours >= 0 and not (same_day and run.at_min is None)
        if run.kind == "race" and (same_day or (before and hours < (race_h if heavy else 24))):
            blocked.append(RACE_RULE)
        elif run.kind == "race" and heavy and run.day * DAY < start and _hours_since(run, start) < recovery_h:
            blocked.append(RECOVERY_RULE)
        elif heavy and run.kind in ("key", "long") and ((same_day and not after) or (before and hours < key_h)):
            blocked.append(KEY_RULE)
        elif same_day and run.at_min is not None:
            gap = run.at_min - end if before else start - (run.at_min + RUN_MIN[run.kind])
            if gap < (run_h * HOUR if heavy and not joined else 0):
                blocked.append(RUN_RULE)
    return blocked


def _hours_since(run: RunTime, start: int) -> float:
    """From the end of a run to the start of a session, hours."""
    return (start - run.earliest_min - RUN_MIN[run.kind]) / HOUR


def _cost(day: int, at: int, to_key: float | None, heavy: bool, runs: tuple[RunTime, ...], ideal: float) -> int:
    """Price of a time: hours before the next key run, then an even spread, then evenings."""
    price = 0
    hours = FAR_H if to_key is None else min(to_key, 48.0)
    price += round((48.0 - min(hours, 48.0)) * (1.0 if heavy else 0.3))
    price += 6 * sum(r.day == day for r in runs)
    price += round(8 * abs(day - ideal))
    return price + (0 if at == TIMES[1] else 2)


def hard_day_cost(day: int, runs: tuple[RunTime, ...], together: bool) -> int:
    """Price of a day for heavy leg work by the house's choice: hard days together, or spread over the week."""
    hard = any(r.day == day and r.kind in ("key", "long") for r in runs)
    return NOT_TOGETHER if together and not hard else NOT_SPREAD if hard and not together else 0


def _against(session: Session, day: int, at: int, runs: tuple[RunTime, ...]) -> int:
    """Price of a time that is not the coach's own: 200 another day, 100 another part of the day, 150 away from the run,
    60 on its day but not right beside it."""
    price = 0 if session.day is None or session.day == day + 1 else 200
    if session.part_of_day is not None and (session.part_of_day == "morning") != (at == TIMES[0]):
        price += 100
    if session.beside_run is None:
        return price
    return price + (150 if all(r.day != day for r in runs) else 0 if at not in TIMES else _away(session, day, at, runs))


def _away(session: Session, day: int, at: int, runs: tuple[RunTime, ...]) -> int:
    """60 where the day's run has a time and the session is on the wrong side of it, or hours away; 0 where none is told."""
    told = [r for r in runs if r.day == day and r.at_min is not None]
    start = day * DAY + at
    for run in told:
        assert run.at_min is not None  # told
        after = run.at_min + RUN_MIN[run.kind] <= start
        if (after and session.beside_run != "before") or (not after and session.beside_run != "after"):
            apart = start - run.at_min - RUN_MIN[run.kind] if after else run.at_min - start
            if apart <= BESIDE_MIN:
                return 0
    return 60 if told else 0
