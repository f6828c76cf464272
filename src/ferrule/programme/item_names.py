"""Where the name of an item ends, and which exercise it is."""

from __future__ import annotations

import re

from ferrule.model.programme import Named, Slot
from ferrule.programme.field_words import KEYWORDS
from ferrule.programme.fields import FieldReader
from ferrule.programme.markdown import Line
from ferrule.programme.naming import Names, nearest_patterns, read_slot
from ferrule.programme.report import Report, short
from ferrule.programme.scan import scan

_MARKS = "*_`"


def name_and_fields(
    text: str, start: int, line: Line, names: Names, report: Report
) -> tuple[Named | Slot, FieldReader, bool]:
    """The exercise that `text` names from `start` on, the reader of the fields after it, and whether the name is plain.

    Findings: exercise-unknown, pattern-unknown.
    """
    colon = _colon(text, start)
    if colon is not None:
        return _named(text, start, colon, line, names, report)
    body = text[start:]
    lead = len(body) - len(body.lstrip(_MARKS + " "))
    if body[lead:].lower().startswith("any "):
        return _slot_without_colon(text, start + lead, line, report)
    found = names.longest(body[lead:])
    if found:
        end = start + lead + found[2]
        skip = re.compile(r"[\s*_`]*[-,;]?\s*").match(text, end)
        return Named(found[0], found[1]), FieldReader(text).read(skip.end() if skip else end), True
    end = _guess_end(text, start)
    name = " ".join(text[start:end].strip(_MARKS + " ,;-").split())
    if not name and end >= len(text):
        return Named("", None), FieldReader(text).read(len(text)), True
    reader = FieldReader(text).read(end)
    known = names.find(name) if name else None
    if known:
        return Named(known[0], known[1]), reader, True
    _unknown(name or text[start:].strip(), start, end, line, names, report, ended=False)
    return Named(name, None), reader, not (end < len(text) and not name)


_EITHER = re.compile(r"\s+or\s+", re.IGNORECASE)
MOST_EITHER = 4


def either_or(text: str, start: int, line: Line, names: Names, report: Report) -> tuple[str, tuple[Named, ...]]:
    """`Squat or leg press: 8`: the text with only the first name left, and the names the runner may take instead.

    Unchanged where no colon ends the name, or the library knows none of the names. Finding: exercise-unknown.
    """
    colon = _colon(text, start)
    if colon is None or " or " not in text[start:colon].lower():
        return text, ()
    whole = text[start:colon].strip(_MARKS + " ")
    places = [start]
    for found in _EITHER.finditer(text, start, colon):
        places += [found.start(), found.end()]
    places.append(colon)
    pieces = [(low, high) for low, high in zip(places[::2], places[1::2], strict=True)]
    known = [names.find(text[low:high].strip(_MARKS + " ")) for low, high in pieces]
    if names.find(whole) or whole.lower().startswith("any ") or not any(known) or len(pieces) > MOST_EITHER:
        return text, ()
    others = []
    for (low, high), one in list(zip(pieces, known, strict=True))[1:]:
        written = " ".join(text[low:high].strip(_MARKS + " ").split())
        if not written:
            return text, ()
        others.append(Named(one[0], one[1]) if one else Named(written[:1].upper() + written[1:], None))
        if one is None:
            _unknown(written, low, high, line, names, report, ended=True)
    first_end = pieces[0][1]
    return text[:first_end] + " " * (colon - first_end) + text[colon:], tuple(others)


