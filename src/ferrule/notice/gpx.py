"""GPX files (1.1; 1.0 is read the same way) -> tracks. Hostile and broken files are told, never raised.

The stdlib's parser does the reading; a document type, and with it every entity, ends it: a track needs neither.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from datetime import UTC, datetime
from xml.parsers import expat

from ferrule.model.finding import Finding, Span
from ferrule.notice.track import FIRST_TIME, Point, Segment, Track

MOST_BYTES = 50_000_000
"""A day of one point a second is about 12 MB."""
_TIME = re.compile(r"(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:[.,](\d+))?(Z|[+-]\d\d:?\d\d)?", re.ASCII)


class _TypeToldError(Exception):
    """The file declares a document type."""


@dataclass(slots=True)
class _Reading:
    """What has been read so far; counts are of points."""

    tracks: list[Track] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    points: list[Point] = field(default_factory=list)
    path: list[str] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    place: tuple[float, float] | None = None
    ele: float | None = None
    time: datetime | None = None
    line: int = 1
    root: str = ""
    no_place: int = 0
    bad_heights: int = 0
    bad_times: int = 0
    first_bad: dict[str, int] = field(default_factory=dict)


def read_gpx(data: bytes, file: str) -> tuple[tuple[Track, ...], tuple[Finding, ...]]:
    """The tracks of a GPX file, in its order, and what was noticed. A file cut off half-way gives what is whole.

    Routes and single marks are not read: they are plans and places, not runs.
    """
    if len(data) > MOST_BYTES:
        size = f"the file holds {len(data) / 1e6:.0f} million bytes; nothing of it was read"
        return (), (_fault("gpx-too-large", size, "Export one run.", Span(file, 1)),)
    reading = _Reading()
    findings: list[Finding] = []
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _type_told
    parser.StartElementHandler = lambda tag, told: _start(reading, tag, told, parser.CurrentLineNumber)
    parser.EndElementHandler = lambda _: _end(reading, parser.CurrentLineNumber)
    parser.CharacterDataHandler = lambda text: _text(reading, text)
    try:
        parser.Parse(data, True)
    except _TypeToldError:
        what = "the file declares a document type, which a track never needs; nothing of it was read"
        return (), (_fault("gpx-document-type", what, "Export the run again.", Span(file, parser.CurrentLineNumber)),)
    except (expat.ExpatError, ValueError, LookupError) as fault:
        line, column = parser.ErrorLineNumber, parser.ErrorColumnNumber + 1
        said = expat.ErrorString(fault.code) if isinstance(fault, expat.ExpatError) else str(fault)
        _close(reading)
        kept = sum(len(t.points) for t in reading.tracks)
        what = f"the file stops being readable here ({said}); {kept} points before it were kept"
        findings.append(_fault("gpx-broken", what, "Export the run again.", Span(file, max(1, line), column)))
    if not findings and reading.root != "gpx":
        what = f"the file is XML, and not GPX: it begins with <{reading.root}>"
        return (), (_fault("gpx-other-file", what, "Export the run as GPX.", Span(file, 1)),)
    return tuple(reading.tracks), (*findings, *_odd(reading, file))


def _start(reading: _Reading, tag: str, told: dict[str, str], line: int) -> None:
    name = tag.rpartition(" ")[2]
    reading.path.append(name)
    reading.text.clear()
    if len(reading.path) == 1:
        reading.root = name
    elif reading.path[:2] == ["gpx", "trk"]:
        if reading.path[2:] == []:
            reading.line = line
        elif reading.path[2:] == ["trkseg", "trkpt"]:
            reading.place = _place(told)
            reading.ele = reading.time = None


def _text(reading: _Reading, text: str) -> None:
    if reading.path[-1] in ("ele", "time"):
        reading.text.append(text)


def _end(reading: _Reading, line: int) -> None:
    path = reading.path[1:]
    text = "".join(reading.text).strip()
    if path == ["trk", "trkseg", "trkpt", "ele"]:
        reading.ele = _number(text)
        if reading.ele is None:
            reading.bad_heights += 1
            reading.first_bad.setdefault("height", line)
    elif path == ["trk", "trkseg", "trkpt", "time"]:
        reading.time = _time(text)
        if reading.time is None or reading.time < FIRST_TIME:
            reading.time = None
            reading.bad_times += 1
            reading.first_bad.setdefault("time", line)
    elif path == ["trk", "trkseg", "trkpt"]:
        if reading.place is None:
            reading.no_place += 1
            reading.first_bad.setdefault("place", line)
        else:
            reading.points.append(Point(*reading.place, reading.ele, reading.time))
    elif path == ["trk", "trkseg"]:
        _close_segment(reading)
    elif path == ["trk"]:
        _close(reading)
    reading.path.pop()
    reading.text.clear()


def _close_segment(reading: _Reading) -> None:
    if reading.points:
        reading.segments.append(tuple(reading.points))
        reading.points.clear()


def _close(reading: _Reading) -> None:
    """The track that is being read, as far as it goes."""
    _close_segment(reading)
    if reading.segments:
        reading.tracks.append(Track(tuple(reading.segments), reading.line))
        reading.segments.clear()


def _place(told: dict[str, str]) -> tuple[float, float] | None:
    lat, lon = _number(told.get("lat", "")), _number(told.get("lon", ""))
    if lat is None or lon is None or not (-90 <= lat <= 90 and -180 <= lon <= 180):
        return None
    return lat, lon


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _time(text: str) -> datetime | None:
    """A moment as XML writes it, in UTC; parts of a second beyond the sixth place are dropped."""
    found = _TIME.fullmatch(text)
    if not found:
        return None
    *whole, part, zone = found.groups()
    digits = (part or "")[:6].ljust(6, "0")
    offset = "+00:00" if zone in (None, "Z") else zone
    try:
        year, month, day, hour, minute, second = map(int, whole)
        stamp = f"{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}.{digits}{offset}"
        return datetime.fromisoformat(stamp).astimezone(UTC)
    except (ValueError, OverflowError):
        return None


def _odd(reading: _Reading, file: str) -> list[Finding]:
    """What was left out, each kind once."""
    counts = (
        ("place", "gpx-no-place", reading.no_place, "points have no place on earth and were left out"),
        ("height", "gpx-height", reading.bad_heights, "heights are no numbers and count as not known"),
        ("time", "gpx-time", reading.bad_times, "times cannot be true or cannot be read and count as not known"),
    )
    why = "Distance, climb and time are counted from the rest."
    return [
        Finding(
            code,
            "note",
            f"{n} {words}, the first here",
            why,
            "Nothing, unless the run looks wrong.",
            Span(file, reading.first_bad[kind]),
        )
        for kind, code, n, words in counts
        if n
    ]


def _type_told(*_: object) -> None:
    raise _TypeToldError


def _fault(code: str, what: str, fix: str, span: Span) -> Finding:
    return Finding(code, "error", what, "What was not read counts nowhere.", fix, span)
