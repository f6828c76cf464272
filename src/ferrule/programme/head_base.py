"""The fields of structure lines: rounds and rests of blocks, and the finding of what is no field."""

from __future__ import annotations

import difflib
from abc import ABC, abstractmethod

from ferrule.model.quantity import Range
from ferrule.programme.amounts import Amounts, Slip
from ferrule.programme.head import Head
from ferrule.programme.hints import fix_of_head
from ferrule.programme.scan import Token, scan
from ferrule.programme.trade_fields import NUMBER_WORDS

_ROUND_WORDS = frozenset(["rounds", "round", "sets", "set", "x", "times", "rds", "rd"])


class HeadBase(Amounts, ABC):
    """Reads the fields of a head, commas or not. `HeadReader` adds what is particular to each kind."""

    def __init__(self, text: str, every: list[Token] | None = None) -> None:
        super().__init__(text)
        self.every = scan(text) if every is None else every
        self.missed = False
        self.understood = 0

    def read(self, head: Head, start: int, end: int) -> None:
        self.tokens = [t for t in self.every if start <= t.start < end and t.low not in "()"]
        if head.kind == "block":
            self._digits()
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
                self.unread(self.start(missed_from), self.end_before(at), head.kind)
                missed_from = None
            self.understood += 1
            at = after
        if missed_from is not None:
            self.unread(self.start(missed_from), self.end_before(len(self.tokens)), head.kind)

    def read_name(self, head: Head, start: int) -> int:
        """Reads the fields that end the name (`calf and hip, 35 min`); gives the place where the name ends."""
        end = len(self.text.rstrip())
        while True:
            comma = self.text.rfind(",", start, end)
            low = comma + 1 if comma >= 0 else start
            probe = type(self)(self.text, self.every)
            trial = Head(head.kind, head.first_word)
            probe.read(trial, low, end)
            if not probe.understood or probe.missed:
                return end
            self.read(head, low, end)
            end = comma if comma >= 0 else start
            if comma < 0:
                return start

    def _digits(self) -> None:
        """`three rounds`: told, and read as 3."""
        for at, token in enumerate(self.tokens):
            if token.low in NUMBER_WORDS and self.low(at + 1) in _ROUND_WORDS:
                value = NUMBER_WORDS[token.low]
                self.slip(
                    "number-as-word", "advice", at, at + 1, f"`{self.piece(at, at + 1)}` was read as {value}.",
                    "Numbers are found faster in digits.", f"Write `{value}`, and every number, in digits.",
                )  # fmt: skip
                self.tokens[at] = Token("num", str(value), float(value), token.start, token.end)

    def unread(self, start: int, end: int, kind: str, *, name: bool = False) -> None:
        self.missed = True
        end = start + len(self.text[start:end].rstrip(" ,;"))
        what = self.text[start:end].strip()
        self.slips.append(
            Slip(
                "head-not-read", "error", start, end, f"`{what[:60]}` was not understood in the head of a part.",
                "A head says what kind of part begins; what it holds beyond that is fixed.",
                fix_of_head(what, kind, name=name),
            )
        )  # fmt: skip

    def _field(self, head: Head, at: int) -> int | None:
        if head.kind == "block":
            return self._block_field(head, at) or self._more_block(head, at)
        if head.kind == "session":
            return self._session_field(head, at)
        return self._cycle_field(head, at)

    @abstractmethod
    def _more_block(self, head: Head, at: int) -> int | None:
        """Reads a field of a block's head that this module does not: the place after it, None when it is none."""

    @abstractmethod
    def _session_field(self, head: Head, at: int) -> int | None:
        """The same for the head of a session."""

    @abstractmethod
    def _cycle_field(self, head: Head, at: int) -> int | None:
        """The same for the head of a cycle."""

    def _block_field(self, head: Head, at: int) -> int | None:
        if self.words(at, "no", "rest", "between"):
            head.between_s = Range.of(0)
            return at + 3 + (self.low(at + 3) in ("exercises", "exercise"))
        if self.low(at) == "repeat" and self.kind(at + 1) == "num":
            at += 1
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
        if self.low(after) in _ROUND_WORDS or lead > at:
            head.sets = self.range_of(numbers[0], numbers[1], lead, after)
            self._whole_and_more_than_none(head, lead, after)
            end = after + (self.low(after) in _ROUND_WORDS)
            return end + (self.low(end) == "each")
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
