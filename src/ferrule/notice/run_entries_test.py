"""Runs as entries: the same file twice is the same entries; odd runs are told."""

from __future__ import annotations

from datetime import UTC, date, timedelta, timezone
from pathlib import Path

from ferrule.model.fact import RunTold
from ferrule.notice.run_entries import read_runs
from ferrule.record.standing import standing

DATA = Path(__file__).parents[3] / "tests" / "data" / "gpx"
LAKE = (DATA / "cerknicko-jezero.gpx").read_bytes()
JUNK = (DATA / "Mojstrovka.gpx").read_bytes()


def test_a_file_is_one_run_with_its_climb() -> None:
    entries, findings = read_runs(LAKE, "a.gpx", "R01")
    told = entries[0].fact
    assert isinstance(told, RunTold)
    assert (told.distance_km, told.climb_m, told.day) == (4.575, 223.5, date(2010, 8, 5))
    assert told.minutes == 70.65
    assert [f.code for f in findings] == ["run-fast-leg"], "184 m in a few seconds: part of it was a ride"


def test_the_same_file_twice_and_under_another_name_is_one_run() -> None:
    first, again = read_runs(LAKE, "a.gpx", "R01")[0], read_runs(LAKE, "b.gpx", "R01")[0]
    assert first == again
    assert len(standing([*first, *again])) == 1
    assert first[0].entry_id != read_runs(LAKE, "a.gpx", "R02")[0][0].entry_id


def test_the_day_is_the_runners_own() -> None:
    far = timezone(timedelta(hours=11))
    assert [e.fact.day for e in read_runs(LAKE, "a.gpx", "R01", far)[0] if isinstance(e.fact, RunTold)] == [
        date(2010, 8, 6)
    ]


def test_a_track_without_a_day_needs_one() -> None:
    entries, findings = read_runs(JUNK, "a.gpx", "R01")
    assert entries == ()
    assert [f.code for f in findings] == ["gpx-time", "run-no-day"]
    given, _ = read_runs(JUNK, "a.gpx", "R01", UTC, date(2026, 1, 20))
    other, _ = read_runs(JUNK, "a.gpx", "R01", UTC, date(2026, 1, 27))
    assert isinstance(given[0].fact, RunTold)
    assert given[0].fact.day == date(2026, 1, 20)
    assert given[0].fact.minutes is None
    assert given[0].entry_id != other[0].entry_id, "the same way on two days is two runs"


def test_a_ride_and_a_slip_of_the_finger_are_told() -> None:
    def point(lat: float, second: int) -> str:
        return f'<trkpt lat="{lat}" lon="14"><time>2026-01-19T07:00:{second:02}Z</time></trkpt>'

    fast = f"<gpx><trk><trkseg>{point(46, 0)}{point(46.01, 10)}</trkseg></trk></gpx>".encode()
    assert [f.code for f in read_runs(fast, "a.gpx", "R01")[1]] == ["run-fast-leg"]
    short = f"<gpx><trk><trkseg>{point(46, 0)}{point(46.0001, 10)}</trkseg></trk></gpx>".encode()
    entries, findings = read_runs(short, "a.gpx", "R01")
    assert entries == ()
    assert [f.code for f in findings] == ["run-too-short"]


def test_a_file_with_marks_only_is_told() -> None:
    assert [f.code for f in read_runs((DATA / "unicode_with_bom.gpx").read_bytes(), "a.gpx", "R01")[1]] == [
        "gpx-no-track"
    ]
