"""The prescription: the fields after an item's name, read with or without commas. The grammar is docs/notation.md."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field, replace
from typing import Any

from ferrule.model.programme import Dose
from ferrule.model.quantity import Load, Percent, Range, Tempo, number
from ferrule.programme.amounts import METRES, SECONDS, Amounts, Slip
from ferrule.programme.field_words import (
    BANDS,
    COLOURS,
    FREE_BY_WORD,
    KEYWORDS,
    KG_WORDS,
    MAX_WORDS,
    PLACES,
    POUND_WORDS,
    REP_WORDS,
    SET_WORDS,
    SIDE_WORDS,
    UNITS,
)
from ferrule.programme.scan import Token

_SEPARATORS = frozenset(",;()&.")
_AMOUNTS = ("per_set", "reps", "left", "right", "hold_s", "work_s", "distance_m", "contacts", "cluster")


@dataclass(slots=True)
class FieldReader(Amounts):
    """Reads fields into `values` (names of Dose). `unread` are stretches that were not understood, by place.

    bare   what a number alone means: "reps", or the field a by-week row names
    """

    bare: str = "reps"
    values: dict[str, Any] = field(default_factory=dict)
    free: list[str] = field(default_factory=list)
    unread: list[tuple[int, int]] = field(default_factory=list)
    optional: bool = False
    understood: int = 0
    own_time: tuple[int, int] | None = None

    def read(self, start: int = 0) -> FieldReader:
        self.load(start)
        at, missed = 0, None
        while at < len(self.tokens):
            if self.low(at) in _SEPARATORS:
                if missed is not None and self.low(at) in ",;":
                    self._miss(missed, at)
                    missed = None
                at += 1
                continue
            after = None if missed is not None and not self._may_restart(at) else self._field(at)
            if after is None:
                missed = at if missed is None else missed
                at += 1
                continue
            if missed is not None:
                self._miss(missed, at)
                missed = None
            self.understood += 1
            at = after
        if missed is not None:
            self._miss(missed, len(self.tokens))
        return self

    def dose(self) -> Dose:
        """The dose read; repetitions with a hold keep the hold as a pause inside each one."""
        values = dict(self.values)
        if "hold_s" in values and "reps" in values:
            hold = values.pop("hold_s")
            if self.own_time is None:
                values.setdefault("pause_s", hold)
        return marked(Dose(**values), tuple(dict.fromkeys(self.free)))

    def _may_restart(self, at: int) -> bool:
        """After a stretch that was not understood, only a field word starts again before the next comma."""
        return self.low(at) in ("tempo", "rest", "pause", "rir", "rpe", "hold", "note")

    def _miss(self, first: int, after: int) -> None:
        self.unread.append((self.start(first), self.end_before(after)))

    def _put(self, name: str, value: Any, first: int, after: int) -> int:
        """Keeps a field; a second, different one is told and left out."""
        if name in self.values and self.values[name] != value:
            self.slip(
                "said-twice", "error", first, after, f"`{self.piece(first, after)}` says again what the line has said already.",
                "One line can hold each field once; the first was kept.", "Leave one of the two out.",
            )  # fmt: skip
        else:
            self.values[name] = value
        return after

    def _put_amount(self, name: str, value: Any, first: int, after: int) -> int:
        """Keeps what one set holds; only one kind of amount can stand in a line."""
        others = [n for n in _AMOUNTS if n in self.values and n != name and {n, name} != {"left", "right"}]
        if others and {name, *others} != {"reps", "hold_s"}:
            self.slip(
                "two-amounts", "error", first, after,
                f"`{self.piece(first, after)}` is a second amount for the same set.",
                "A set is counted in one thing: repetitions, a time, a distance or contacts.",
                "Leave one of them out, or say what it is: `rest`, `pause`, `work`, `hold`.",
            )  # fmt: skip
            return after
        after = self._put(name, value, first, after)
        return self._sides(after)

    # what a line may hold -------------------------------------------------------------------------------------

    def _field(self, at: int) -> int | None:
        token = self.tokens[at]
        if token.kind in ("num", "clock"):
            return self._from_number(at)
        if token.kind == "word":
            return self._from_word(at)
        return self._from_sign(at)

    def _from_sign(self, at: int) -> int | None:
        sign = self.low(at)
        if sign == "@":
            return self._at_sign(at)
        if sign in (">", "~", "≈") and self.kind(at + 1) == "num":
            return self._percent(at + 1, at, at_least=sign == ">") if sign == ">" else self._about(at)
        if sign == "+" and self.kind(at + 1) == "num":
            amount = self.numbers(at + 1)
            if amount and self.low(amount[2]) in KG_WORDS:
                return self._kilograms(at + 1, amount)
        if sign == "-" and self.kind(at + 1) == "num":
            return self._negative(at, at + 2)
        if sign == "/":
            after = self._sides(at)
            return after if after > at else None
        return None

    def _negative(self, first: int, after: int) -> int:
        unit_after = (
            after + 1
            if self.kind(after) == "word" and self.low(after) in (*SECONDS, *METRES, *KG_WORDS, "min")
            else after
        )
        self.slip(
            "negative-number", "error", first, unit_after, f"`{self.piece(first, unit_after)}` is below zero.",
            "No field of a line can be.", "Write the number without the minus; leave the field out when it is not stated.",
        )  # fmt: skip
        return unit_after

    def _about(self, at: int) -> int | None:
        after = self._field(at + 1) if at + 1 < len(self.tokens) else None
        if after is not None:
            self.free.append("about")
        return after

    def _at_sign(self, at: int) -> int | None:
        amount = self.numbers(at + 1)
        if amount is None:
            return self._field(at + 1) if at + 1 < len(self.tokens) else None
        low, high, after = amount
        unit = self.low(after)
        if unit in KG_WORDS or unit in ("%", "rir", "rpe", "rm", *POUND_WORDS) or self.words(after, "in", "reserve"):
            return self._field(at + 1)
        if high <= 10:
            self.slip(
                "sign-unclear", "advice", at, after, f"`{self.piece(at, after)}` was read as RPE {number(low)}.",
                "The sign alone does not say whether effort, load or percentage is meant.",
                f"Write `RPE {self.piece(at + 1, after)}`, or `{number(max(0, 10 - high))} RIR`.",
            )  # fmt: skip
            return self._rpe(low, high, at, after)
        return None

    def _from_number(self, at: int) -> int | None:
        tempo = self._tempo_digits(at) if self.kind(at) == "num" else None
        if tempo and self.bare != "tempo":
            self.slip(
                "tempo-without-word", "advice", at, tempo[1], f"`{self.piece(at, tempo[1])}` was read as a tempo.",
                "Numbers with hyphens are ranges unless `tempo` stands before them.",
                f"Write `tempo {tempo[0]}`.",
            )  # fmt: skip
        if tempo:
            return self._put("tempo", tempo[0], at, tempo[1])
        timed = self.time(at)
        if timed:
            return self._timed(at, *timed)
        amount = self.numbers(at)
        if amount is None:
            return None
        low, high, after = amount
        unit = self.low(after)
        if unit in ("x", "*"):
            return self._sets_by(at, amount)
        if unit == "+":
            return self._plus(at, amount)
        if unit in METRES:
            meant = Range(0, 0) if low > high else self.range_of(low * METRES[unit], high * METRES[unit], at, after)
            return self._put_amount("distance_m", meant, at, after + 1)
        if unit in KG_WORDS:
            return self._kilograms(at, amount)
        if unit in POUND_WORDS:
            return self._pounds(at, amount)
        if unit == "%" or unit == "percent":
            return self._percent(at, at)
        if unit == "rm":
            return self._put("rm", self.range_of(low, high, at, after), at, after + 1)
        if unit == "rpe":
            return self._rpe(low, high, at, after + 1)
        reserve = self._reserve(after)
        if reserve:
            return self._rir(low, high, at, reserve)
        if unit in SET_WORDS:
            return self._sets_of(at, amount)
        if unit == "contacts" or self.words(after, "foot", "contacts") or self.words(after, "ground", "contacts"):
            end = after + 1 if unit == "contacts" else after + 2
            return self._put_amount("contacts", self.range_of(low, high, at, after), at, end)
        if unit == "cm":
            end = after + 2 if self.low(after + 1) in ("box", "step", "drop", "bench") else after + 1
            self.free.append(" ".join(self.piece(at, end).split()))
            return end
        if unit in ("left", "right", "l", "r") and low == high:
            return self._side_number("left" if unit[0] == "l" else "right", low, at, after + 1)
        return self._bare_number(at, amount)

    def _bare_number(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        if self.bare == "reps" or self.low(after) in REP_WORDS:
            if self.low(after) in REP_WORDS:
                after += 1
            elif self.kind(after) == "word" and not self._known_follow(after):
                return self._misspelt_unit(at, amount)
            return self._reps(low, high, at, after)
        meaning = self.bare
        if meaning == "rpe":
            return self._rpe(low, high, at, after)
        if meaning == "rir":
            return self._rir(low, high, at, after)
        if meaning == "percent":
            return self._percent_value(low, high, at, after, False, after)
        if meaning == "load":
            return self._kilograms(at, amount, unit=False)
        if meaning in ("rest_s", "side_rest_s", "pause_s", "hold_s", "work_s"):
            timed = self.time(at, bare=meaning.removesuffix("_s").replace("_", " "))
            return None if timed is None else self._put(meaning, timed[0], at, timed[1])
        if meaning in ("sets", "contacts", "distance_m", "rm"):
            return self._put(meaning, self.range_of(low, high, at, after), at, after)
        return None

    def _known_follow(self, at: int) -> bool:
        word = self.low(at)
        return (
            word in SIDE_WORDS or word in MAX_WORDS or word in KEYWORDS or word in FREE_BY_WORD or word in BANDS
            or word in ("each", "ea", "e", "es", "per", "a", "alternating", "alt", "total", "rir", "rpe", "with", "at",
                        "no", "in", "and", "both", "bodyweight", "bw", "to", "on", "for", "then", "or", "when", "left", "right")
        )  # fmt: skip

    def _misspelt_unit(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        word = self.low(after)
        near = difflib.get_close_matches(word, UNITS, n=1, cutoff=0.7) if len(word) > 2 else []
        if near and self._swap(after, near[0]):
            self._misspelt(after, near[0])
            return self._from_number(at)
        if low == high and not low.is_integer():
            return None
        return self._reps(low, high, at, after)

    def _swap(self, at: int, word: str) -> bool:
        token = self.tokens[at]
        if token.low == word:
            return False
        self.tokens[at] = Token("word", word, 0.0, token.start, token.end)
        return True

    def _misspelt(self, at: int, word: str) -> None:
        token = self.tokens[at]
        written = self.text[token.start : token.end]
        self.slip(
            "word-misspelt", "advice", at, at + 1, f"`{written}` was read as `{word}`.",
            "It is not one of the words of a line, but near to one.", f"Write `{word}`.",
        )  # fmt: skip

    def _reps(self, low: float, high: float, at: int, after: int) -> int:
        if self._not_whole(low, high, at, after, "repetitions"):
            return after
        return self._put_amount("reps", self.range_of(low, high, at, after), at, after)

    def _not_whole(self, low: float, high: float, at: int, after: int, what: str, least: int = 1) -> bool:
        """Tells numbers that cannot count; True when the amount is to be left out."""
        if not (low.is_integer() and high.is_integer()):
            self.slip(
                "number-not-whole", "error", at, after, f"`{self.piece(at, after)}` {what} are not a whole number.",
                "A comma between two digits is read as a decimal comma.", "Put a space after the comma between two fields.",
            )  # fmt: skip
            return True
        if min(low, high) < least:
            self.slip(
                "number-zero", "error", at, after, f"`{self.piece(at, after)}` leaves nothing to do.",
                f"The number of {what} is at least {least}.", "Write the number that is meant, or take the line out.",
            )  # fmt: skip
            return True
        return False

    def _plus(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        if self.kind(after + 1) == "num" and self.low(after + 2) not in KG_WORDS:
            parts = [low]
            end = after
            while self.low(end) == "+" and self.kind(end + 1) == "num":
                parts.append(self.tokens[end + 1].value)
                end += 2
            if low != high or any(self._not_whole(p, p, at, end, "repetitions") for p in parts):
                return end
            return self._put_amount("cluster", tuple(int(p) for p in parts), at, end)
        self._open("at least", at, after + 1)
        return self._reps(low, high, at, after + 1)

    def _open(self, word: str, at: int, after: int) -> None:
        if "reps" not in self.values:
            self._put("reps_open", word, at, after)

    def _sets_by(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """`3 x 8`, `3 x 30 s`, `3 x max`; `2 x 12 kg` is a weight in each hand."""
        low, high, cross = amount
        second = self.numbers(cross + 1)
        if second and self.low(second[2]) in KG_WORDS:
            if low == high == 2 and "sets" not in self.values:
                return self._kilograms(cross + 1, second, each_hand=True)
            if "sets" in self.values:
                return None
        if self._not_whole(low, high, at, cross, "sets"):
            return self._quantity(cross + 1) or cross + 1
        after = self._put("sets", self.range_of(low, high, at, cross), at, cross + 1)
        end = self._quantity(after)
        if end is None:
            return after
        if self.low(end) == "x" and self.numbers(end + 1):
            return end + 1
        return end

    def _sets_of(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """`3 sets`, `3 sets of 8`, `3 sets x 8`."""
        low, high, word = amount
        if self._not_whole(low, high, at, word, "sets"):
            return word + 1
        after = self._put("sets", self.range_of(low, high, at, word), at, word + 1)
        if self.low(after) in ("of", "x"):
            return self._quantity(after + 1) or after
        return after

    def _quantity(self, at: int) -> int | None:
        """What follows a number of sets."""
        if self.low(at) in ("up", "at", "max", "amrap", "to", "hold", "work", "about"):
            return self._from_word(at)
        return self._from_number(at) if self.kind(at) in ("num", "clock") else None

    def _side_number(self, side: str, value: float, at: int, after: int) -> int:
        if not self._not_whole(value, value, at, after, "repetitions", least=0):
            self._put_amount(side, int(value), at, after)
        return after

    def _timed(self, at: int, value: Range, after: int) -> int:
        """A time, and the word after it that says what it is; alone it is a hold."""
        word = self.low(after)
        if word == "side" and self.low(after + 1) == "rest":
            return self._put("side_rest_s", value, at, after + 2)
        if word in ("rest", "off"):
            return self._put("rest_s", value, at, after + 1)
        if word in ("pause", "pauses"):
            return self._put("pause_s", value, at, after + 1)
        if word in ("work", "on"):
            return self._put_amount("work_s", value, at, after + 1)
        if word in ("hold", "holds"):
            return self._put_amount("hold_s", value, at, after + 1)
        if self.bare in ("rest_s", "side_rest_s", "pause_s", "work_s", "hold_s"):
            return self._put(self.bare, value, at, after)
        if "reps" in self.values:
            self.own_time = (at, after)
            self.slip(
                "time-unclear", "error", at, after, f"`{self.piece(at, after)}` does not say what it is.",
                "A time alone is a hold, and the line already counts repetitions.",
                f"Write `pause {self.piece(at, after)}` (inside each repetition), or `rest {self.piece(at, after)}`.",
            )  # fmt: skip
            return after
        return self._put_amount("hold_s", value, at, after)

    def _kilograms(
        self, at: int, amount: tuple[float, float, int], *, each_hand: bool = False, unit: bool = True
    ) -> int:
        low, high, word = amount
        after = word + 1 if unit else word
        for words in (
            ("each", "hand"),
            ("per", "hand"),
            ("a", "hand"),
            ("/", "hand"),
            ("in", "each", "hand"),
            ("each",),
        ):
            if self.words(after, *words):
                each_hand, after = True, after + len(words)
                break
        if low == high == 0:
            return self._put("load", Load(none=True), at, after)
        return self._place(Load(kg=self.range_of(low, high, at, word), each_hand=each_hand), at, after)

    def _pounds(self, at: int, amount: tuple[float, float, int]) -> int:
        low, high, word = amount
        kg = Range(round(min(low, high) * 0.45359237, 1), round(max(low, high) * 0.45359237, 1))
        self.slip(
            "pounds", "error", at, word + 1, f"`{self.piece(at, word + 1)}` is in pounds.",
            "Loads are in kilograms; a pound taken for a kilogram more than doubles the load.", f"Write `{kg} kg`.",
        )  # fmt: skip
        return word + 1

    def _place(self, load: Load, at: int, after: int) -> int:
        """A place after a load: `at chest`, `in opposite hand`."""
        end = after
        if self.low(end) in ("at", "in", "on", "over", "by", "with"):
            end += 1
        if self.low(end) in ("the", "your", "both"):
            end += 1
        if self.low(end) in ("opposite", "same") and self.low(end + 1) in ("hand", "side"):
            place = "opposite hand" if self.low(end) == "opposite" else "same hand"
            return self._put("load", Load(load.kg, load.each_hand, place, load.band, load.none), at, end + 2)  # type: ignore[arg-type]
        if self.low(end) in PLACES and (end > after or self.low(end) not in ("back", "hip", "ankle")):
            return self._put(
                "load", Load(load.kg, load.each_hand, PLACES[self.low(end)], load.band, load.none), at, end + 1
            )
        return self._put("load", load, at, after)

    def _percent(self, at: int, first: int, *, at_least: bool = False) -> int | None:
        amount = self.numbers(at)
        if amount is None or self.low(amount[2]) not in ("%", "percent"):
            return None
        return self._percent_value(amount[0], amount[1], first, amount[2] + 1, at_least, at)

    def _percent_value(self, low: float, high: float, first: int, after: int, at_least: bool, at: int) -> int:
        value = self.range_of(low, high, at, after)
        end = after + 1 if self.low(after) in ("of", "from") else after
        if self.low(end) in ("the", "your", "max", "best", "maximal") and self.low(end + 1) == "hold":
            return self._put("percent", Percent(value, "best hold", at_least), first, end + 2)
        if self.words(end, "best", "hold"):
            return self._put("percent", Percent(value, "best hold", at_least), first, end + 2)
        if self.low(end) == "1" and self.low(end + 1) == "rm":
            return self._put("percent", Percent(value, "1RM", at_least), first, end + 2)
        if self.low(end) in ("body", "own") and self.low(end + 1) in ("mass", "weight"):
            return self._put("percent", Percent(value, "body mass", at_least), first, end + 2)
        if self.low(end) in ("bodyweight", "bodymass", "bw", "bm"):
            return self._put("percent", Percent(value, "body mass", at_least), first, end + 1)
        self.slip(
            "percent-without-base", "error", first, after, f"`{self.piece(first, after)}` does not say of what.",
            "A percentage needs its base; of 1RM and of body mass are far apart.",
            f"Write `{number(value.low)} % 1RM`, `{number(value.low)} % body mass` or `{number(value.low)} % best hold`.",
        )  # fmt: skip
        return after

    def _reserve(self, at: int) -> int | None:
        for words in (("rir",), ("in", "reserve"), ("reps", "in", "reserve"), ("rep", "in", "reserve"),
                      ("in", "the", "tank"), ("left", "in", "the", "tank"), ("reps", "left"), ("rep", "left"),
                      ("good", "reps", "left"), ("good", "ones", "left"), ("reps", "in", "the", "tank")):  # fmt: skip
            if self.words(at, *words):
                return at + len(words)
        return None

    def _rir(self, low: float, high: float, at: int, after: int) -> int:
        value = self.range_of(low, high, at, after)
        if value.high > 10 or not (value.low * 2).is_integer() or not (value.high * 2).is_integer():
            self.slip(
                "reserve-out-of-range", "error", at, after, f"`{self.piece(at, after)}` is no number of repetitions in reserve.",
                "It goes from 0 to 10, in whole or half steps.", "Write for example `2 RIR`.",
            )  # fmt: skip
            return after
        return self._effort(value, "RIR", at, after)

    def _effort(self, value: Range, word: str, at: int, after: int) -> int:
        if "rir" in self.values and self.values["rir"] != value:
            return self._put("rir", value, at, after)
        if "rir" not in self.values:
            self.values["rir"], self.values["effort_word"] = value, word
        return after

    def _rpe(self, low: float, high: float, at: int, after: int) -> int:
        value = self.range_of(low, high, at, after)
        if value.low < 1 or value.high > 10:
            self.slip(
                "reserve-out-of-range", "error", at, after, f"`{self.piece(at, after)}` is no RPE of a set.",
                "RPE goes from 1 to 10; 10 - RPE are the repetitions in reserve.", "Write for example `RPE 8`.",
            )  # fmt: skip
            return after
        return self._effort(Range(round(10 - value.high, 4), round(10 - value.low, 4)), "RPE", at, after)

    def _tempo_digits(self, at: int) -> tuple[Tempo, int] | None:
        """`2-0-1`, `3-1-x-0`; after the word `tempo` also `201` and `30x1`."""
        parts: list[float | str] = []
        here = at
        while len(parts) < 5:
            if self.kind(here) == "num":
                parts.append(self.tokens[here].value)
            elif self.low(here) == "x":
                parts.append("x")
            else:
                break
            here += 1
            if self.low(here) not in ("-", "/", ":") or (self.kind(here + 1) != "num" and self.low(here + 1) != "x"):
                break
            here += 1
        return (_tempo(parts), here) if len(parts) in (3, 4) else None

    def _tempo(self, at: int) -> int | None:
        if self.low(at) in (":", "of"):
            at += 1
        read = self._tempo_digits(at)
        if read is None:
            end, digits = at, ""
            while (
                end < len(self.tokens)
                and (self.kind(end) == "num" or self.low(end) == "x")
                and (end == at or self.start(end) == self.tokens[end - 1].end)
            ):
                digits += self.low(end)
                end += 1
            if len(digits) in (3, 4) and all(c in "0123456789x" for c in digits):
                read = _tempo([c if c == "x" else float(c) for c in digits]), end
        if read is None:
            if self.low(at) in ("slow", "fast"):
                return None
            end = at
            while end < len(self.tokens) and self.low(end) not in (",", ";") and end < at + 8:
                end += 1
            self.slip(
                "tempo-not-read", "error", at - 1, end, f"`{self.piece(at - 1, end)}` is no tempo.",
                "A tempo is seconds down, pause, up and, if wanted, at the top; `x` is fast.", "Write for example `tempo 3-1-1`.",
            )  # fmt: skip
            return end
        return self._put("tempo", read[0], at - 1, read[1])

    # words ----------------------------------------------------------------------------------------------------

    def _from_word(self, at: int) -> int | None:
        word = self.low(at)
        after = self._word(word, at)
        if after is not None:
            return after
        for words, canonical in FREE_BY_WORD.get(word, ()):
            if self.words(at, *words):
                self.free.append(canonical)
                return at + len(words)
        if len(word) > 3 and word not in KEYWORDS:
            near = difflib.get_close_matches(word, KEYWORDS, n=1, cutoff=0.75)
            if near and self._swap(at, near[0]):
                kept = self.tokens[at]
                after = self._word(near[0], at)
                if after is not None:
                    self._misspelt(at, near[0])
                    return after
                self.tokens[at] = Token("word", word, 0.0, kept.start, kept.end)
        return None

    def _word(self, word: str, at: int) -> int | None:
        nxt = at + 1
        if word == "tempo":
            return self._tempo(nxt)
        if word in ("rest", "pause", "side", "hold", "work", "holds", "recovery", "between"):
            return self._time_word(word, at)
        if word in ("sets", "set"):
            return self._per_set(at)
        if word in ("left", "right", "l", "r"):
            amount = self.numbers(nxt)
            return (
                self._side_number("left" if word[0] == "l" else "right", amount[0], at, amount[2]) if amount else None
            )
        if word in ("rir", "rpe"):
            amount = self.numbers(nxt + 1 if self.low(nxt) in ("of", "@", ":", "=") else nxt)
            if amount is None:
                return None
            return (self._rpe if word == "rpe" else self._rir)(amount[0], amount[1], at, amount[2])
        if word in MAX_WORDS or (word == "to" and self.low(nxt) == "failure"):
            end = nxt + 1 if word == "to" or self.low(nxt) in REP_WORDS else nxt
            if "reps" in self.values:
                return None
            self._put("reps_open", "max", at, end)
            return self._sides(end)
        if word == "up" and self.low(nxt) == "to" and self.numbers(nxt + 1):
            self._open("up to", at, nxt + 1)
            return self._from_number(nxt + 1)
        if word in ("over", "above") or (word == "more" and self.low(nxt) == "than"):
            return self._percent(nxt if word != "more" else nxt + 1, at, at_least=True)
        if word == "at" and self.low(nxt) == "least":
            percent = self._percent(nxt + 1, at, at_least=True)
            if percent is None and self.numbers(nxt + 1):
                self._open("at least", at, nxt + 1)
                return self._from_number(nxt + 1)
            return percent
        if word in ("alternating", "alt", "alternate", "total"):
            return self._put("sides", "total" if word == "total" else "alternating", at, nxt)
        if word in ("each", "per", "ea", "es", "both") and word != "both":
            after = self._sides(at)
            return after if after > at else None
        if word in ("no", "without") and self.low(nxt) in ("weight", "load", "weights"):
            return self._put("load", Load(none=True), at, nxt + 1)
        if word in ("bodyweight", "bw", "unloaded") or (word == "body" and self.low(nxt) == "weight"):
            return self._put("load", Load(none=True), at, nxt + (word == "body"))
        if word == "no" and self.low(nxt) == "rest":
            return self._put("rest_s", Range.of(0), at, nxt + 1)
        if word in BANDS and self.low(nxt) == "band":
            return self._place(Load(band=BANDS[word]), at, nxt + 1)
        if word == "band" and self.low(nxt) in BANDS:
            return self._place(Load(band=BANDS[self.low(nxt)]), at, nxt + 1)
        if (word in COLOURS and self.low(nxt) == "band") or (word == "band" and self.low(nxt) in COLOURS):
            self.slip(
                "band-colour", "error", at, nxt + 1, f"`{self.piece(at, nxt + 1)}` names a band by its colour.",
                "Makers use different colours for the same pull.", "Write `thin band`, `medium band` or `thick band`.",
            )  # fmt: skip
            return nxt + 1
        if word in ("with", "at", "weight", "load", "in", "on", "about", "and", "for", "of", "reps"):
            return self._small_word(word, at)
        if word == "drop":
            amount = self.numbers(nxt + 1 if self.low(nxt) in ("set", "to") else nxt)
            if amount and not self._not_whole(amount[0], amount[1], at, amount[2], "repetitions"):
                return self._put("drop", int(amount[0]), at, amount[2])
            return amount[2] if amount else None
        if word == "cluster":
            amount = self.numbers(nxt)
            return self._plus(nxt, amount) if amount and self.low(amount[2]) == "+" else None
        if word == "optional":
            self.optional = True
            return nxt
        return None

    def _small_word(self, word: str, at: int) -> int | None:
        """Words that only lead up to a field: `with 12 kg`, `at 8RM`, `at chest`."""
        nxt = at + 1
        if nxt >= len(self.tokens):
            return None
        if word in ("at", "in", "on") and (
            self.low(nxt) in PLACES or self.low(nxt) in ("opposite", "same", "the", "both")
        ):
            held = self.values.get("load")
            if held is None or (held.place is None and not held.none):
                self.values.pop("load", None)
                before = len(self.slips)
                after = self._place(held or Load(), at, at)
                if self.values.get("load") == Load() or len(self.slips) > before:
                    self.values.pop("load", None)
                    if held is not None:
                        self.values["load"] = held
                    return None
                return after
            return None
        if word in ("weight", "load", "with", "and", "for", "at", "about"):
            if self.low(nxt) in _SEPARATORS:
                return None
            end = self._field(nxt)
            if word == "about" and end is not None:
                self.free.append("about")
            return end
        if word == "reps" and self.numbers(nxt):
            return self._from_number(nxt)
        return None

    def _time_word(self, word: str, at: int) -> int | None:
        lead = at + 1
        name = {
            "rest": "rest_s",
            "recovery": "rest_s",
            "pause": "pause_s",
            "hold": "hold_s",
            "holds": "hold_s",
            "work": "work_s",
        }.get(word, "")
        if word == "side":
            if self.low(lead) != "rest":
                return None
            name, lead = "side_rest_s", lead + 1
        if self.low(lead) in (":", "of", "for", "="):
            lead += 1
        if self.low(lead) == "-" and self.kind(lead + 1) == "num":
            return self._negative(at, lead + 2)
        if self.low(lead) in ("none", "no"):
            return self._put(name, Range.of(0), at, lead + 1) if name == "rest_s" else None
        amount = self.time(lead, bare=word)
        if amount is None:
            return None
        if word == "between":
            self.slip(
                "between-in-item", "error", at, amount[1], f"`{self.piece(at, amount[1])}` stands in an item.",
                "The rest between exercises belongs to the pair or circuit.", "Write it in the head of the block.",
            )  # fmt: skip
            return amount[1]
        if name in ("hold_s", "work_s"):
            return self._put_amount(name, amount[0], at, amount[1])
        return self._put(name, amount[0], at, amount[1])

    def _per_set(self, at: int) -> int | None:
        """`sets 12, 10, 8`."""
        numbers: list[int] = []
        here = at + 1
        if self.low(here) in (":", "of"):
            here += 1
        while self.kind(here) == "num":
            token = self.tokens[here]
            parts = token.low.split(",") if "," in token.low else [token.low]
            if not all(p.isdigit() and p.isascii() and 0 < len(p) < 6 for p in parts):
                break
            if self.low(here + 1) in (*SECONDS, "min", "kg", "rir", "x", "%", "-", "rm", "m"):
                break
            numbers.extend(int(p) for p in parts)
            here += 1
            if self.low(here) in (",", "/") and self.kind(here + 1) == "num":
                here += 1
        if here and self.low(here - 1) in (",", "/"):
            here -= 1
        if not numbers or 0 in numbers:
            return None
        if len(numbers) == 1:
            return self._put("sets", Range.of(numbers[0]), at, here)
        return self._put_amount("per_set", tuple(numbers), at, here)

    def _sides(self, at: int) -> int:
        """`/side`, `each side`, `per leg`, `ea`, `alternating`, `total` after an amount; gives the place after it."""
        word, nxt = self.low(at), self.low(at + 1)
        after = at
        value = "each"
        if (word == "/" and (nxt in SIDE_WORDS or nxt in ("l", "way"))) or (
            word in ("each", "per", "a", "ea", "e") and nxt in (SIDE_WORDS - {"s"}) | {"way"}
        ):
            after = at + 2
        elif word == "e" and nxt == "/" and self.low(at + 2) in ("s", "side"):
            after = at + 3
        elif word in ("each", "ea", "es"):
            after = at + 1
        elif word in ("alternating", "alt", "alternate"):
            after, value = at + 1, "alternating"
        elif word == "total" or (word == "in" and nxt in ("all", "total")):
            after, value = at + (1 if word == "total" else 2), "total"
        if after > at and self.values.get("sides", value) != value:
            return self._put("sides", value, at, after)
        if after > at:
            self.values["sides"] = value
        return after


def _tempo(parts: list[float] | list[str] | list[float | str]) -> Tempo:
    return Tempo(*parts)


def marked(dose: Dose, free: tuple[str, ...]) -> Dose:
    """The dose with `unfitted` saying every form in it that is printed but not fitted."""
    forms = [*free]
    if dose.cluster:
        forms.append("+".join(map(str, dose.cluster)))
    if dose.drop is not None:
        forms.append(f"drop {dose.drop}")
    return replace(dose, unfitted=tuple(forms)) if tuple(forms) != dose.unfitted else dose


def slips_of(reader: FieldReader) -> list[Slip]:
    return reader.slips
