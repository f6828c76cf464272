"""Points of a track and what is counted from them: metres, minutes, climb. Every rule is stated in docs/notice.md."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

EARTH_M = 6_371_000.0
"""Mean radius of the earth, m."""
SMOOTHING = (0.3, 0.4, 0.3)
"""Weights of the height before, of a point and of the height after; the first and the last point stay. The published
rule of a GPX library (gpxpy 1.6.2), so that its figures can be held against ours."""
FIRST_TIME = datetime(1980, 1, 6, tzinfo=UTC)
"""Satellite time begins here: an earlier time stamp is junk."""
LEAST_HEIGHTS = 0.9
"""Share of points with a height below which no climb is told (ours)."""
PAUSE = timedelta(hours=2)
"""Tracks of one file further apart are two runs (ours)."""


@dataclass(frozen=True, slots=True)
class Point:
    """lat, lon in degrees; ele in m and time where they were written and can be true. A time without a zone is UTC."""

    lat: float
    lon: float
    ele: float | None = None
    time: datetime | None = None


Segment = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Track:
    """One track: segments of points recorded without a break. line: where it begins in its file."""

    segments: tuple[Segment, ...]
    line: int = 1

    @property
    def points(self) -> tuple[Point, ...]:
        """All points, in the order of the file."""
        return tuple(p for segment in self.segments for p in segment)

    @property
    def times(self) -> tuple[datetime, ...]:
        """All times, in the order of the file."""
        return tuple(p.time for p in self.points if p.time is not None)


def metres_between(a: Point, b: Point) -> float:
    """Great-circle distance, m: haversine on a sphere of `EARTH_M`; within 0.6 % of the ellipsoid. Heights do not count."""
    lat_a, lat_b = math.radians(a.lat), math.radians(b.lat)
    half = math.sin((lat_b - lat_a) / 2) ** 2
    half += math.cos(lat_a) * math.cos(lat_b) * math.sin(math.radians(b.lon - a.lon) / 2) ** 2
    return 2 * EARTH_M * math.asin(min(1.0, math.sqrt(half)))


def metres(track: Track) -> float:
    """Metres along the segments; nothing is counted from one segment to the next."""
    return sum(metres_between(a, b) for segment in track.segments for a, b in pairwise(segment))


def heights(segment: Segment) -> list[float]:
    """The heights that are known, in order."""
    return [p.ele for p in segment if p.ele is not None]


def smoothed(ele: Sequence[float]) -> list[float]:
    """Heights after `SMOOTHING`, once over."""
    before, here, after = SMOOTHING
    inner = [before * a + here * b + after * c for a, b, c in zip(ele, ele[1:], ele[2:], strict=False)]
    return [ele[0], *inner, ele[-1]] if len(ele) > 1 else list(ele)


def ascent(ele: Sequence[float]) -> float:
    """Sum of all rises, m."""
    return sum(max(0.0, b - a) for a, b in pairwise(ele))


def climb(track: Track) -> float | None:
    """Climb after smoothing, m; None when fewer than `LEAST_HEIGHTS` of the points have a height."""
    points = track.points
    if not points or sum(p.ele is not None for p in points) < LEAST_HEIGHTS * len(points):
        return None
    return sum(ascent(smoothed(heights(segment))) for segment in track.segments)


def minutes(track: Track) -> float | None:
    """From the first point to the last, stops included; None when either has no time, or no time went by."""
    points = track.points
    if not points or points[0].time is None or points[-1].time is None:
        return None
    taken = (points[-1].time - points[0].time).total_seconds() / 60
    return taken if taken > 0 else None


def outings(tracks: Sequence[Track]) -> list[tuple[Track, ...]]:
    """Tracks that are one run: those with points, in the order of the file, parted where `PAUSE` lies between."""
    out: list[list[Track]] = []
    for track in tracks:
        if len(track.points) < 2:
            continue
        last = out[-1][-1].times[-1:] if out else ()
        first = track.times[:1]
        apart = bool(last and first) and abs(first[0] - last[0]) > PAUSE
        if not out or apart:
            out.append([track])
        else:
            out[-1].append(track)
    return [tuple(run) for run in out]
