"""Runs of one runner at one time are one run: a file that was cut off and the whole one, or what two devices recorded."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from ferrule.model.fact import Entry, RunTold

SAME_SHARE = 0.5
"""Two runs are one when they have more than so much of the shorter one's time in common (ours): times are often rounded, and
a warm-up may end in the minute in which the race begins."""

MOST_MIN = 7 * 24 * 60
"""Minutes beyond a week are a slip: such a run is one with no other."""


def one_run(left: RunTold, right: RunTold) -> bool:
    """Do two runs overlap by more than `SAME_SHARE` of the shorter one? Never when the start or the minutes of one are not known."""
    one, other = _span(left), _span(right)
    if one is None or other is None:
        return False
    (a, b), (c, d) = one, other
    return (min(b, d) - max(a, c)) > SAME_SHARE * min(b - a, d - c)


def longest_each(entries: Iterable[Entry], weight: Callable[[Entry], Any]) -> tuple[Entry, ...]:
    """Each run that stands: the longest of those that are one. weight: decides between equals."""
    told = [(e, e.fact) for e in entries if isinstance(e.fact, RunTold)]
    if len(told) > 1:
        told.sort(key=lambda p: (p[1].distance_km, weight(p[0])), reverse=True)
    kept: list[tuple[Entry, RunTold, list[RunTold]]] = []
    by_day: dict[tuple[str, date], list[tuple[RunTold, list[RunTold]]]] = defaultdict(list)
    for entry, run in told:
        days = [(entry.runner_id, day) for day in days_of(run)]
        longer = next((others for key in days for k, others in by_day[key] if one_run(k, run)), None)
        if longer is not None:
            longer.append(run)
            continue
        shorter: list[RunTold] = []
        kept.append((entry, run, shorter))
        for key in days:
            by_day[key].append((run, shorter))
    return tuple(_with_words(entry, run, others) for entry, run, others in kept)


def days_of(run: RunTold) -> tuple[date, ...]:
    """The days a run touches; none when its start or its minutes are not known."""
    span = _span(run)
    if span is None:
        return ()
    return tuple(run.day + timedelta(days=n) for n in range((span[1].date() - run.day).days + 1))


def _with_words(entry: Entry, run: RunTold, others: Iterable[RunTold]) -> Entry:
    """The longest with the kind and the rating that only the others tell."""
    for other in others:
        rating = other.rating if run.rating is None else run.rating
        run = replace(run, kind=run.kind or other.kind, rating=rating)
    return entry if run == entry.fact else replace(entry, fact=run)


def _span(run: RunTold) -> tuple[datetime, datetime] | None:
    if run.at is None or not run.minutes or not 0 < run.minutes <= MOST_MIN:
        return None
    start = datetime.combine(run.day, run.at.replace(tzinfo=None))
    try:
        return start, start + timedelta(minutes=run.minutes)
    except OverflowError:
        return None
