"""Where a runner stands in the programme in one calendar week. Weeks begin on Monday; no time of day is involved."""

from __future__ import annotations

from datetime import date, timedelta

from ferrule.model.squad import Runner

_WEEK = timedelta(weeks=1)


def monday_of(day: date) -> date:
    """The Monday of the calendar week that `day` lies in."""
    return day - timedelta(days=day.weekday())


def first_monday(runner: Runner, programme_weeks: int) -> date | None:
    """The Monday of programme week 1 for this runner, whether or not they take part yet; None without an anchor."""
    if runner.anchor is None or programme_weeks < 1:
        return None
    monday = monday_of(runner.anchor.day)
    return monday if runner.anchor.kind == "from" else monday - timedelta(weeks=programme_weeks - 1)


def last_monday(runner: Runner, programme_weeks: int) -> date | None:
    """The Monday of the last programme week: with a `from`, later by each week away; None without an anchor."""
    first = first_monday(runner, programme_weeks)
    if first is None:
        return None
    last = first + timedelta(weeks=programme_weeks - 1)
    for away in _waited(runner, first):
        last += _WEEK if away <= last else timedelta()
    return last


def programme_week(runner: Runner, programme_weeks: int, monday: date) -> int | None:
    """The programme week (from 1) this runner is in during the calendar week of `monday`; None when in none.

    `from DAY`: week 1 is the week of DAY. `to race DAY`: the last week is the week of DAY. A runner with `starts`
    comes in on the first Monday on or after that day, at the week the anchor says; weeks before it are None.
    A week away (`week_away`) is None: with a `from` the programme waits for it, towards a race it is passed over.
    """
    first = first_monday(runner, programme_weeks)
    if first is None:
        return None
    monday = monday_of(monday)
    if week_away(runner, monday):
        return None
    week = (monday - first).days // 7 + 1 - sum(away < monday for away in _waited(runner, first))
    joined = runner.starts is None or monday >= runner.starts
    return week if joined and 1 <= week <= programme_weeks else None


def away_words(runner: Runner, programme_weeks: int, monday: date) -> str:
    """Why there is no programme week for this runner then, in words; empty when there is one."""
    first, last = first_monday(runner, programme_weeks), last_monday(runner, programme_weeks)
    if first is None or last is None:
        return "no anchor: nothing says when the programme begins"
    if programme_week(runner, programme_weeks, monday) is not None:
        return ""
    if monday_of(monday) > last:
        return f"the programme ended with the week of {last}"
    begins = first if runner.starts is None else max(first, _monday_from(runner.starts))
    if begins > last:
        return f"joins on {runner.starts}, after the programme ended with the week of {last}"
    if monday_of(monday) >= begins and week_away(runner, monday):
        lost = [a.last for a in runner.away if a.kit is None and a.first <= monday_of(monday) + timedelta(days=6)]
        return f"away until {max(lost)}"
    return f"begins in the week of {begins}"


def lost_days(runner: Runner, monday: date) -> frozenset[int]:
    """The weekdays (Monday 0) of that week on which nothing is trained because the runner is away."""
    monday = monday_of(monday)
    return frozenset(
        day
        for day in range(7)
        if any(a.kit is None and a.first <= monday + timedelta(days=day) <= a.last for a in runner.away)
    )


def week_away(runner: Runner, monday: date) -> bool:
    """True when no day that is possible for strength (any day when none is named) is left in that week."""
    return bool(runner.away) and set(runner.days or range(7)) <= lost_days(runner, monday)


def _waited(runner: Runner, first: date) -> tuple[date, ...]:
    """Mondays of the weeks away for which a `from` programme waits, in order: none before it begins or they join."""
    if runner.anchor is None or runner.anchor.kind != "from":
        return ()
    begins = first if runner.starts is None else max(first, _monday_from(runner.starts))
    mondays = {
        monday_of(a.first) + timedelta(weeks=n)
        for a in runner.away
        if a.kit is None
        for n in range((monday_of(a.last) - monday_of(a.first)).days // 7 + 1)
    }
    return tuple(sorted(m for m in mondays if m >= begins and week_away(runner, m)))


def _monday_from(day: date) -> date:
    return monday_of(day + timedelta(days=6))
