"""Spellings of other trades' habits that can mean one thing only, and those that are told and read all the same."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass

from ferrule.model.quantity import Load, Range, number
from ferrule.programme.amounts import TIME_UNITS
from ferrule.programme.field_words import BANDS, COLOURS, KG_WORDS, REP_WORDS, SET_WORDS
from ferrule.programme.more_fields import MoreFields
from ferrule.programme.scan import Token

NUMBER_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30,
}  # fmt: skip
_AFTER_NUMBER = frozenset([*SET_WORDS, *REP_WORDS, *TIME_UNITS, *KG_WORDS])
_AFTER_LARGER = _AFTER_NUMBER | frozenset(["", ",", ";", "x", "each", "per", "a", "/", "total", "alternating"])
_YARDS = {"yard": 0.9144, "yards": 0.9144, "yd": 0.9144, "yds": 0.9144, "feet": 0.3048, "ft": 0.3048, "mile": 1609.344, "miles": 1609.344}  # fmt: skip
_TO = frozenset(["till", "til", "until"])
_FROM_FAILURE = (
    ("shy", "of", "failure"), ("short", "of", "failure"), ("from", "failure"), ("off", "failure"), ("before", "failure"),
    ("shy",),
)  # fmt: skip
_FROM = frozenset(words[0] for words in _FROM_FAILURE)
_EFFORTS = frozenset(["effort", "intensity", "rpe"])
_LOWER = frozenset(["lower", "lowering", "down", "eccentric"])
_LIFT = frozenset(["up", "lift", "raise", "concentric"])
_TRADE_WORDS = frozenset(
    [*_TO, *_LOWER, *_LIFT, "from", *_EFFORTS, *BANDS, *COLOURS, "x", "w", "leave", "leaving", "keep", "keeping", "stop", "stopping", "cadence", "speed", "body",
     "each", "per"]
)  # fmt: skip
"""What these forms can begin with: most lines hold none of them."""


@dataclass(slots=True)
class TradeFields(MoreFields):
    """`_trade_number` and `_trade_word` come before the common forms; None leaves the place to them."""

    def _digits(self) -> None:
        """`three rounds`: told once a line, and read as 3."""
        if not any(token[1] in NUMBER_WORDS for token in self.tokens):
            return
        told = False
        for at, token in enumerate(self.tokens):
            value = NUMBER_WORDS.get(token.low) if token.kind == "word" else None
            if value is None or (at and self.low(at - 1) in ("add", "on")):
                continue
            if self.low(at + 1) not in (_AFTER_NUMBER if value <= 2 else _AFTER_LARGER):
                continue
            if not told:
                self.slip(
                    "number-as-word", "advice", at, at + 1, f"`{self.piece(at, at + 1)}` was read as {value}.",
                    "Numbers are found faster in digits.", f"Write `{value}`, and every number, in digits.",
                )  # fmt: skip
            told = True
            self.tokens[at] = Token("num", str(value), float(value), token.start, token.end)

    def _trade_number(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        unit = self.low(after)
        if unit == "#":
            return self._pounds(at, amount)
        if unit in _YARDS:
            metres = Range(float(round(min(low, high) * _YARDS[unit])), float(round(max(low, high) * _YARDS[unit])))
            self.slip(
                "not-metres", "error", at, after + 1, f"`{self.piece(at, after + 1)}` is not in metres.",
                "Distances are in metres.", f"Write `{metres} m`.",
            )  # fmt: skip
            return after + 1
        if unit in ("count", "counts"):
            value = self.range_of(low, high, at, after)
            self.slip(
                "unit-unclear", "advice", at, after + 1, f"`{self.piece(at, after + 1)}` was read as seconds.",
                "Counts run faster than seconds when it gets hard.", f"Write `{value} s`.",
            )  # fmt: skip
            return self._timed(at, value, after + 1)
        if unit == "rm" and self.numbers(after + 1) and low == high == 1:
            share = self.numbers(after + 1)
            if share is not None and self.low(share[2]) == "%":
                return self._put_percent_of_1rm(share, at, after + 1)
        end = self._reps_from_failure(at, amount)
        if end is not None:
            return end
        if unit == "/" and self.low(after + 1) == "10" and self.low(after + 2) in _EFFORTS:
            return self._rpe(low, high, at, after + 3)
        if unit == "/" and self.kind(after + 1) == "num":
            twice = self._same_on_both(at, amount)
            if twice is not None:
                return twice
        return self._digits_of_tempo(at, amount)

    def _same_on_both(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """`10/10`: the same number twice is each side's."""
        low, high, after = amount
        end = after + 2
        if (
            low != high
            or self.tokens[after + 1].value != low
            or self.low(end) not in ("", ",", ";", ".", ")", "reps", "@")
        ):
            return None
        if self.bare != "reps" or not low.is_integer() or low < 1 or "reps" in self.values:
            return None
        self.slip(
            "sides-unclear", "advice", at, end, f"`{self.piece(at, end)}` was read as {number(low)} on each side.",
            "A stroke may also part sets.", f"Write `{number(low)}/side`, or `sets {number(low)}, {number(low)}`.",
        )  # fmt: skip
        self.values["sides"] = "each"
        return self._reps(low, high, at, end + (self.low(end) == "reps"))

    def _put_percent_of_1rm(self, share: tuple[float, float, int], at: int, lead: int) -> int:
        self.tokens.insert(share[2] + 1, self.tokens[share[2]]._replace(kind="num", low="1"))
        self.tokens.insert(share[2] + 2, self.tokens[share[2]]._replace(kind="word", low="rm"))
        return self._percent(lead, at) or share[2] + 1

    def _reps_from_failure(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        lead = after + (self.low(after) in REP_WORDS)
        if self.low(lead) not in _FROM:
            return None
        for words in _FROM_FAILURE:
            if self.words(lead, *words):
                return self._rir(low, high, at, lead + len(words))
        return None

    def _digits_of_tempo(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """`8, 3010`: four figures beside repetitions can be a tempo only."""
        digits = self.low(at)
        alone = self.low(amount[2]) in ("", ",", ";", "tempo") and amount[2] == at + 1
        if not (alone and "reps" in self.values and "tempo" not in self.values and digits.isdigit()):
            return None
        if len(digits) not in (3, 4) or int(digits) % 50 == 0:
            return None
        shown = "-".join(digits)
        self.slip(
            "tempo-without-word", "advice", at, amount[2], f"`{digits}` was read as tempo {shown}.",
            "The line already counts repetitions; three or four figures are the seconds of one.", f"Write `tempo {shown}`.",
        )  # fmt: skip
        read = self._tempo(at)
        return None if read is None else amount[2] + (self.low(amount[2]) == "tempo")

    def _number_for_each_set(self, at: int) -> int | None:
        """`12/10/8`: no tempo has such seconds; repetitions of one set after the other."""
        if "reps" in self.values or self.bare != "reps":
            return None
        parts, here = [self.tokens[at].low], at + 1
        sign = self.low(here)
        while self.low(here) == sign and sign in ("-", "/") and self.kind(here + 1) == "num":
            parts.append(self.tokens[here + 1].low)
            here += 2
        counts = [int(p) for p in parts if p.isdigit() and 0 < int(p) < 200]
        if len(counts) != len(parts) or len(parts) < 3 or (max(counts) < 10 and sum(counts) <= 15):
            return None
        shown = ", ".join(str(c) for c in counts)
        self.slip(
            "sets-without-word", "advice", at, here, f"`{self.piece(at, here)}` was read as repetitions, a number for each set.",
            "Three numbers could also be a tempo, but these are too long for one.", f"Write `sets {shown}`.",
        )  # fmt: skip
        return self._put_amount("per_set", tuple(counts), at, here)

    def _trade_word(self, word: str, at: int) -> int | None:
        if word not in _TRADE_WORDS:
            return None
        nxt = at + 1
        if word in _TO and self.low(nxt) == "failure":
            return self._failure(at, nxt + 1)
        if word == "x" and self.kind(nxt) == "num" and not self.values:
            amount = self.numbers(nxt)
            return None if amount is None else self._reps(amount[0], amount[1], at, amount[2])
        if word == "w" and self.low(nxt) == "/":
            if self.low(nxt + 1) == "o" and self.low(nxt + 2) in ("weight", "load", "weights"):
                return self._put("load", Load(none=True), at, nxt + 3)
            return self._field_at(nxt + 1)
        if word in ("leave", "leaving", "keep", "keeping", "stop", "stopping"):
            amount = self.numbers(nxt)
            if amount is None:
                return None
            lead = amount[2] + (self.low(amount[2]) in REP_WORDS)
            end = self._reps_from_failure(nxt, amount) or 0
            if not end and self.low(lead) == "short":
                end = self._rir(amount[0], amount[1], at, lead + 1)
            reserve = self._reserve(lead) or self._reserve(amount[2])
            return end or (self._rir(amount[0], amount[1], at, reserve) if reserve else None)
        if word in _EFFORTS:
            amount = self.numbers(nxt + (self.low(nxt) in (":", "=", "@", "of")))
            if amount is None:
                return None
            for words in (("/", "10"), ("of", "10"), ("out", "of", "10")):
                if self.words(amount[2], *words):
                    return self._rpe(amount[0], amount[1], at, amount[2] + len(words))
            return None
        if word in _LOWER or word in _LIFT:
            return self._phase_word(word, at)
        if word == "from":
            amount = self.numbers(nxt)
            return None if amount is None or self.low(amount[2]) != "cm" else self._field_at(nxt)
        if word in ("cadence", "speed") and self._tempo_digits(nxt + (self.low(nxt) == ":")) is not None:
            return self._tempo(nxt)
        if word == "body" and self.words(nxt, "-", "weight"):
            return self._put("load", Load(none=True), at, nxt + 2 + (self.low(nxt + 2) == "only"))
        if word in ("each", "per") and self.low(nxt) == "hand":
            amount = self.numbers(nxt + 1)
            if amount is not None and self.low(amount[2]) in KG_WORDS:
                return self._kilograms(nxt + 1, amount, each_hand=True)
        return self._band(word, at)

    def _phase_word(self, word: str, at: int) -> int | None:
        """`lower in 4 s`, `down over 3 s`, `up in 2 s`: seconds of one phase."""
        lead = at + 1
        while self.low(lead) in ("in", "over", "for", "the", "leg", "slowly", ":"):
            lead += 1
        timed = self.time(lead)
        if timed is None:
            return None
        self.phase_at = self.phase_at or (at, timed[1])
        return self._put("down_s" if word in _LOWER else "up_s", timed[0], at, timed[1])

    def _band(self, word: str, at: int) -> int | None:
        """`medium miniband`, `red mini band`."""
        lead = at + 1
        end = lead + 1 if self.low(lead) in ("miniband", "minibands") else 0
        if self.low(lead) in ("mini", "loop"):
            end = lead + 1 + (self.low(lead + 1) == "-")
            end = end + 1 if self.low(end) in ("band", "bands") else 0
        if not end:
            return None
        if word in BANDS:
            return self._place(Load(band=BANDS[word]), at, end)
        if word in COLOURS:
            self._colour(at, end)
            return end
        return None

    def _colour(self, at: int, end: int) -> None:
        self.slip(
            "band-colour", "error", at, end, f"`{self.piece(at, end)}` names a band by its colour.",
            "Makers use different colours for the same pull.", "Write `thin band`, `medium band` or `thick band`.",
        )  # fmt: skip

    @abstractmethod
    def _field_at(self, at: int) -> int | None:
        """Reads the field that begins at `at`: the place after it, None when none does."""

    def _second_sets(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """`1x20, 2x15`: sets that differ are one list."""
        held, reps = self.values.get("sets"), self.values.get("reps")
        second = self.numbers(amount[2] + 1)
        if held is None or reps is None or second is None or self.low(second[2]) in KG_WORDS:
            return None
        counts = [reps.low] * int(held.low) + [second[0]] * int(min(amount[0], 20))
        each = ", ".join(number(c) for c in counts)
        self.slip(
            "said-twice", "error", at, second[2], f"`{self.piece(at, second[2])}` gives more sets beside `{held} x {reps}`.",
            "A line holds one list of sets; the first was kept.", f"Write a number for each set: `sets {each}`.",
        )  # fmt: skip
        return self._sides(second[2])
