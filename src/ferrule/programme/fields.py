"""The prescription: the fields after an item's name, read with or without commas. The grammar is docs/notation.md."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from ferrule.model.programme import Dose
from ferrule.model.quantity import Load, Range
from ferrule.programme.amounts import METRES
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
from ferrule.programme.form_text import pieces_text
from ferrule.programme.scan import Token
from ferrule.programme.text import marked
from ferrule.programme.trade_fields import TradeFields

_COUNTED = ("reps", "per_set", "cluster", "hold_s", "distance_m", "contacts", "left", "right")
_FITTED = frozenset(
    ["sets", "per_set", "reps", "reps_open", "left", "right", "sides", "hold_s", "work_s", "distance_m", "contacts", "load", "rir",
     "effort_word", "rm", "percent", "tempo", "pause_s", "rest_s", "side_rest_s"]
)  # fmt: skip
"""Fields of a dose that are no form to be marked as not fitted."""
_SEPARATORS = frozenset(",;()&.")


@dataclass(slots=True)
class FieldReader(TradeFields):
    """Reads fields into `values` (names of Dose). `unread` are stretches that were not understood, by place.

    bare   what a number alone means: "reps", or the field a by-week row names
    """

    def read(self, start: int = 0) -> FieldReader:
        self.load(start)
        self._digits()
        at, missed = 0, None
        while at < len(self.tokens):
            if self.low(at) in _SEPARATORS:
                if missed is not None and self.low(at) in ",;":
                    self._miss(missed, at)
                    missed = None
                at += 1
                continue
            after = None if missed is not None and not self._may_restart(at) else self._field(at)
            if after is None or after <= at:
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
        if self.phase_at is not None:
            self._phases_as_tempo()
        return self

    def dose(self) -> Dose:
        """The dose read; repetitions with a hold keep the hold as a pause inside each one."""
        values = dict(self.values)
        if values.get("reps_open") == "max" and any(n in values for n in _COUNTED):
            values["reps_open"], values["to_failure"] = None, True
        if values.get("height_cm") is None:
            values.pop("height_of", None)
        if "hold_s" in values and "reps" in values:
            hold = values.pop("hold_s")
            if self.own_time is None:
                values.setdefault("pause_s", hold)
        made = Dose(**values)
        if not self.free and values.keys() <= _FITTED and not pieces_text(made):
            return made
        return marked(made, tuple(dict.fromkeys(self.free)))

    def _may_restart(self, at: int) -> bool:
        """After a stretch that was not understood, only a field word starts again before the next comma."""
        return self.low(at) in ("tempo", "rest", "pause", "rir", "rpe", "hold", "note")

    def _miss(self, first: int, after: int) -> None:
        self.unread.append((self.start(first), self.end_before(after)))

    def _field_at(self, at: int) -> int | None:
        return self._field(at) if at < len(self.tokens) else None

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
        if sign == "+" and self.kind(at + 1) == "num" and self.low(at + 2) == "%":
            return None
        if sign == "+" and self.kind(at + 1) == "num":
            amount = self.numbers(at + 1)
            if amount and self.low(amount[2]) in KG_WORDS:
                return self._kilograms(at + 1, amount)
        if sign == "-" and self.kind(at + 1) == "num":
            return self._negative(at, at + 2)
        if sign in "/\\|":
            after = self._sides(at)
            return after if after > at else None
        return None

    def _about(self, at: int) -> int | None:
        percent = self._percent(at + 1, at, about=True)
        if percent is not None:
            return percent
        after = self._field(at + 1) if at + 1 < len(self.tokens) else None
        if after is not None:
            self.slip(
                "about-left-out", "advice", at, after, f"`{self.piece(at, after)}` was read without the `{self.piece(at, at + 1)}`.",
                "A number is always taken as meant, not to the letter.", "Leave the word out, or write a range.",
            )  # fmt: skip
        return after

    def _at_sign(self, at: int) -> int | None:
        amount = self.numbers(at + 1)
        if amount is None:
            return self._field(at + 1) if at + 1 < len(self.tokens) else None
        low, high, after = amount
        unit = self.low(after)
        if (
            unit in KG_WORDS
            or unit in ("%", "rir", "rpe", "rm", "#", *POUND_WORDS)
            or self.words(after, "in", "reserve")
        ):
            return self._field(at + 1)
        if high <= 10:
            self.slip(
                "sign-unclear", "advice", at, after, f"`{self.piece(at, after)}` was read as RPE {self.piece(at + 1, after)}.",
                "The sign alone does not say whether effort, load or percentage is meant.",
                f"Write `RPE {self.piece(at + 1, after)}`, or `{Range(max(0, 10 - high), max(0, 10 - low))} RIR`.",
            )  # fmt: skip
            return self._rpe(low, high, at, after)
        return None

    def _from_number(self, at: int) -> int | None:
        tempo = self._tempo_digits(at) if self.low(at + 1) in ("-", "/", ":") else None
        each = self._number_for_each_set(at) if tempo and self.bare != "tempo" else None
        if each is not None:
            return each
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
        more = self._more_number(at, amount)
        if more is None:
            more = self._trade_number(at, amount)
        if more is not None:
            return more
        if unit in ("x", "*", "by") and not self._weight_follows(after + 1):
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
        if unit in ("left", "right", "l", "r") and low == high and self.low(after + 1) not in ("/", "&", "+", "and"):
            return self._side_number("left" if unit[0] == "l" else "right", low, at, after + 1)
        return self._bare_number(at, amount)

    def _weight_follows(self, at: int) -> bool:
        """`3 x 8 x 60 kg`: the second sign only leads up to the weight."""
        amount = (
            self.numbers(at)
            if "sets" in self.values
            and "reps" not in self.values
            and not {"distance_m", "hold_s", "work_s"} & self.values.keys()
            else None
        )
        return amount is not None and self.low(amount[2]) in KG_WORDS

    def _bare_number(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        if self.low(after) in (*REP_WORDS, "runs", "bouts", "times") and self.low(after + 1) in ("of", "over"):
            return self._pieces(at, amount)
        if self.bare == "reps" or self.low(after) in REP_WORDS:
            if self.low(after) in REP_WORDS:
                after += 1
            elif self.words(after, "or", "more"):
                self._open("at least", at, after + 2)
                after += 2
            elif self.kind(after) == "word" and self.low(after) != "x" and not self._known_follow(after):
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

    def _pieces(self, at: int, amount: tuple[float, float, int]) -> int:
        """`5 reps of 80 m`, `6 reps of 30 s`: what one set holds, counted in pieces."""
        low, high, after = amount
        self._reps(low, high, at, after + 1)
        lead = after + 2
        timed, metres = self.time(lead), self.numbers(lead)
        self.pieces = True
        if timed is not None:
            return self._put_amount("work_s", timed[0], lead, timed[1] + (self.low(timed[1]) in ("work", "on")))
        if metres is not None and self.low(metres[2]) in METRES:
            factor = METRES[self.low(metres[2])]
            value = self.range_of(metres[0] * factor, metres[1] * factor, lead, metres[2])
            return self._put_amount("distance_m", value, lead, metres[2] + 1)
        return after + 1

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
        more = self._more_word(word, at)
        if more is None:
            more = self._trade_word(word, at)
        if more is not None:
            return more
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
        if word in MAX_WORDS:
            return self._max(at, nxt + (self.low(nxt) in REP_WORDS))
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
            end = nxt + (word == "body")
            return self._put("load", Load(none=True), at, end + (self.low(end) == "only"))
        if word == "no" and self.low(nxt) == "rest":
            return self._put("rest_s", Range.of(0), at, nxt + 1)
        if word == "x" and self.kind(nxt) == "num":
            return self._times(at)
        if word in BANDS and self.low(nxt) == "band":
            return self._place(Load(band=BANDS[word]), at, nxt + 1)
        if word == "band" and self.low(nxt) in BANDS:
            return self._place(Load(band=BANDS[self.low(nxt)]), at, nxt + 1)
        if (word in COLOURS and self.low(nxt) == "band") or (word == "band" and self.low(nxt) in COLOURS):
            self._colour(at, nxt + 1)
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
            return self._about(at) if word == "about" else self._field(nxt)
        if word == "reps" and self.numbers(nxt):
            return self._from_number(nxt)
        return None
