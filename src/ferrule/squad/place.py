"""Where a runner stands in the programme in one calendar week. Weeks begin on Monday; no time of day is involved."""

from __future__ import annotations

from datetime import date, timedelta

from ferrule.model.squad import Runner


def monday_of(day: date) -> date:
    """The Monday of the calendar week that `day` lies in."""
    return day - timedelta(days=day.weekday())


def first_monday(runner: Runner, programme_weeks: int) -> date | None:
    """The Monday of programme week 1 for this runner, whether or not they take part yet; None without an anchor."""
    if runner.anchor is None or programme_weeks < 1:
        return None
    monday = monday_of(runner.anchor.day)
    return monday if runner.anchor.kind == "from" else monday - timedelta(weeks=programme_weeks - 1)


def programme_week(runner: Runner, programme_weeks: int, monday: date) -> int | None:
    """The programme week (from 1) this runner is in during the calendar week of `monday`; None when in none.

    `from DAY`: week 1 is the week of DAY. `to race DAY`: the last week is the week of DAY. A runner with `starts`
    comes in on the first Monday on or after that day, at the week the anchor says; weeks before it are None.
    """
    first = first_monday(runner, programme_weeks)
    if first is None:
        return None
    week = (monday_of(monday) - first).days // 7 + 1
    joined = runner.starts is None or monday_of(monday) >= runner.starts
    return week if joined and 1 <= week <= programme_weeks else None


def away_words(runner: Runner, programme_weeks: int, monday: date) -> str:
    """Why there is no programme week for this runner then, in words; empty when there is one."""
    first = first_monday(runner, programme_weeks)
    if first is None:
        return "no anchor: nothing says when the programme begins"
    if programme_week(runner, programme_weeks, monday) is not None:
        return ""
    last = first + timedelta(weeks=programme_weeks - 1)
    if monday_of(monday) > last:
        return f"the programme ended with the week of {last}"
    begins = first if runner.starts is None else max(first, _monday_from(runner.starts))
    if begins > last:
        return f"joins on {runner.starts}, after the programme ended with the week of {last}"
    return f"begins in the week of {begins}"


def _monday_from(day: date) -> date:
    return monday_of(day + timedelta(days=6))
