"""The calendar file read back by a parser, and by the rules of RFC 5545."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from icalendar import Calendar

from ferrule.deliver import cautions, sample, sample_many
from ferrule.deliver.calendar import calendar
from ferrule.deliver.plain import clean

STAMP = datetime(2026, 1, 16, 9, 30, tzinfo=UTC)
LIBRARY = sample.library()


def _events(data: bytes) -> list[dict[str, object]]:
    return [dict(e) for e in Calendar.from_ical(data).walk("VEVENT")]


def _lines(data: bytes) -> list[bytes]:
    assert data.endswith(b"\r\n")
    return data[:-2].split(b"\r\n")


def test_one_event_a_session_as_the_standard_asks() -> None:
    made = Calendar.from_ical(calendar(sample.week(), sequence=3, stamp=STAMP))
    assert str(made["METHOD"]) == "PUBLISH"
    assert str(made["VERSION"]) == "2.0"
    first, second = made.walk("VEVENT")
    assert [str(e["UID"]) for e in (first, second)] == [s.uid for s in sample.week().sessions]
    assert {int(str(e["SEQUENCE"])) for e in (first, second)} == {3}
    assert first.decoded("DTSTAMP") == STAMP
    assert str(first["STATUS"]) == "CONFIRMED"


def test_the_site_is_the_location_of_the_event() -> None:
    """RFC 5545, 3.8.1.7: LOCATION is where the event takes place."""
    week = sample.week()
    there = replace(week, sessions=(replace(week.sessions[0], where="club, north hall"), *week.sessions[1:]))
    first, second = Calendar.from_ical(calendar(there, sequence=0, stamp=STAMP)).walk("VEVENT")
    assert str(first["LOCATION"]) == "club, north hall"
    assert "LOCATION" not in second
    assert b"LOCATION:club\\, north hall\r\n" in calendar(there, sequence=0, stamp=STAMP)


def test_a_known_time_floats_and_an_unknown_one_is_all_day() -> None:
    first, second = Calendar.from_ical(calendar(sample.week(), sequence=0, stamp=STAMP)).walk("VEVENT")
    assert first.decoded("DTSTART") == datetime(2026, 1, 19, 18, 30)
    assert first.decoded("DURATION") == timedelta(minutes=34)
    assert second.decoded("DTSTART") == date(2026, 1, 22)
    assert second.decoded("DTEND") == date(2026, 1, 23)
    assert b"DTSTART:20260119T183000\r\n" in calendar(sample.week(), sequence=0, stamp=STAMP)


def test_with_a_zone_the_zone_comes_along() -> None:
    data = calendar(sample.week(), sequence=0, stamp=STAMP, timezone="Europe/Ljubljana")
    assert b"DTSTART;TZID=Europe/Ljubljana:20260119T183000" in data
    assert b"BEGIN:VTIMEZONE" in data
    with pytest.raises(ValueError, match="no time zone is called"):
        calendar(sample.week(), sequence=0, stamp=STAMP, timezone="Nowhere/At all")


def test_the_stamp_is_utc_and_never_without_a_zone() -> None:
    east = STAMP.astimezone(timezone(timedelta(hours=5)))
    assert calendar(sample.week(), sequence=0, stamp=east) == calendar(sample.week(), sequence=0, stamp=STAMP)
    with pytest.raises(ValueError, match="zone"):
        calendar(sample.week(), sequence=0, stamp=datetime(2026, 1, 16))


def test_no_line_is_longer_than_75_octets_and_all_end_in_crlf() -> None:
    """RFC 5545 section 3.1."""
    for week in (sample.week(), sample.hostile_week()):
        data = calendar(week, sequence=1, stamp=STAMP, library=LIBRARY)
        assert max(len(line) for line in _lines(data)) <= 75
        assert b"\n" not in data.replace(b"\r\n", b"")
        data.decode("utf-8")


def test_a_second_import_updates_and_cancels() -> None:
    before = sample.week()
    moved = replace(before.sessions[0], day=date(2026, 1, 20))
    after = replace(before, sessions=(moved,))
    events = _events(calendar(after, sequence=2, stamp=STAMP, earlier=[before]))
    assert [(str(e["UID"]), str(e["STATUS"]), int(str(e["SEQUENCE"]))) for e in events] == [
        (before.sessions[0].uid, "CONFIRMED", 2),
        (before.sessions[1].uid, "CANCELLED", 2),
    ]


def test_a_calendar_that_missed_a_copy_loses_nothing() -> None:
    first = sample.week()
    second = replace(first, sessions=first.sessions[:1])
    third = replace(second, sessions=(replace(first.sessions[0], day=date(2026, 1, 21)),))
    events = _events(calendar(third, sequence=3, stamp=STAMP, earlier=[first, second]))
    assert [(str(e["UID"]), str(e["STATUS"])) for e in events] == [
        (first.sessions[0].uid, "CONFIRMED"),
        (first.sessions[1].uid, "CANCELLED"),
    ]


def test_what_lies_on_a_day_away_is_cancelled() -> None:
    week = sample.week()
    away = {week.sessions[1].day + timedelta(days=n) for n in range(3)}
    events = _events(calendar(week, sequence=2, stamp=STAMP, away=away))
    assert [str(e["STATUS"]) for e in events] == ["CONFIRMED", "CANCELLED"]
    assert "DESCRIPTION" not in events[1]


def test_next_week_leaves_this_one_alone() -> None:
    """Other sessions, other UIDs: nothing of the week before is touched by the file of the next."""
    this = sample.week()
    later = tuple(replace(s, uid=s.uid.replace("w2", "w3"), day=s.day + timedelta(days=7)) for s in this.sessions)
    events = _events(calendar(replace(this, sessions=later), sequence=2, stamp=STAMP))
    assert not {str(e["UID"]) for e in events} & {s.uid for s in this.sessions}


def test_hostile_text_stays_text() -> None:
    data = calendar(sample.hostile_week(), sequence=1, stamp=STAMP, library=LIBRARY)
    (event,) = Calendar.from_ical(data).walk("VEVENT")
    assert clean(sample.HOSTILE) in str(event["SUMMARY"])
    assert clean(sample.HOSTILE) in str(event["DESCRIPTION"])
    assert {line.split(b":")[0].split(b";")[0] for line in _lines(data) if not line.startswith(b" ")} <= {
        *(b"BEGIN", b"END", b"VERSION", b"PRODID", b"CALSCALE", b"METHOD", b"SUMMARY", b"DTSTART", b"DURATION"),
        *(b"DTSTAMP", b"UID", b"SEQUENCE", b"DESCRIPTION", b"STATUS"),
    }


def test_red_flags_and_the_draft_notice_are_in_the_text() -> None:
    (event, _) = Calendar.from_ical(calendar(sample.week(), sequence=0, stamp=STAMP, draft=True)).walk("VEVENT")
    text = str(event["DESCRIPTION"])
    assert text.startswith(cautions.DRAFT)
    assert cautions.red_flags_text() in text
    assert cautions.PURPOSE in text
    assert str(event["STATUS"]) == "TENTATIVE"


def test_a_session_done_many_times_has_an_event_each_time() -> None:
    week = sample_many.week()
    events = _events(calendar(week, sequence=1, stamp=STAMP, library=LIBRARY))
    assert [str(e["UID"]) for e in events] == [s.uid for s in week.sessions]
    assert len(events) == 3 + 14 + 1
    names = [str(e["SUMMARY"]).split(" (Fell")[0] for e in events]
    assert "Session 1 (2 of 3): calf and hip" in names
    texts = "\n".join(str(e["DESCRIPTION"]) for e in events)
    assert "Circuit B, go round for 12 minutes: legs and trunk" in texts
    assert "15 reps. Lowering only; rest 20 s" in texts
    assert "not fitted" not in texts


def test_the_file(golden: Callable[[str, str], None]) -> None:
    data = calendar(sample.week(), sequence=1, stamp=STAMP, library=LIBRARY)
    golden("deliver/week.ics.txt", data.decode().replace("\r\n", "\n"))
