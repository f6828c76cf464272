"""The text of a phone file cut into objects and entries: whole, cut off, packed, or in the middle of a message."""

from __future__ import annotations

import base64
import bisect
import json
import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from ferrule.model.finding import Span

PACKED = "FERRULE1:"
MOST_UNPACKED = 8_000_000
"""Bytes a packed file may hold when unpacked; a season of taps is under a tenth of it."""
_START = re.compile(r'\{\s*"ferrule"\s*:')
_PACKED = re.compile(re.escape(PACKED) + r"[\s>]*([A-Za-z0-9_\-]+(?:[\s>]+[A-Za-z0-9_\-]+)*)")
_ENTRY = re.compile(r'\{\s*"id"\s*:')
_ENTRIES = re.compile(r'"entries"\s*:\s*\[')
_SPACE = re.compile(r"[\s,]*")
_QUOTES = str.maketrans(dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb", '"'))


@dataclass(frozen=True, slots=True)
class RawEntry:
    """One entry as JSON gives it, and where it begins."""

    value: Any
    span: Span


@dataclass(slots=True)
class RawFile:
    """One object: what stands beside its entries, the entries that are whole, and where others are not.

    whole   the object ends as it should
    """

    span: Span
    head: dict[str, Any] = field(default_factory=dict)
    entries: list[RawEntry] = field(default_factory=list)
    damaged: list[Span] = field(default_factory=list)
    whole: bool = False


class _Places:
    """Span of a place in a text."""

    def __init__(self, text: str, file: str, at: Span | None = None) -> None:
        self.file, self.at = file, at
        self.starts = [0, *(m.end() for m in re.finditer("\n", text))]

    def span(self, place: int) -> Span:
        if self.at is not None:
            return self.at
        line = bisect.bisect_right(self.starts, place)
        return Span(self.file, line, place - self.starts[line - 1] + 1)


def objects(data: bytes, file: str) -> tuple[RawFile, ...]:
    """Every object of the file, in order. Never raises; nothing of ours in the file gives nothing."""
    text = _text(data)
    if not _START.search(text) and _START.search(text.translate(_QUOTES)):
        text = text.translate(_QUOTES)  # a message that made quotes typographic
    places = _Places(text, file)
    found = list(_objects(text, places))
    for packed in _PACKED.finditer(text):
        span = places.span(packed.start())
        inside = _unpacked(packed[1])
        read = list(_objects(inside, _Places(inside, file, span)))
        found += read or [RawFile(span, damaged=[span])]
    return tuple(found)


def _text(data: bytes) -> str:
    """The text of the file; a character that is cut in two is left out."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="ignore")
    return data.decode("utf-8-sig", errors="ignore")


def _unpacked(packed: str) -> str:
    """The text of packed bytes, as far as it goes."""
    letters = re.sub(r"[^A-Za-z0-9_\-]", "", packed)
    letters = letters[: len(letters) - (len(letters) % 4 == 1)]
    data = base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4))
    reader, out = zlib.decompressobj(-15), bytearray()
    try:
        for i in range(0, len(data), 64):
            out += reader.decompress(data[i : i + 64])
            if reader.eof or len(out) > MOST_UNPACKED:
                break
        else:
            out += reader.flush()
    except zlib.error:
        pass  # what came before the damage is read
    return out[:MOST_UNPACKED].decode("utf-8", errors="ignore")


def _objects(text: str, places: _Places) -> Iterator[RawFile]:
    at = 0
    while start := _START.search(text, at):
        after = _START.search(text, start.end())
        made = RawFile(places.span(start.start()))
        at = _read(text, start.start(), after.start() if after else len(text), made, places)
        yield made


def _read(text: str, start: int, end: int, made: RawFile, places: _Places) -> int:
    """Reads one object that begins at `start` and ends before `end`; gives the place after it."""
    decoder = json.JSONDecoder(parse_constant=lambda _: None)
    head = _ENTRIES.search(text, start, end)
    if head is None:
        whole = _decoded(decoder, text[:end], start)
        if whole is not None and isinstance(whole[0], dict):
            made.head = whole[0]
        return end if whole is None else whole[1]
    before = _decoded(decoder, text[start : head.start()].rstrip().rstrip(",") + "}", 0)
    if before is not None:
        made.head = before[0]
    at = _entries(decoder, text[:end], head.end(), made, places)
    if at < end and text[at] == "]":
        rest = text[at + 1 : end].lstrip()
        tail = _decoded(decoder, "{" + rest.lstrip(","), 0)
        if tail is not None and isinstance(tail[0], dict):
            made.head |= tail[0]
            made.whole = not made.damaged and before is not None
    return max(at, head.end())


def _entries(decoder: json.JSONDecoder, text: str, at: int, made: RawFile, places: _Places) -> int:
    """Reads entries from `at`; goes on after a damaged one where the next begins. Gives the place of the closing bracket."""
    while True:
        at = _SPACE.match(text, at).end()  # type: ignore[union-attr]
        if at >= len(text) or text[at] == "]":
            return at
        found = _decoded(decoder, text, at)
        if found is not None:
            made.entries.append(RawEntry(found[0], places.span(at)))
            at = found[1]
            continue
        made.damaged.append(places.span(at))
        onward = _ENTRY.search(text, at + 1)
        if onward is None:
            return len(text)
        at = onward.start()


def _decoded(decoder: json.JSONDecoder, text: str, at: int) -> tuple[Any, int] | None:
    try:
        return decoder.raw_decode(text, at)
    except (ValueError, RecursionError):  # DecodeError is a ValueError, and so is a number of 5,000 digits
        return None
