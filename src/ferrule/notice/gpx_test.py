"""GPX files of others, and files that mean harm."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.fact import RunTold
from ferrule.notice.gpx import read_gpx
from ferrule.notice.run_entries import read_runs
from ferrule.notice.track import ascent, climb, heights, metres, minutes

DATA = Path(__file__).parents[3] / "tests" / "data" / "gpx"
FILES = sorted(DATA.glob("*.gpx"))
LAKE = (DATA / "cerknicko-jezero.gpx").read_bytes()


def codes(data: bytes) -> list[str]:
    return [f.code for f in read_gpx(data, "a.gpx")[1]]


def test_the_figures_of_a_published_file() -> None:
    """gpxpy 1.6.2 on its own file: 4575.0 m, raw ascent 252.8 m, 223.5 m smoothed, 4239 s in its tracks."""
    tracks, findings = read_gpx(LAKE, "a.gpx")
    assert findings == ()
    assert sum(len(t.points) for t in tracks) == 296
    assert sum(map(metres, tracks)) == pytest.approx(4575.0, abs=0.05)
    assert sum(ascent(heights(s)) for t in tracks for s in t.segments) == pytest.approx(252.8, abs=0.05)
    assert sum(climb(t) or 0 for t in tracks) == pytest.approx(223.5, abs=0.05)
    assert sum(minutes(t) or 0 for t in tracks) * 60 == pytest.approx(4239)


def test_junk_times_count_as_not_known() -> None:
    """gpxpy 1.6.2: 184 points, 2697.6 m, 446.5 m smoothed; its times are of 1901 and no time goes by."""
    tracks, findings = read_gpx((DATA / "Mojstrovka.gpx").read_bytes(), "a.gpx")
    assert [f.code for f in findings] == ["gpx-time"]
    assert "184 times" in findings[0].what
    assert [len(t.points) for t in tracks] == [184]
    assert metres(tracks[0]) == pytest.approx(2697.6, abs=0.05)
    assert climb(tracks[0]) == pytest.approx(446.5, abs=0.05)
    assert tracks[0].times == ()
    assert minutes(tracks[0]) is None


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_every_file_is_read(path: Path) -> None:
    tracks, findings = read_gpx(path.read_bytes(), path.name)
    assert not [f for f in findings if f.level == "error"]
    assert all(len(s) > 0 for t in tracks for s in t.segments)
    entries, _ = read_runs(path.read_bytes(), path.name, "R01", on=date(2026, 1, 19))
    told = [e.fact for e in entries if isinstance(e.fact, RunTold)]
    assert all(r.distance_km > 0 for r in told)


def test_all_eleven_files_are_there() -> None:
    assert len(FILES) == 11


def test_missing_heights_and_times_leave_them_unknown() -> None:
    flat, _ = read_runs((DATA / "cerknicko-jezero-without-elevations.gpx").read_bytes(), "a.gpx", "R01")
    assert [e.fact.climb_m for e in flat if isinstance(e.fact, RunTold)] == [None]
    timeless, _ = read_runs((DATA / "cerknicko-without-times.gpx").read_bytes(), "a.gpx", "R01")
    told = timeless[0].fact
    assert isinstance(told, RunTold)
    assert (told.minutes, told.day, told.climb_m) == (None, date(2010, 8, 5), 223.5)


def test_times_with_zones_and_parts_of_seconds() -> None:
    track = read_gpx((DATA / "track-with-less-sec-time.gpx").read_bytes(), "a.gpx")[0][0]
    assert track.times[0] == datetime(2015, 12, 11, 14, 43, 13, tzinfo=UTC)
    assert track.times[-1].microsecond == 994_000


BOMB = b"""<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>
<gpx><trk><name>&b;</name></trk></gpx>"""
OUTSIDE = b'<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]><gpx><trk><name>&x;</name></trk></gpx>'


@pytest.mark.parametrize("data", [BOMB, OUTSIDE, b"<!DOCTYPE gpx><gpx/>"])
def test_a_document_type_ends_the_reading(data: bytes) -> None:
    assert read_gpx(data, "a.gpx")[0] == ()
    assert codes(data) == ["gpx-document-type"]


def test_half_a_file_gives_what_is_whole() -> None:
    tracks, findings = read_gpx(LAKE[: len(LAKE) // 2], "a.gpx")
    kept = sum(len(t.points) for t in tracks)
    assert 0 < kept < 296
    assert [f.code for f in findings] == ["gpx-broken"]
    assert f"{kept} points" in findings[0].what
    assert findings[0].span is not None
    assert findings[0].span.line > 1


def test_points_that_are_nowhere_are_left_out_and_counted() -> None:
    body = b"".join(
        b'<trkpt lat="%s" lon="14"><ele>%s</ele></trkpt>' % pair
        for pair in ((b"46", b"1"), (b"146", b"2"), (b"nan", b"3"), (b"", b"4"), (b"46.1", b"x"))
    )
    tracks, findings = read_gpx(b"<gpx><trk><trkseg>" + body + b"</trkseg></trk></gpx>", "a.gpx")
    assert len(tracks[0].points) == 2
    assert sorted(f.code for f in findings) == ["gpx-height", "gpx-no-place"]


@pytest.mark.parametrize(
    ("data", "code"),
    [(b"", "gpx-broken"), (b"hello", "gpx-broken"), (b"<html/>", "gpx-other-file"), (b"\0\xff\x01", "gpx-broken")],
)
def test_other_files_are_told(data: bytes, code: str) -> None:
    assert codes(data) == [code]


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.integers(0, len(LAKE)), st.binary(max_size=20))
def test_nothing_that_is_cut_or_spoiled_raises(at: int, put: bytes) -> None:
    read_runs(LAKE[:at] + put + LAKE[at + len(put) :], "a.gpx", "R01")
