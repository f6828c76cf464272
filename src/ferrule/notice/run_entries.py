"""Runs in files -> entries whose ids are made of what they say, so that the same file twice is kept once."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, tzinfo
from itertools import pairwise
from uuid import UUID, uuid5

from ferrule.model.fact import Entry, RunTold, Source
from ferrule.model.finding import Finding, Span
from ferrule.notice.gpx import read_gpx
from ferrule.notice.track import Track, climb, metres, metres_between, minutes, outings

SPACE = UUID("6a0a2b52-5d0c-5d3f-9a37-0f7a3f0e6c11")
"""The name space of runs read from files; any fixed value does."""
FASTEST_M_S = 12.5
"""Nobody runs faster over two points (the fastest stretch of a sprint, from memory): a lost signal, or a ride."""

LEAST_KM = 0.1
"""A shorter track is a recorder started by mistake (ours)."""


def run_entry(runner_id: str, told: RunTold, source: Source, name: str) -> Entry:
    """`told` in its envelope. name: what makes it the same run when it comes again. Recorded at noon UTC of its day."""
    made = uuid5(SPACE, f"{runner_id}\n{name}")
    return Entry(str(made), runner_id, datetime.combine(told.day, time(12), UTC), source, told)


def read_runs(
    data: bytes, file: str, runner_id: str, zone: tzinfo = UTC, on: date | None = None
) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """The runs of a GPX file. zone: where the runner's days begin and end; on: the day of a track without times."""
    tracks, findings = read_gpx(data, file)
    noticed = list(findings)
    entries = []
    runs = outings(tracks)
    if not runs and not any(f.level == "error" for f in noticed):
        noticed.append(_none(file))
    for run in runs:
        made = _entry(run, runner_id, zone, on)
        if made is None:
            noticed.append(_no_day(file, run[0].line))
            continue
        if isinstance(made.fact, RunTold) and made.fact.distance_km < LEAST_KM:
            noticed.append(_short(made.fact, file, run[0].line))
            continue
        entries.append(made)
        noticed += _fast(run, file)
    return tuple(entries), tuple(noticed)


def _entry(run: Sequence[Track], runner_id: str, zone: tzinfo, on: date | None) -> Entry | None:
    """One run; None when no day is known for it."""
    times = [t for track in run for t in track.times]
    local = times[0].astimezone(zone) if times else None
    day = local.date() if local else on
    if day is None:
        return None
    climbs = [climb(track) for track in run]
    taken = [minutes(track) for track in run]
    told = RunTold(
        day,
        round(sum(map(metres, run)) / 1000, 4),
        _sum(taken, 3),
        _sum(climbs, 1),
        local.time().replace(microsecond=0, tzinfo=None) if local else None,
    )
    points = "\n".join(f"{p.lat} {p.lon} {p.ele} {p.time}" for track in run for p in track.points)
    name = hashlib.sha256(points.encode()).hexdigest() + ("" if times else f" {day}")
    return run_entry(runner_id, told, "device", name)


def _sum(parts: Sequence[float | None], places: int) -> float | None:
    """The sum; None when any part is not known."""
    known = [p for p in parts if p is not None]
    return round(sum(known), places) if known and len(known) == len(parts) else None


def _fast(run: Sequence[Track], file: str) -> list[Finding]:
    legs = []
    for track in run:
        for segment in track.segments:
            for a, b in pairwise(segment):
                if a.time and b.time and (gone := (b.time - a.time).total_seconds()) > 0:
                    far = metres_between(a, b)
                    legs += [far] if far / gone > FASTEST_M_S else []
    if not legs:
        return []
    what = f"{len(legs)} legs are faster than {FASTEST_M_S} m/s, {sum(legs):.0f} m together; they are counted"
    why = "Nobody runs that fast: the signal was lost, or part of it was a ride."
    return [
        Finding("run-fast-leg", "advice", what, why, "Tell the run by hand if it is wrong.", Span(file, run[0].line))
    ]


def _none(file: str) -> Finding:
    why = "Routes and single marks are plans and places; a run is a track of at least two points."
    return Finding(
        "gpx-no-track", "advice", "there is no track in this file", why, "Export the run itself.", Span(file, 1)
    )


def _short(told: RunTold, file: str, line: int) -> Finding:
    what = f"the track is {told.distance_km * 1000:.0f} m long; it was not kept"
    why = f"Under {LEAST_KM * 1000:.0f} m it is likely a recorder started by mistake."
    return Finding("run-too-short", "advice", what, why, "Tell the run by hand if it was one.", Span(file, line))


def _no_day(file: str, line: int) -> Finding:
    what = "the track has no time that can be true, so its day is not known; it was not kept"
    fix = "Give its day with `--on DATE`."
    return Finding("run-no-day", "error", what, "A run belongs to a day.", fix, Span(file, line))
