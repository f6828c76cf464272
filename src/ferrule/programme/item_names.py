"""Where the name of an item ends, and which exercise it is."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TypeVar

from ferrule.library.names import BY_METRES
from ferrule.model.programme import Dose, Named, Slot
from ferrule.programme.field_words import KEYWORDS
from ferrule.programme.fields import FieldReader
from ferrule.programme.hints import fix_of_field
from ferrule.programme.markdown import Line
from ferrule.programme.naming import Names, fold, nearest_patterns, read_slot
from ferrule.programme.report import Report, short
from ferrule.programme.scan import scan

_MARKS = "*_`"
LONG_S = 120
"""From this long a time on, a name with two meanings is the one that is counted in minutes."""
E = TypeVar("E", Named, Slot, Named | Slot)


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
        skip = _SKIP.match(text, end)
        return Named(found[0], found[1]), FieldReader(text).read(skip.end() if skip else end), True
    turned = _name_after_dose(text, start + lead, line, names, report)
    if turned is not None:
        return turned
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


def _name_after_dose(
    text: str, start: int, line: Line, names: Names, report: Report
) -> tuple[Named | Slot, FieldReader, bool] | None:
    """`3x8 Step-up, 2 RIR`: told, and read as `Step-up: 3 x 8, 2 RIR`. Finding: name-after-dose."""
    if not text[start : start + 1].isdigit():
        return None
    for word in [t for t in scan(text, start) if t.kind == "word"][:8]:
        found = names.longest(text[word.start :])
        if not found:
            continue
        end = word.start + found[2]
        reader = FieldReader(text[: word.start] + "," + " " * (found[2] - 1) + text[end:]).read(start)
        if reader.unread or not reader.understood:
            return None
        report.add(
            "name-after-dose", "advice", line.number, line.column + word.start, line.column + end,
            f"The name `{short(text[word.start : end])}` stands after its dose.", "A list is read by the names at the start of its lines.",
            f"Write `{found[0]}: {' '.join(text[start : word.start].split())}`.",
        )  # fmt: skip
        return Named(found[0], found[1]), reader, True
    return None


_SKIP = re.compile(r"[\s*_`]*[-,;=]?\s*")
_NO_NAMES: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), fix)
    for pattern, fix in (
        (r"(?:rest|recovery|recover|break)\b", "A rest is no item: write `rest 60 s` in the head of the block, or in the line before."),
        (r"(?:super|tri|giant)[- ]?set|pair\b|circuit\b", "Write `Pair A, 3 rounds` as a head, and each exercise in a line of its own below it."),
        (r".+(?: \+ | & | into | then ).+", "Write each exercise in a line of its own; in a pair or circuit they are done in turn."),
        (r"(?:warm|cool)[- ]?(?:up|down)", "Write it as a head: `Warm-up, 5 min: Easy jog`, or with its exercises below it."),
    )
)  # fmt: skip
"""What stands where a name should and is none."""

_EITHER = re.compile(r"\s+or\s+", re.IGNORECASE)
MOST_EITHER = 4


def by_amount(exercise: E, dose: Dose) -> E:
    """`Row: 500 m` and `Row: 10 min` are the machine, `Row: 10` the exercise: what the name means with this amount."""
    if not isinstance(exercise, Named) or (meant := BY_METRES.get(fold(exercise.text))) is None:
        return exercise
    seconds = dose.hold_s or dose.work_s
    if dose.distance_m is None and (seconds is None or seconds.high < LONG_S):
        return exercise
    return replace(exercise, variant_id=meant)


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
        others.append(
            Named(one[0][:1].upper() + one[0][1:], one[1]) if one else Named(written[:1].upper() + written[1:], None)
        )
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
    if _unknown(written, start, colon, line, names, report, ended=True):
        reader.unread.clear()  # what follows no name is not held against the fields of one
        return Named(written, None), reader, False
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


def _unknown(written: str, start: int, end: int, line: Line, names: Names, report: Report, *, ended: bool) -> bool:
    near = names.nearest(written)
    other = next((fix for pattern, fix in _NO_NAMES if pattern.match(written)), "")
    nearest = other or (
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
    return bool(other)


def tell_unread(text: str, low: int, high: int, line: Line, report: Report) -> None:
    """Tells the stretch `low` to `high` of `text`, from 0, that no field was found in. Finding: field-not-read."""
    report.add(
        "field-not-read", "error", line.number, line.column + low, line.column + max(high, low + 1),
        f"`{short(text[low:high])}` was not understood.",
        "A line holds sets, repetitions or a time, load, effort, tempo and rests; the rest of the line was read.",
        fix_of_field(text[low:high]),
    )  # fmt: skip