def _named(
    text: str, start: int, colon: int, line: Line, names: Names, report: Report
) -> tuple[Named | Slot, FieldReader, bool]:
    written = " ".join(text[start:colon].strip(_MARKS + " ").split())
    if written.lower().startswith("any "):
        slot = read_slot(written)
        reader = FieldReader(text).read(colon + 1)
        if slot is None:
            near = ", ".join(f"`any {p}`" for p in nearest_patterns(written[4:].split(",")[0]))
            report.add(
                "pattern-unknown", "error", line.number, line.column + start, line.column + colon,
                f"`{short(written)}` is not a pattern that is known.",
                "A slot names a pattern of a closed list, then, if wanted, `one leg` or `two legs`.", f"Nearest: {near}.",
            )  # fmt: skip
            return Named(written, None), reader, True
        return slot, reader, True
    known = names.find(written)
    if known:
        return Named(known[0], known[1]), FieldReader(text).read(colon + 1), True
    comma = text.rfind(",", start, colon)
    while comma > start:
        known = names.find(text[start:comma].strip(_MARKS + " "))
        if known:
            blank = text[:colon] + "," + text[colon + 1 :]
            reader = FieldReader(blank).read(comma + 1)
            probe = FieldReader(text[:colon]).read(comma + 1)
            if probe.understood and not probe.unread:
                return Named(known[0], known[1]), reader, True
        comma = text.rfind(",", start, comma)
    reader = FieldReader(text).read(colon + 1)
    _unknown(written, start, colon, line, names, report, ended=True)
    return Named(written, None), reader, True


def _slot_without_colon(text: str, start: int, line: Line, report: Report) -> tuple[Named | Slot, FieldReader, bool]:
    words = [t for t in scan(text, start) if t.kind == "word"][:8]
    for word in reversed(words):
        slot = read_slot(text[start : word.end].strip(" ,;-" + _MARKS))
        if slot is not None:
            return slot, FieldReader(text).read(word.end), True
    ends = [_guess_end(text, start)]
    written = " ".join(text[start : ends[0]].strip(" ,;-").split())
    near = ", ".join(f"`any {p}`" for p in nearest_patterns(written[4:].split(",")[0]))
    report.add(
        "pattern-unknown", "error", line.number, line.column + start, line.column + ends[0],
        f"`{short(written)}` is not a pattern that is known.",
        "A slot names a pattern of a closed list, then, if wanted, `one leg` or `two legs`; a colon ends it.", f"Nearest: {near}.",
    )  # fmt: skip
    return Named(written, None), FieldReader(text).read(ends[0]), True


def _colon(text: str, start: int) -> int | None:
    place = text.find(":", start)
    while place >= 0:
        if not (text[place - 1 : place].isdigit() and text[place + 1 : place + 3].isdigit()):
            return place
        place = text.find(":", place + 1)
    return None


def _guess_end(text: str, start: int) -> int:
    for token in scan(text, start):
        if token.kind in ("num", "clock") or (token.kind == "word" and token.low in KEYWORDS and token.start > start):
            return token.start
    return len(text)


def _unknown(written: str, start: int, end: int, line: Line, names: Names, report: Report, *, ended: bool) -> None:
    near = names.nearest(written)
    nearest = (
        "Nearest: " + ", ".join(f"`{n}`" for n in near) + "."
        if near
        else "Use a name of the library, or add the exercise to your own file."
    )
    slotted = "" if ended else " No colon ends the name; it was taken up to the first number."
    report.add(
        "exercise-unknown", "error", line.number, line.column + start, line.column + max(end, start + 1),
        f"`{short(written)}` is not an exercise of the library.{slotted}",
        "Without knowing the exercise nothing can be checked or fitted for it; the line is kept.", nearest,
    )  # fmt: skip


_NUMBER_WORDS = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "fifteen",
    "twenty",
    "thirty",
]


def tell_unread(text: str, low: int, high: int, line: Line, report: Report) -> None:
    """Tells the stretch `low` to `high` of `text`, from 0, that no field was found in. Finding: field-not-read."""
    word = text[low:high].strip().lower()
    fix = "Write it as one of the fields of docs/notation.md, or put it on a line of its own as `note:`."
    if word.split(" ")[0] in _NUMBER_WORDS:
        fix = "Write numbers in digits."
    elif word.startswith("x "):
        fix = "Write the number of sets first: `3 x 8`."
    report.add(
        "field-not-read", "error", line.number, line.column + low, line.column + max(high, low + 1),
        f"`{short(text[low:high])}` was not understood.",
        "A line holds sets, repetitions or a time, load, effort, tempo and rests; the rest of the line was read.",
        fix,
    )  # fmt: skip
