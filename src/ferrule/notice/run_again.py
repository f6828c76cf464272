"""Runs that are read beside those known already: one run told twice, and one file read in two time zones."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from ferrule.model.fact import Entry, RunTold
from ferrule.model.finding import Finding
from ferrule.notice.told import on
from ferrule.record.one_run import days_of, one_run
from ferrule.record.standing import runs_of


def read_again(entries: Sequence[Entry], known: Sequence[Entry]) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """The entries to hand to the record, and what is odd beside it.

    A file read before in another time zone is as it was kept. known: all entries of the runners
    """
    there = {e.entry_id: e for e in known}
    out, findings = [], []
    for entry in entries:
        before = there.get(entry.entry_id)
        if before is not None and _other_zone(before.fact, entry.fact):
            findings.append(_zone(before.fact, entry.fact))
            out.append(before)
        else:
            out.append(entry)
    new = [e for e in out if e.entry_id not in there]
    return tuple(out), (*findings, *_overlaps(new, known))


def _overlaps(new: Sequence[Entry], known: Sequence[Entry]) -> list[Finding]:
    """Each new run that is one with another, known or new; `standing` keeps the longer."""
    by_day: dict[tuple[str, date], list[RunTold]] = defaultdict(list)
    for runner_id in dict.fromkeys(e.runner_id for e in new):
        for told in runs_of(known, runner_id):
            for touched in days_of(told):
                by_day[runner_id, touched].append(told)
    findings = []
    for entry in new:
        run = entry.fact
        if not isinstance(run, RunTold):
            continue
        days = [(entry.runner_id, day) for day in days_of(run)]
        same = [r for day in days for r in by_day[day] if one_run(r, run)]
        if same:
            findings.append(_one(run, max(same, key=lambda r: r.distance_km)))
        for day in days:
            by_day[day].append(run)
    return findings


def _one(run: RunTold, other: RunTold) -> Finding:
    longer, shorter = sorted((run, other), key=lambda r: -r.distance_km)
    what = f"two runs of {on(longer.day)} overlap: {_words(longer)}, and {_words(shorter)}"
    why = f"They are one run: {longer.distance_km:.1f} km counts, as the longer; the other is kept and not counted."
    return Finding("run-overlap", "advice", what, why, "Nothing, when the longer one is the whole run.")


def _words(run: RunTold) -> str:
    at = "" if run.at is None else f" from {run.at:%H:%M}"
    return f"{run.distance_km:.1f} km{at}"


def _other_zone(before: object, now: object) -> bool:
    """The same run but for its day and hour."""
    if not isinstance(before, RunTold) or not isinstance(now, RunTold) or (before.day, before.at) == (now.day, now.at):
        return False
    return replace(before, day=now.day, at=now.at) == now


def _zone(before: object, now: object) -> Finding:
    assert isinstance(before, RunTold)
    assert isinstance(now, RunTold)
    what = f"this run was read before in another time zone: {_moment(before)} then, {_moment(now)} now"
    why = "An entry is never changed: the day and the hour of the first reading count."
    return Finding("run-other-zone", "advice", what, why, "Give the same `--zone` as before; the run is kept already.")


def _moment(run: RunTold) -> str:
    return on(run.day) + ("" if run.at is None else f" {run.at:%H:%M}")
