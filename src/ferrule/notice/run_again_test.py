"""A cut-off file and the whole one are one run; a file in another time zone is the run it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta
from itertools import permutations
from zoneinfo import ZoneInfo

import pytest

from ferrule.model.fact import Entry, RunTold
from ferrule.notice.run_again import read_again
from ferrule.notice.run_entries import read_runs, run_entry
from ferrule.notice.run_entries_test import LAKE
from ferrule.record.standing import runs_of, standing

DAY = date(2026, 1, 18)
WHOLE = RunTold(DAY, 13.3, 80.0, 210.0, time(7, 5))
CUT = RunTold(DAY, 6.6, 39.0, 100.0, time(7, 5))


def entry(told: RunTold, runner_id: str = "R01") -> Entry:
    return run_entry(runner_id, told, "device", repr(told))


def test_a_file_cut_off_and_the_whole_one_are_one_run() -> None:
    points = [p for p in LAKE.split(b"</trkpt>") if p]
    cut = b"</trkpt>".join(points[: len(points) // 2]) + b"</trkpt></trkseg></trk></gpx>"
    part, whole = (read_runs(data, "a.gpx", "R01")[0] for data in (cut, LAKE))
    assert len(part) == len(whole) == 1
    assert 1 < part[0].fact.distance_km < 4  # type: ignore[union-attr]
    for first, then in ((part, whole), (whole, part)):
        kept, findings = read_again(then, first)
        assert [f.code for f in findings] == ["run-overlap"]
        assert [r.distance_km for r in runs_of((*first, *kept), "R01")] == [4.575]


def test_the_longer_is_named() -> None:
    _, findings = read_again([entry(WHOLE)], [entry(CUT)])
    assert findings[0].what == "two runs of Sun 18 Jan overlap: 13.3 km from 07:05, and 6.6 km from 07:05"
    assert "13.3 km counts" in findings[0].why
    _, both_new = read_again([entry(CUT), entry(WHOLE)], [])
    assert both_new == findings


@pytest.mark.parametrize(
    "other",
    [
        replace(CUT, day=DAY + timedelta(days=1)),
        replace(CUT, at=time(8, 25)),
        replace(CUT, at=time(6, 30)),
        replace(CUT, minutes=None),
        replace(CUT, at=None),
    ],
)
def test_runs_one_after_the_other_or_without_an_hour_are_two(other: RunTold) -> None:
    """From 6:30 for 39 min: 4 of its minutes lie in the other, as a rounded time may."""
    assert len(standing([entry(WHOLE), entry(other)])) == 2
    assert read_again([entry(WHOLE)], [entry(other)])[1] == ()


def test_the_runs_of_two_runners_are_theirs() -> None:
    assert len(standing([entry(WHOLE), entry(CUT, "R02")])) == 2
    assert read_again([entry(WHOLE)], [entry(CUT, "R02")])[1] == ()


def test_over_midnight_too_and_in_any_order() -> None:
    late = RunTold(DAY, 20.0, 120.0, None, time(23))
    part = RunTold(DAY + timedelta(days=1), 9.0, 55.0, None, time(0, 4))
    after = RunTold(DAY + timedelta(days=1), 4.0, 25.0, None, time(1, 5))
    told = [entry(r) for r in (late, part, after)]
    assert {tuple(r.distance_km for r in runs_of(found, "R01")) for found in permutations(told)} == {(20.0, 4.0)}


def test_what_only_the_shorter_tells_is_not_lost() -> None:
    rated = entry(replace(CUT, kind="race", rating=8))
    (run,) = runs_of([rated, entry(WHOLE)], "R01")
    assert (run.distance_km, run.kind, run.rating) == (13.3, "race", 8)


def test_the_same_file_in_another_zone_says_so_and_stays() -> None:
    first = read_runs(LAKE, "a.gpx", "R01", ZoneInfo("Europe/London"))[0]
    again = read_runs(LAKE, "a.gpx", "R01", ZoneInfo("Pacific/Auckland"))[0]
    kept, findings = read_again(again, first)
    assert kept == first
    assert [f.code for f in findings] == ["run-other-zone"]
    assert "Thu 5 Aug" in findings[0].what
    assert "Fri 6 Aug" in findings[0].what
    assert read_again(first, first) == (first, ())
