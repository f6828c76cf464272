"""One pasted line as the head of a part: weeks, a day, a warm-up, a superset, some rounds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range
from ferrule.programme.heads import read_head

_WEEKS = re.compile(
    r"(?:weeks?|wks?|w)\.?\s*(\d{1,2})(?:\s*(?:-|to|&|and|/|\+)\s*(\d{1,2}))?\s*(?:[:.,(-]|$)\s*(.*)$", re.IGNORECASE
)
_PHASE = re.compile(
    r"(?:phase|block|cycle|part|month)\s+(\w{1,5})\b(.*?)[\s(,:-]*(?:weeks?|wks?)\.?\s*(\d{1,2})(?:\s*(?:-|to|&|and)\s*(\d{1,2}))?\s*\)?(.*)$",
    re.IGNORECASE,
)
_DAY = re.compile(r"(day|session|workout|strength|gym|routine)\s*(\d{1,2}|[A-F]|one|two|three|four|five)\b(?!\s*x\s*\d)\s*(.*)$", re.IGNORECASE)  # fmt: skip
_TRAINS = re.compile(r"\b(?:session|strength|gym|home|workout|legs?|core)\b", re.IGNORECASE)
_DOSES = re.compile(r"\d\s*x|x\s*\d|\d\s*(?:sets?|reps?|s\b|sec|kg|/)", re.IGNORECASE)
_WEEKDAY = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs|ur)?(?:day)?s?\b\.?\s*(.*)$", re.IGNORECASE)
_MINUTES = re.compile(r"\(?\s*(?:about|approx\.?|around|~|c\.)?\s*(\d{1,3})(?:\s*-\s*(\d{1,3}))?\s*(?:minutes|mins?|')\.?\s*(?:max|total)?\s*\)?", re.IGNORECASE)  # fmt: skip
_NO_SESSION = re.compile(r"(?:rest|off|easy|run|long|interval|tempo|recovery|bike|swim|race|travel|no\b|day off|hills?|track|club)", re.IGNORECASE)  # fmt: skip
_PAIR = re.compile(r"(?:super[\s-]?sets?|pair(?:ed)?(?: sets?)?|couplet)\b\s*", re.IGNORECASE)
_CIRCUIT = re.compile(r"(?:tri[\s-]?sets?|giant[\s-]?sets?|circuit)\b\s*", re.IGNORECASE)
_WARM = re.compile(r"warm(?:ing)?[\s-]?up\b\s*", re.IGNORECASE)
_ROUNDS = re.compile(
    r"(?:x\s*)?(\d{1,2}(?:\s*-\s*\d{1,2})?)\s*(?:x|rounds?)\s*(?:of|through)?\s*(?=$|[:,(-]|rest|with)", re.IGNORECASE
)
_MAIN = re.compile(
    r"(?:main(?: set| work| part| session)?|strength|straight(?: sets?)?|work|exercises?)\s*[:.-]*$", re.IGNORECASE
)
_NUMBER_WORDS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5"}
_DAYS = {d: n for n, d in enumerate(("mon", "tue", "wed", "thu", "fri", "sat", "sun"), 1)}


@dataclass(slots=True)
class PastedHead:
    """A part that begins. rest: words of the line that are not of the head itself (a note, or items in a row).

    guess   what was taken for granted, in words; empty when nothing was
    """

    kind: Literal["cycle", "session", "block"]
    text: str = ""
    label: str = ""
    name: str = ""
    weeks: tuple[int, int] | None = None
    minutes: int | None = None
    day: int | None = None
    block: BlockKind | Literal["rounds"] = "straight"
    sets: Range | None = None
    rest_s: Range | None = None
    between_s: Range | None = None
    rest: str = ""
    guess: str = ""


def is_weekday(text: str) -> bool:
    """Does the line speak of a day of the week, as `Tue: easy run` does?"""
    found = _WEEKDAY.match(text)
    return found is not None and found.group(2)[:1] in ("", ":", ",", "-", "(")


def read_pasted_head(text: str) -> PastedHead | None:
    """The line as a head; None when it is none. text: plain signs, no list mark."""
    return _cycle(text) or _session(text) or _block(text)


def _cycle(text: str) -> PastedHead | None:
    found = _PHASE.match(text)
    if found and len(text) < 90:
        low = int(found.group(3))
        high = int(found.group(4) or low)
        name = " ".join(f"{found.group(2)} {found.group(5)}".split()).strip(" ,:-()")
        return PastedHead(
            "cycle", label=_NUMBER_WORDS.get(found.group(1).lower(), found.group(1)), name=name, weeks=(low, high)
        )
    found = _WEEKS.match(text)
    if found and len(text) < 90 and not re.search(r"\d\s*x\s*\d|\d\s*(?:sets|reps|s\b|kg)", found.group(3)):
        low = int(found.group(1))
        high = int(found.group(2) or low)
        return (
            PastedHead("cycle", name=found.group(3).strip(" ,:-()"), weeks=(low, high))
            if low <= high and low > 0
            else None
        )
    return None


def _session(text: str) -> PastedHead | None:
    found = _DAY.match(text)
    guess = ""
    day: int | None = None
    label = ""
    if found:
        label = _NUMBER_WORDS.get(found.group(2).lower(), found.group(2).upper())
        rest = found.group(3)
        if found.group(1).lower() in ("strength", "gym", "routine"):
            rest = f"{found.group(1).capitalize()} {rest}" if rest.strip(" :") else found.group(1).capitalize()
        if found.group(1).lower() == "day":
            guess = f"`{found.group(1)} {found.group(2)}` was read as session {label}, on any day."
        other = _WEEKDAY.match(rest.strip(" (:,-"))
        if other and re.match(r"$|[\s):,-]", other.group(2)[:1] or " "):
            day, rest = _DAYS[other.group(1).lower()], other.group(2)
    else:
        found = _WEEKDAY.match(text)
        if not found or (
            found.group(2)
            and found.group(2)[:1] not in ":,(-."
            and len(found.group(2).split()) > 3
            and not (_TRAINS.search(found.group(2)) and len(found.group(2).split()) < 7)
        ):
            return None
        day, rest = _DAYS[found.group(1).lower()], found.group(2)
        if _NO_SESSION.match(rest.strip(" :,(-.")):
            return None
    if len(text) > 100 and not re.search(r"[;,+]", rest):
        return None
    name = rest.strip(" :,-.")
    minutes = None
    time = _MINUTES.search(name)
    if time:
        minutes = int(time.group(2) or time.group(1))
        name = " ".join(f"{name[: time.start()]} {name[time.end() :]}".split()).strip(" :,-.()")
    name = name.strip("() ")
    if _DOSES.search(name):
        return PastedHead("session", label=label, minutes=minutes, day=day, rest=rest.strip(" :,-."), guess=guess)
    return PastedHead("session", label=label, name=name, minutes=minutes, day=day, guess=guess)


def _block(text: str) -> PastedHead | None:
    for pattern, kind in ((_WARM, "warm-up"), (_PAIR, "pair"), (_CIRCUIT, "circuit")):
        found = pattern.match(text)
        if found and (len(text) < 40 or re.match(r"[:(x\d,-]|[A-H]\b", text[found.end() :])):
            return _with_fields(kind, text[found.end() :])
    found = _ROUNDS.match(text)
    if found:
        return _with_fields("rounds", text)
    if _MAIN.match(text):
        return PastedHead("block")
    whole = read_head(text.rstrip(" :"))
    if whole is not None and whole.whole and whole.kind == "block":
        return PastedHead(
            "block",
            block=whole.block,
            label=whole.label,
            sets=whole.sets,
            rest_s=whole.rest_s,
            between_s=whole.between_s,
        )
    return None


def _with_fields(kind: str, rest: str) -> PastedHead:
    """Rounds and rests of the head, piece by piece; what does not read stays as `rest`."""
    head = PastedHead("block", block=kind)  # type: ignore[arg-type]
    label = re.match(r"\s*([A-H]|\d{1,2})(?=\s*(?:$|[:,(-]))", rest)
    if label:
        head.label, rest = label.group(1).upper(), rest[label.end() :]
    left: list[str] = []
    for piece in re.split(r"[,;:()]|\s-\s", rest):
        words = re.sub(r"\b(?:of|through|with|and then|then)\s*$", "", piece.strip(" .-"), flags=re.IGNORECASE).strip()
        words = re.sub(r"^(?:with|then)\s+", "", words, flags=re.IGNORECASE)
        if not words:
            continue
        fields = read_block_fields(words)
        if fields is None:
            left.append(piece.strip())
        else:
            head.sets, head.rest_s, head.between_s = (
                fields[0] or head.sets,
                fields[1] or head.rest_s,
                fields[2] or head.between_s,
            )
    head.rest = ", ".join(left)
    return head


def read_block_fields(words: str) -> tuple[Range | None, Range | None, Range | None] | None:
    """(sets or rounds, rest, between) of words such as `3 rounds` or `60s rest between exercises`; None when they are none."""
    head = read_head(f"Pair A, {words.rstrip('.')}")
    if head is None or not head.whole or any(s.level == "error" for s in head.slips):
        return None
    found = (head.sets, head.rest_s, head.between_s)
    return None if found == (None, None, None) else found
