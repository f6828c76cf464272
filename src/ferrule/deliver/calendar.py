"""The week as a calendar file (RFC 5545), one event a session. A second import updates the first."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event

from ferrule.deliver import cautions
from ferrule.deliver.plain import clean
from ferrule.deliver.session_words import session_lines, session_title
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedSession, FittedWeek

PRODUCT = "-//Ferrule//Strength week//EN"
_NO_LIBRARY = Library({}, {}, {}, {})


def calendar(
    week: FittedWeek,
    *,
    sequence: int,
    stamp: datetime,
    timezone: str = "",
    library: Library = _NO_LIBRARY,
    earlier: Iterable[FittedWeek] = (),
    away: Collection[date] = (),
    draft: bool = False,
) -> bytes:
    """The sessions of `week` as events with METHOD PUBLISH.

    sequence   grows with each copy sent to this runner, of whichever week; a calendar keeps the highest for a UID
    stamp      when this copy was made, with its zone; handed in, so that the same input gives the same bytes
    timezone   IANA name; without it times float (18:30 wherever the runner is). A session without a time is all day
    earlier    copies of this week that were sent before, in order: sessions of theirs that `week` no longer has come
               as STATUS:CANCELLED (RFC 5545, 3.8.1.11), also for a calendar that missed a copy in between
    away       days on which the runner is away since the copy was sent: their sessions come as STATUS:CANCELLED

    Raises ValueError when `stamp` has no zone, or `timezone` is not known.
    """
    if stamp.tzinfo is None:
        raise ValueError("stamp needs a zone: DTSTAMP is in UTC")
    zone = _zone(timezone)
    made = Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    made.add("calscale", "GREGORIAN")
    made.add("method", "PUBLISH")
    now = stamp.astimezone(ZoneInfo("UTC")).replace(microsecond=0)
    for session in week.sessions:
        event = _event(session, week, zone)
        if session.day in away:
            event.add("status", "CANCELLED")
        else:
            event.add("description", _description(session, week, library, draft=draft))
            event.add("status", "TENTATIVE" if draft else "CONFIRMED")
        _finish(made, event, sequence, now)
    here = {s.uid for s in week.sessions}
    gone = {s.uid: (s, copy) for copy in earlier for s in copy.sessions if s.uid not in here}
    for session, copy in gone.values():
        event = _event(session, copy, zone)
        event.add("status", "CANCELLED")
        _finish(made, event, sequence, now)
    if zone is not None:
        made.add_missing_timezones(week.monday - timedelta(days=365), week.monday + timedelta(days=365))
    return bytes(made.to_ical())


def _zone(name: str) -> ZoneInfo | None:
    if not name:
        return None
    try:
        return ZoneInfo(name)
    except (KeyError, OSError) as error:
        raise ValueError(f"no time zone is called {name!r}") from error


def _event(session: FittedSession, week: FittedWeek, zone: ZoneInfo | None) -> Event:
    event = Event()
    event.add("uid", clean(session.uid))
    event.add("summary", f"{session_title(session)} ({clean(week.programme)}, week {week.programme_week})")
    if clean(session.where):
        event.add("location", clean(session.where))
    if session.start is None:
        event.add("dtstart", session.day)
        event.add("dtend", session.day + timedelta(days=1))
        event.add("transp", "TRANSPARENT")
    else:
        event.add("dtstart", datetime.combine(session.day, session.start, tzinfo=zone))
        event.add("duration", timedelta(minutes=max(1, round(session.minutes))))
    return event


def _finish(made: Calendar, event: Event, sequence: int, stamp: datetime) -> None:
    event.add("sequence", sequence)
    event.add("dtstamp", stamp)
    made.add_component(event)


def _description(session: FittedSession, week: FittedWeek, library: Library, *, draft: bool) -> str:
    head = [cautions.DRAFT] if draft else []
    head += [cautions.FINDING_WEEK] if week.finding_week else []
    head += [clean(c) for c in week.cautions]
    return "\n".join([*head, *session_lines(session, library), "", cautions.red_flags_text(), cautions.PURPOSE])
