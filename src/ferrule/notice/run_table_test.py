"""Runs from a spreadsheet: headings, units, times, and every fault with its place."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.fact import RunTold
from ferrule.notice.run_table import read_run_table


def read(text: str) -> tuple[list[RunTold], list[str]]:
    entries, findings = read_run_table(text.encode(), "runs.csv", "R01")
    told = [e.fact for e in entries if isinstance(e.fact, RunTold)]
    return told, [f"{f.code} {f.span.line}:{f.span.column}" for f in findings if f.span]


def test_a_plain_table() -> None:
    told, faults = read("date,distance km,time,climb,kind,rating\n2026-01-18,21.4,1:58:30,320,long,5\n")
    assert told == [RunTold(date(2026, 1, 18), 21.4, 118.5, 320.0, None, "long", 5)]
    assert faults == []


@pytest.mark.parametrize(
    ("head", "cell", "km"),
    [
        ("distance", "12.4", 12.4),
        ("Distance (km)", "12,4", 12.4),
        ("distance m", "5000", 5.0),
        ("Distance (mi)", "10", 16.0934),
        ("miles", "26.2", 42.1648),
        ("distance", "3 mi", 4.828),
        ("dist", "800 m", 0.8),
    ],
)
def test_units_of_distance(head: str, cell: str, km: float) -> None:
    """One mile is 1.609344 km (international)."""
    told, faults = read(f"day;{head}\n18 January 2026;{cell}\n")
    assert [r.distance_km for r in told] == [km]
    assert faults == []


@pytest.mark.parametrize(
    ("cell", "minutes"),
    [
        ("45:10", 45.167), ("1:30", 90.0), ("0:45:10", 45.167), ("2:05:00", 125.0), ("52", 52.0), ("52,5", 52.5),
        ("1h 5min", 65.0), ("48 min", 48.0), ("", None),
    ],
)  # fmt: skip
def test_ways_to_write_a_time_of_ten_kilometres(cell: str, minutes: float | None) -> None:
    told, faults = read(f"date;km;time\n2026-01-18;10;{cell}\n")
    assert [r.minutes for r in told] == [minutes]
    assert faults == []


def test_the_heading_may_say_hours_and_feet_and_the_date_the_hour() -> None:
    told, _ = read("date;km;time (h);climb (ft)\n2026-01-18 07:15;10;0.75;1000\n")
    assert told == [RunTold(date(2026, 1, 18), 10.0, 45.0, 304.8, time(7, 15))]


def test_a_row_that_cannot_be_read_is_told_with_its_place_and_the_rest_is_read() -> None:
    told, faults = read("date,km,time\n31 Feb 2026,10,50\n2026-01-18,far,50\n2026-01-19,8,quick\n,,\n2026-01-20,9,45\n")
    assert [r.distance_km for r in told] == [8.0, 9.0]
    assert told[0].minutes is None
    assert faults == ["runs-unreadable-date 2:1", "runs-distance 3:2", "runs-time 4:3"]


def test_two_equal_rows_are_two_runs_and_the_table_twice_is_once() -> None:
    text = b"date,km\n2026-01-18,5\n2026-01-18,5\n"
    first, again = read_run_table(text, "a.csv", "R01")[0], read_run_table(text, "b.csv", "R01")[0]
    assert first == again
    assert len({e.entry_id for e in first}) == 2


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "runs-empty 1:1"), ("a,b\n1,2\n", "runs-columns 1:1"), ("\n\ndate\n2026-01-18", "runs-columns 3:1")],
)
def test_a_table_without_what_it_needs(text: str, code: str) -> None:
    assert read(text) == ([], [code])


def test_other_kinds_of_file_are_told() -> None:
    assert [f.code for f in read_run_table(b"PK\x03\x04\0\0\0", "a.csv", "R01")[1]] == ["runs-other-file"]


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.text(max_size=120), st.binary(max_size=60))
def test_never_falls(text: str, data: bytes) -> None:
    read_run_table(f"date,km,time,climb,kind,rating,at\n{text}".encode("utf-8", "surrogatepass"), "a", "R01")
    read_run_table(data, "a", "R01")
