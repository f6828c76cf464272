"""What is counted from points, against published figures and closed forms."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import pytest

from ferrule.notice.track import Point, Track, ascent, climb, metres, metres_between, minutes, outings, smoothed

START = datetime(2026, 1, 19, 7, 0, tzinfo=UTC)


def line(n: int, *, ele: float | None = 100.0, start: datetime | None = START) -> Track:
    return Track(
        (tuple(Point(46 + i / 10_000, 14, ele, start and start + timedelta(seconds=4 * i)) for i in range(n)),)
    )


def test_a_degree_of_a_great_circle_is_a_360th_of_its_length() -> None:
    """Closed form: 2 pi R / 360."""
    degree = 2 * math.pi * 6_371_000 / 360
    assert metres_between(Point(0, 0), Point(1, 0)) == pytest.approx(degree)
    assert metres_between(Point(0, 179.5), Point(0, -179.5)) == pytest.approx(degree)
    assert metres_between(Point(90, 0), Point(-90, 0)) == pytest.approx(180 * degree)
    assert metres_between(Point(46, 14), Point(46, 14)) == 0


def test_smoothing_keeps_the_ends_and_a_steady_slope() -> None:
    slope = [0.0, 1.0, 2.0, 3.0]
    assert smoothed(slope) == pytest.approx(slope)
    assert smoothed([0.0, 10.0, 0.0]) == pytest.approx([0.0, 4.0, 0.0])
    assert smoothed([]) == []
    assert smoothed([5.0]) == [5.0]
    assert ascent([0, 3, 1, 2]) == 4


def test_nothing_is_counted_across_a_break() -> None:
    first, second = line(5).segments[0], tuple(Point(p.lat + 1, p.lon, 900.0, p.time) for p in line(5).segments[0])
    parted = Track((first, second))
    assert metres(parted) == pytest.approx(2 * metres(line(5)))
    assert climb(parted) == 0


def test_climb_needs_nine_tenths_of_the_heights() -> None:
    points = line(10).segments[0]
    nine = (Point(points[0].lat, 14, None, START), *points[1:])
    eight = (*(Point(p.lat, 14, None, START) for p in points[:2]), *points[2:])
    assert climb(Track((nine,))) == 0
    assert climb(Track((eight,))) is None
    assert climb(Track(())) is None


def test_minutes_need_both_ends_and_time_that_goes_by() -> None:
    assert minutes(line(16)) == 1
    assert minutes(line(1)) is None
    assert minutes(line(16, start=None)) is None


def test_tracks_far_apart_are_two_runs() -> None:
    later = line(5, start=START + timedelta(hours=4))
    soon = line(5, start=START + timedelta(hours=1))
    assert [len(r) for r in outings([line(5), soon, later])] == [2, 1]
    assert [len(r) for r in outings([line(5), Track(()), line(1), line(5, start=None)])] == [2]
    assert outings([]) == []
