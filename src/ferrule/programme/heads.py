"""The lines that give a programme its structure, told by their first word: cycle, week, session, day and block heads."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Literal

from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range
from ferrule.programme.amounts import Amounts, Slip
from ferrule.programme.scan import Token, plain, scan

HeadKind = Literal["cycle", "week", "session", "block"]

_FIRST = re.compile(
    r"(?P<cycle>cycle|phase)|(?P<week>weeks?|wks?)|(?P<session>session|day|workout)"
    r"|(?P<warm>warm(?:[ -]?up)?s?)|(?P<straight>straight(?: sets?)?)|(?P<pair>pair|superset)|(?P<circuit>circuit)",
    re.IGNORECASE,
)
_AFTER = re.compile(r"(?=$|[\s,:;(-])")
_LABEL = re.compile(
    r"\s+([A-Za-z]{1,2}|[A-Za-z]?\d{1,2}[A-Za-z]?)(?=\s*(?:$|[,:;(]|\s-\s|\s\d|\s(?:rest|no|between|weeks?|day)\b))"
)
_KINDS: dict[str, BlockKind] = {"warm": "warm-up", "straight": "straight", "pair": "pair", "circuit": "circuit"}
_WEEK_SPAN = re.compile(r"\s*(\d{1,4})(?:\s*(?:-|to)\s*(\d{1,4}))?(?=\s*(?:$|[,:;(]|\s-\s))")
_DAYS = {"mon": 1, "tue": 2, "wed": 3, "thu": 4, "fri": 5, "sat": 6, "sun": 7}
_DAY_WORD = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs|ur)?(?:day)?s?$")


@dataclass(slots=True)
class Head:
    """A structure line as read. `whole` is False when some of it could not be read (then `slips` say what)."""

    kind: HeadKind
    first_word: str
    label: str = ""
    name: str = ""
    weeks: tuple[int, int] | None = None
    minutes: int | None = None
    day: int | None = None
    block: BlockKind = "straight"
    sets: Range | None = None
    rest_s: Range | None = None
    between_s: Range | None = None
    whole: bool = True
    looks_like_prose: bool = False
    slips: tuple[Slip, ...] = ()


def is_head(text: str) -> bool:
    """Does the line parse whole as a structure line?"""
    head = read_head(text)
    return head is not None and head.whole


def read_head(text: str) -> Head | None:
    """The line as a structure line; None when its first word is not one of the structure words."""
    bare = re.sub(r"^[#*_\s]+", "", text)
    shift = len(text) - len(bare)
    found = _FIRST.match(bare)
    if not found or not _AFTER.match(bare, found.end()):
        return None
    body = plain(text.replace("*", " ").replace("__", "  "))
    group = found.lastgroup or ""
    kind: HeadKind = "block" if group in _KINDS else group  # type: ignore[assignment]
    head = Head(kind, found.group().lower(), block=_KINDS.get(group, "straight"))
    at = shift + found.end()
    if kind == "week":
        span = _WEEK_SPAN.match(body, at)
        if span:
            head.weeks = (int(span.group(1)), int(span.group(2) or span.group(1)))
            head.label = (
                f"week {head.weeks[0]}" if head.weeks[0] == head.weeks[1] else f"weeks {head.weeks[0]}-{head.weeks[1]}"
            )
            at = span.end()
        else:
            head.whole = False
    else:
        label = _LABEL.match(body, at)
        if label:
            head.label = label.group(1).upper() if label.group(1).isalpha() else label.group(1)
            at = label.end()
    if head.first_word == "day":
        head.day = int(head.label) if head.label.isdigit() else None
    reader = _HeadReader(body)
    colon = _colon(body, at)
    reader.read(head, at, len(body) if colon is None else colon)
    if colon is not None:
        name_end = reader.read_name(head, colon + 1)
        head.name = " ".join(body[colon + 1 : name_end].strip(" ,-:").split())
        if kind == "block" and head.name:
            reader.unread(colon + 1, name_end)
    head.slips = tuple(reader.slips)
    head.whole = head.whole and not reader.missed
    rest = body[at:].strip()
    head.looks_like_prose = bool(rest) and rest[:1].islower() and not head.label and reader.understood == 0
    return head


def _colon(body: str, start: int) -> int | None:
    for place in range(start, len(body)):
        if body[place] == ":" and not (body[place - 1 : place].isdigit() and body[place + 1 : place + 3].isdigit()):
            return place
        if body[place] == "-" and body[place - 1 : place] == " " and body[place + 1 : place + 2] == " ":
            before, after = body[:place].rstrip()[-1:], body[place + 1 :].lstrip()[:1]
            if not (before.isdigit() and after.isdigit()):
                return place
    return None


class _HeadReader(Amounts):
    """Reads the fields of a head, commas or not."""

    def __init__(self, text: str, every: list[Token] | None = None) -> None:
        super().__init__(text)
        self.every = scan(text) if every is None else every
        self.missed = False
        self.understood = 0

    def read(self, head: Head, start: int, end: int) -> None:
        self.tokens = [t for t in self.every if start <= t.start < end and t.low not in "()"]
        at, missed_from = 0, None
        while at < len(self.tokens):
            if self.low(at) in ",;" and missed_from is None:
                at += 1
                continue
            after = self._field(head, at)
            if after is None or after <= at:
                missed_from = at if missed_from is None else missed_from
                at += 1
                continue
            if missed_from is not None:
                self.unread(self.start(missed_from), self.end_before(at))
                missed_from = None
            self.understood += 1
            at = after
        if missed_from is not None:
            self.unread(self.start(missed_from), self.end_before(len(self.tokens)))

    def read_name(self, head: Head, start: int) -> int:
        """Reads the fields that end the name (`calf and hip, 35 min`); gives the place where the name ends."""
        end = len(self.text.rstrip())
        while True:
            comma = self.text.rfind(",", start, end)
            low = comma + 1 if comma >= 0 else start
            probe = _HeadReader(self.text, self.every)
            trial = Head(head.kind, head.first_word)
            probe.read(trial, low, end)
            if not probe.understood or probe.missed:
                return end
            self.read(head, low, end)
            end = comma if comma >= 0 else start
            if comma < 0:
                return start

    def unread(self, start: int, end: int) -> None:
        self.missed = True
        what = self.text[start:end].strip()
        self.slips.append(
            Slip(
                "head-not-read", "error", start, end, f"`{what[:60]}` was not understood in the head of a part.",
                "A head says what kind of part begins; what it holds beyond that is fixed.", "",
            )
        )  # fmt: skip

    def _field(self, head: Head, at: int) -> int | None:
        if head.kind == "block":
            return self._block_field(head, at)
        if head.kind == "session":
            return self._session_field(head, at)
        if head.kind == "cycle" and self.low(at) in ("weeks", "week", "wk", "wks"):
            amount = self.numbers(at + 1)
            if amount:
                head.weeks = (int(min(amount[0], 9999)), int(min(amount[1], 9999)))
                return amount[2]
        return None

    def _session_field(self, head: Head, at: int) -> int | None:
        if self.low(at) in ("about", "~"):
            at += 1
        if self.low(at) == "day" and self.kind(at + 1) == "num" and float(self.tokens[at + 1].value).is_integer():
            head.day = int(self.tokens[at + 1].value)
            return at + 2
        day = _DAY_WORD.match(self.low(at)) if self.kind(at) == "word" else None
        if day:
            head.day = _DAYS[day.group(1)]
            return at + 1
        amount = self.time(at)
        if amount and amount[0].high >= 60:
            head.minutes = round(amount[0].high / 60)
            return amount[1]
        return None

    def _block_field(self, head: Head, at: int) -> int | None:
        if self.words(at, "no", "rest"):
            head.rest_s = Range.of(0)
            return at + 2
        if self.low(at) in ("rest", "between"):
            amount = self.time(at + 1, bare=self.low(at))
            if amount is None and self.words(at + 1, "-") and self.kind(at + 2) == "num":
                self._negative(at, at + 3)
                return at + 4 if self.low(at + 3) in ("s", "min", "sec") else at + 3
            if amount is None:
                return None
            return self._place_rest(head, self.low(at), amount[0], amount[1])
        amount = self.time(at)
        if amount and self.low(amount[1]) in ("rest", "between"):
            return self._place_rest(head, self.low(amount[1]), amount[0], amount[1] + 1)
        if (
            self.low(at) == "-"
            and self.kind(at + 1) == "num"
            and self.low(at + 2) in ("rounds", "round", "sets", "set")
        ):
            self._negative(at, at + 3)
            return at + 3
        lead = at + 1 if self.low(at) == "x" else at
        numbers = self.numbers(lead)
        if numbers is None:
            return None
        after = numbers[2]
        self._mend_word(after)
        if self.low(after) in ("rounds", "round", "sets", "set", "x", "times") or lead > at:
            head.sets = self.range_of(numbers[0], numbers[1], lead, after)
            self._whole_and_more_than_none(head, lead, after)
            return after + (self.low(after) in ("rounds", "round", "sets", "set", "x", "times"))
        return None

    def _mend_word(self, at: int) -> None:
        """`3 ruonds`: told, and read as rounds."""
        word = self.low(at)
        if self.kind(at) != "word" or len(word) < 4 or word in ("rounds", "round", "sets", "times", "rest", "between"):
            return
        near = difflib.get_close_matches(word, ("rounds", "round", "sets"), n=1, cutoff=0.7)
        if near:
            token = self.tokens[at]
            self.slip(
                "word-misspelt", "advice", at, at + 1, f"`{self.text[token.start : token.end]}` was read as `{near[0]}`.",
                "It is not one of the words of a head, but near to one.", f"Write `{near[0]}`.",
            )  # fmt: skip
            self.tokens[at] = token._replace(low=near[0])

    def _place_rest(self, head: Head, word: str, value: Range, after: int) -> int:
        end = after
        if self.low(end) == "between":
            end += 1
        if self.low(end) in ("each", "every", "the", "a", "after", "all"):
            end += 1
        if self.low(end) in ("exercises", "exercise", "stations", "station"):
            word, after = "between", end + 1
        elif self.low(end) in ("rounds", "round", "sets", "set", "pairs", "circuits"):
            word, after = "rest", end + 1
        elif end > after and self.low(after) == "between":
            word, after = "between", after + 1
        if word == "rest":
            head.rest_s = value
        else:
            head.between_s = value
        return after

    def _negative(self, first: int, after: int) -> None:
        self.slip(
            "negative-number", "error", first, after, f"`{self.piece(first, after)}` is below zero.",
            "Neither rests nor rounds can be.", "Write the number without the minus; leave it out when it is not stated.",
        )  # fmt: skip

    def _whole_and_more_than_none(self, head: Head, first: int, after: int) -> None:
        if head.sets is None:
            return
        if head.sets.low < 1:
            self.slip(
                "no-rounds", "error", first, after, f"`{self.piece(first, after + 1)}` leaves nothing to do.",
                "A part with no rounds is no part.", "Write the number of rounds, or take the part out.",
            )  # fmt: skip
            head.sets = None
        elif not (head.sets.low.is_integer() and head.sets.high.is_integer()):
            self.slip(
                "number-not-whole", "error", first, after, f"`{self.piece(first, after)}` rounds are not a whole number.",
                "Rounds and sets are whole; a comma needs a space after it.", "Write a whole number.",
            )  # fmt: skip
            head.sets = None
