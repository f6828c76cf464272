"""One pasted line as an item: its name wherever it stands in the line, its dose, and what is left as a note."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ferrule.model.programme import Dose, Named, Slot
from ferrule.programme.fields import FieldReader
from ferrule.programme.naming import Names, read_slot

_LABEL = re.compile(r"([A-H])(\d)?\s*[.):]\s*|([A-H])(\d)\s*[-:]?\s+", re.IGNORECASE)
_BRACKETS = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_DASH = re.compile(r"\s+-{1,2}\s+|\s*--\s*")
_UPS = re.compile(r"\b(up)s\b", re.IGNORECASE)
_OR = re.compile(r"or\b[\s:,]+", re.IGNORECASE)
_SETS_FIRST = re.compile(r"^\s*(?:x\s*)?\d")
_TAIL_SETS = re.compile(r"^(.*?\S)\s*[,x]\s*(\d)\s*(?:x|sets?|rounds?)?\s*$", re.IGNORECASE)
_LOOKS = re.compile(
    r"\d\s*x\s*\d|\bx\s*\d|\d\s*(?:sets?|reps?)\b|\d\s*(?:s|sec|secs|seconds|min|mins)\b", re.IGNORECASE
)


@dataclass(slots=True)
class PastedItem:
    """letter, number: `A` and `1` of `A1)`, empty where none is written;  is_or: an alternative of the item above
    marked   did it stand behind a bullet or a number?
    """

    exercise: Named | Slot
    dose: Dose
    notes: list[str]
    optional: bool = False
    letter: str = ""
    number: str = ""
    is_or: bool = False
    marked: bool = False
    weeks: tuple[int, int | None] | None = None

    @property
    def known(self) -> bool:
        return isinstance(self.exercise, Slot) or self.exercise.variant_id is not None


def read_item(text: str, names: Names, *, marked: bool) -> PastedItem | None:
    """The line as an item, or None when it does not read as one.

    text    plain signs, without its list mark
    marked  did the line begin like an item of a list? Else it must read as a prescription to be taken for one
    """
    letter = number = ""
    label = _LABEL.match(text)
    if label and text[label.end() :].strip():
        letter, number = (label.group(1) or label.group(3)).upper(), label.group(2) or label.group(4) or ""
        if letter and not number and not re.match(r"[A-H]\s*[.):]", text, re.IGNORECASE):
            letter = ""
        text = text[label.end() :] if letter else text
    lead = _OR.match(text)
    body = text[lead.end() :] if lead else text
    item = _read(body, names, marked=marked or bool(letter) or bool(lead))
    if item is not None:
        item.letter, item.number, item.is_or, item.marked = letter, number, bool(lead), marked
    return item


def _read(text: str, names: Names, *, marked: bool) -> PastedItem | None:
    notes: list[str] = []
    extra: list[str] = []

    def bracket(found: re.Match[str]) -> str:
        inner = " ".join(found.group(1).split())
        if _whole(inner) is not None:
            extra.append(inner)
        elif inner:
            notes.append(inner)
        return " "

    body = " ".join(_BRACKETS.sub(bracket, text).split()).strip(" ,;")
    body = _UPS.sub(r"\1", body)  # `press-ups`: two letters and an s are too short for the reader to take the s away
    body = _part_note(body, notes, names)
    split = _name_and_rest(body, names)
    if split is None:
        return None
    exercise, rest = split
    if isinstance(exercise, Named):
        exercise = replace(exercise, text=exercise.text[:1].upper() + exercise.text[1:])
    rest = ", ".join(p for p in (rest.strip(" ,;:-"), *extra) if p)
    reader = FieldReader(_order(rest)).read()
    known = isinstance(exercise, Slot) or exercise.variant_id is not None
    left = [_order(rest)[a:b].strip(" ,;:-.") for a, b in reader.unread]
    if any(c.isdigit() for piece in left for c in piece) or any(s.level == "error" for s in reader.slips):
        return None
    if not known and not reader.understood:
        return None
    if not marked and not (reader.understood and (_LOOKS.search(text) or (known and len(text) < 60))):
        return None
    if not marked and sum(len(p.split()) for p in left) > 6:
        return None
    return PastedItem(exercise, reader.dose(), [*[p for p in left if p], *notes], reader.optional, weeks=reader.weeks)


def _whole(text: str) -> FieldReader | None:
    reader = FieldReader(text).read()
    return (
        reader
        if reader.understood and not reader.unread and not any(s.level == "error" for s in reader.slips)
        else None
    )


def _part_note(body: str, notes: list[str], names: Names) -> str:
    """The line without the words after a dash; a dash between the name and its dose stands for the colon."""
    found = _DASH.search(body)
    while found:
        before, after = body[: found.start()], body[found.end() :]
        if names.find(before.strip()) or not any(c.isdigit() for c in before):
            return f"{before}: {_part_note(after, notes, names)}" if ":" not in before else body
        if not any(c.isdigit() for c in after):
            notes.insert(0, after.strip())
            return before
        found = _DASH.search(body, found.end())
    return body


def _name_and_rest(body: str, names: Names) -> tuple[Named | Slot, str] | None:
    colon = body.find(":")
    while colon >= 0 and body[colon - 1 : colon].isdigit() and body[colon + 1 : colon + 3].isdigit():
        colon = body.find(":", colon + 1)
    if colon > 0:
        name = body[:colon].strip()
        known = _known(name, names)
        if known is not None:
            return known, body[colon + 1 :]
    known_start = names.longest(body)
    if known_start and re.match(r"$|[\s,:;.x-]", body[known_start[2] :]):
        return Named(known_start[0], known_start[1]), body[known_start[2] :]
    if body.lower().startswith("any "):
        for end in reversed([m.end() for m in re.finditer(r"[\w-]+", body[:60])]):
            slot = read_slot(body[:end].strip(" ,"))
            if slot is not None:
                return slot, body[end:]
    if _SETS_FIRST.match(body):
        return _name_after(body, names)
    if colon > 0 and not any(c.isdigit() for c in body[:colon]):
        return Named(" ".join(body[:colon].split()), None), body[colon + 1 :]
    found = re.search(r"\s(?=x?\s*\d|max\b|amrap\b)", body)
    if found is None or any(c in ".!?" for c in body[: found.start()]) or len(body[: found.start()].split()) > 7:
        return None
    return Named(body[: found.start()].strip(" ,;-"), None), body[found.end() :]


def _known(name: str, names: Names) -> Named | Slot | None:
    found = names.find(name)
    if found is not None:
        return Named(found[0], found[1])
    return read_slot(name)


def _name_after(body: str, names: Names) -> tuple[Named | Slot, str] | None:
    """`3x10 step ups each leg`: the dose before the name."""
    starts = [m.start() for m in re.finditer(r"(?<![\w-])[A-Za-z]", body)][:10]
    for start in starts:
        found = names.longest(body[start:])
        before = re.sub(r"\s*\bof\s*$", "", body[:start])
        if found and _whole(before.strip(" ,")) is not None:
            return Named(found[0], found[1]), f"{before.strip(' ,')}, {body[start + found[2] :].strip(' ,')}"
    return None


def _order(rest: str) -> str:
    """`30 s x 3`, `10 each side x3` with the sets first, and `x10` as a number; anything else as it is."""
    rest = re.sub(r"^of\s+", "", rest.strip())
    found = _TAIL_SETS.match(rest)
    if found and re.search(r"x\s*\d\s*(?:sets?|rounds?|x)?\s*$", rest, re.IGNORECASE):
        before = found.group(1).rstrip(" ,x")
        if (
            not re.match(r"\d+(?:-\d+)?$", before)
            and _whole(before) is not None
            and "sets" not in FieldReader(before).read().values
        ):
            return f"{found.group(2)} x {before}"
    return re.sub(r"^x\s*(?=\d)", "", rest, flags=re.IGNORECASE)
