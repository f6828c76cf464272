"""Missed sessions, silence, time away: what was not done is dropped or done again, never owed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from ferrule.fit.given import base_key
from ferrule.model.entry import TimeAway
from ferrule.model.fact import Entry
from ferrule.model.house import House
from ferrule.model.programme import Programme, ProgrammeWeek
from ferrule.model.quantity import number
from ferrule.model.squad import Absence, Runner
from ferrule.next.came import Came
from ferrule.next.ruling import Key, Ruling
from ferrule.programme.weeks import week_of
from ferrule.record.standing import sessions_of, sets_of, standing_of, weeks_of
from ferrule.squad.place import monday_of, programme_week

WEEK = timedelta(days=7)


def missed_weeks(programme: Programme, runner: Runner, entries: Iterable[Entry], monday: date) -> tuple[date, ...]:
    """Mondays before `monday` of weeks of which nothing was done, in order; told, not guessed from silence.

    Nothing was done when the weekly question says so, or when every written session of the week was told as not done.
    """
    own = standing_of(entries, runner.id)
    told, weeks = sessions_of(own, runner.id), weeks_of(own, runner.id)
    none = {w.monday for w in weeks if w.did == "none"}
    done = {monday_of(s.day) for s in told if s.outcome != "none"}
    done |= {monday_of(s.day) for s in sets_of(own, runner.id) if s.outcome != "not said"}
    out: list[date] = []
    for day in sorted(none | {monday_of(s.day) for s in told}):
        if day >= monday or day in done:
            continue
        number = programme_week(waiting(runner, out), programme.weeks, day)
        week = None if number is None else week_of(programme, number)
        written = set() if week is None else {s.key for s in week.sessions}
        missed = {base_key(s.session_key) for s in told if monday_of(s.day) == day}
        if week is not None and (day in none or written <= missed):
            out.append(day)
    return tuple(out)


def waiting(runner: Runner, missed: Sequence[date]) -> Runner:
    """The runner whose programme has waited for the weeks that were missed: each is done again, from where it was.

    Towards a race nothing waits: the week is dropped.
    """
    if runner.anchor is None or runner.anchor.kind == "to race":
        return runner
    held = tuple(Absence(day, day + timedelta(days=6)) for day in missed if not _away_all(runner, day))
    return runner if not held else _with(runner, held)


def _with(runner: Runner, held: tuple[Absence, ...]) -> Runner:
    return replace(runner, away=tuple(sorted((*runner.away, *held), key=lambda a: (a.first, a.last))))


def _away_all(runner: Runner, monday: date) -> bool:
    """Is the whole week away already?"""
    days = [monday + timedelta(days=n) for n in range(7)]
    return all(any(a.kit is None and a.first <= d <= a.last for a in runner.away) for d in days)


def of_missed(
    week: ProgrammeWeek, came: Came | None, missed: Sequence[date], runner: Runner, house: House, monday: date
) -> list[Ruling]:
    """Rulings for sessions and weeks that were not done.

    A session missed is dropped: its lines go on from what was sent, no higher. A week missed is done again, or dropped on
    the way to a race. Weeks missed one after another ease the first week back.
    """
    out: list[Ruling] = []
    run = 0
    while monday - (run + 1) * WEEK in missed:
        run += 1
    if run:
        race = runner.anchor is not None and runner.anchor.kind == "to race"
        many = "last week was" if run == 1 else f"the last {run} weeks were"
        what = (
            "dropped, for the race does not wait"
            if race
            else "done again"
            if run == 1
            else "taken up where it was left"
        )
        drop = min(50.0, (run - 1) * house.value("missed-drop-percent"))
        less = f", with {number(drop)} % fewer sets" if drop else ""
        out.append(
            Ruling(
                "missed week", f"{many} missed: {what}{less}; nothing is owed", "back off" if drop else "hold",
                most=1.0, keep=race, sets=1 - drop / 100 if drop else None,
            )
        )  # fmt: skip
    elif came is not None:
        for key, outcome in sorted(came.outcomes.items()):
            lines = frozenset((s.key, i.key) for s in week.sessions if s.key == key for b in s.blocks for i in b.items)
            if lines and outcome in ("none", "part"):
                said = "was not done" if outcome == "none" else "was done in part"
                reason = f"session {key} {said} last week: no more than was sent, nothing is owed"
                out.append(Ruling("missed session", reason, "hold", lines, most=1.0, keep=True))
    return out


def of_silence(came: Came | None) -> list[Ruling]:
    """Rulings for the three silences, and for a runner who has told nothing yet."""
    if came is None:
        return []
    if came.silence == "gone":
        return [
            Ruling(
                "gone", f"nothing told since {day_words(came.last_word)}: no more than was sent, until they say a word", "ask",
                most=1.0, keep=True,
            )
        ]  # fmt: skip
    if came.silence in ("never told", "did and did not say"):
        said = "nothing was ever told" if came.silence == "never told" else "no sets told last week"
        out = [Ruling("no logs", f"{said}: the text stands, one step above last week at most", "as written", step=True)]
        if came.week is not None and came.week.felt == "too hard":
            out.append(
                Ruling("week told", "the week was too hard: no more than last week", "hold", most=1.0, keep=True)
            )
        return out
    return []


def of_week_told(came: Came | None) -> list[Ruling]:
    """Pain told in the weekly question without a place: nothing rises until it is known where."""
    if came is None or came.week is None or not came.week.pain:
        return []
    return [Ruling("pain told", "pain in the week, not said where: nothing rises, and ask", "ask", most=1.0, keep=True)]


def of_return(aways: Iterable[TimeAway], house: House, monday: date, lines: frozenset[Key]) -> list[Ruling]:
    """Rulings for the weeks after illness, injury or any time away that the coach set a ramp for."""
    out: list[Ruling] = []
    for away in sorted(aways, key=lambda a: (a.first, a.last, a.kind)):
        back = monday_of(away.last + timedelta(days=1))
        n = (monday - back).days // 7
        if n < 0 or away.last >= monday + timedelta(days=6) or away.kit is not None:
            continue
        until = f"{away.kind} until {day_words(away.last)}"
        if n < len(away.ramp):
            share = away.ramp[n]
            if share < 1:
                by = f", set by {away.by}" if away.by else ""
                reason = f"{until}: week {n + 1} back at {number(100 * share)} % of the sets{by}"
                out.append(Ruling("return", reason, "back off", lines, most=1.0, sets=share))
        elif not away.ramp and n == 0 and away.kind in ("illness", "injury"):
            share = house.value("return-percent") / 100
            reason = f"{until}: first week back at {number(100 * share)} % of the sets; no ramp is set, ask"
            out.append(Ruling("return", reason, "ask", lines, most=1.0, sets=share))
        elif not away.ramp and n == 0 and (away.last - away.first).days >= 6:
            out.append(Ruling("return", f"{until}: from what was sent before, no higher", "hold", lines, most=1.0))
    return out


def day_words(day: date | None) -> str:
    """`12 January`."""
    return "" if day is None else f"{day.day} {day:%B}"
