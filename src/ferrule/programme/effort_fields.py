"""Fields that say how hard a set is: load, percentage, repetitions in reserve, tempo."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.quantity import Load, Percent, Range, Tempo
from ferrule.programme.amount_fields import AmountFields
from ferrule.programme.field_words import KIT_WORDS, PLACES

Base = Literal["1RM", "body mass", "best hold", "max force", "HRmax", "top speed", "effort"]
PERCENT_BASES: tuple[tuple[tuple[str, ...], Base], ...] = (
    (("max", "hold"), "best hold"), (("best", "hold"), "best hold"), (("maximal", "hold"), "best hold"), (("1", "rm"), "1RM"),
    (("body", "mass"), "body mass"), (("body", "weight"), "body mass"), (("own", "weight"), "body mass"),
    (("bodyweight",), "body mass"), (("bodymass",), "body mass"), (("bw",), "body mass"), (("bm",), "body mass"),
    (("max", "force"), "max force"), (("maximal", "force"), "max force"), (("mvc",), "max force"), (("max", "effort", "force"), "max force"),
    (("hrmax",), "HRmax"), (("hr", "max"), "HRmax"), (("max", "hr"), "HRmax"), (("max", "heart", "rate"), "HRmax"),
    (("maximal", "heart", "rate"), "HRmax"), (("mhr",), "HRmax"), (("top", "speed"), "top speed"), (("max", "speed"), "top speed"),
    (("full", "speed"), "top speed"), (("sprint", "speed"), "top speed"), (("pace",), "top speed"), (("effort",), "effort"),
    (("max", "effort"), "effort"),
)  # fmt: skip
"""Words after a percentage -> its base."""
_RESERVE_STARTS = frozenset(("rir", "in", "reps", "rep", "left", "good"))


@dataclass(slots=True)
class EffortFields(AmountFields):
    """Load and effort."""

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
        kit = KIT_WORDS.get(self.low(after), "") if end == after else ""
        if kit and load.kg is not None:
            after = self._put("kit", kit, after, after + 1)
            return self._put("load", load, at, after)
        if self.low(end) in PLACES and (end > after or self.low(end) not in ("back", "hip", "ankle")):
            return self._put(
                "load", Load(load.kg, load.each_hand, PLACES[self.low(end)], load.band, load.none), at, end + 1
            )
        return self._put("load", load, at, after)

    def _percent(self, at: int, first: int, *, at_least: bool = False, about: bool = False) -> int | None:
        amount = self.numbers(at)
        if amount is None or self.low(amount[2]) not in ("%", "percent"):
            return None
        return self._percent_value(amount[0], amount[1], first, amount[2] + 1, at_least, at, about)

    def _percent_value(
        self, low: float, high: float, first: int, after: int, at_least: bool, at: int, about: bool = False
    ) -> int:
        value = self.range_of(low, high, at, after)
        end = after + 1 if self.low(after) in ("of", "from") else after
        end += self.low(end) in ("the", "your")
        for words, base in PERCENT_BASES:
            if self.words(end, *words):
                name = "intensity" if base in ("HRmax", "top speed", "effort") else "percent"
                return self._put(name, Percent(value, base, at_least, about), first, end + len(words))
        of_max = False
        while self.low(after) in ("max", "maximum", "maximal", "of", "the"):
            of_max = of_max or self.low(after).startswith("max")
            after += 1
        share = str(value)
        self.slip(
            "percent-without-base", "error", first, after, f"`{self.piece(first, after)}` does not say of what.",
            "A percentage needs its base; of 1RM and of body mass are far apart.",
            f"Write `{share} % 1RM` when the most for one repetition is meant, else `{share} % best hold` or `{share} % HRmax`."
            if of_max
            else f"Write `{share} % 1RM`, `{share} % body mass` or `{share} % best hold`.",
        )  # fmt: skip
        return after

    def _reserve(self, at: int) -> int | None:
        if self.low(at) not in _RESERVE_STARTS:
            return None
        for words in (("rir",), ("in", "reserve"), ("reps", "in", "reserve"), ("rep", "in", "reserve"),
                      ("in", "the", "tank"), ("in", "tank"), ("left", "in", "the", "tank"), ("reps", "left"), ("rep", "left"),
                      ("good", "reps", "left"), ("good", "ones", "left"), ("reps", "in", "the", "tank")):  # fmt: skip
            if self.words(at, *words):
                return at + len(words)
        return None

    def _rir(self, low: float, high: float, at: int, after: int) -> int:
        value = self.range_of(low, high, at, after)
        if value.high > 10 or not (value.low * 2).is_integer() or not (value.high * 2).is_integer():
            self.slip(
                "reserve-out-of-range", "error", at, after, f"`{self.piece(at, after)}` is no number of repetitions in reserve.",
                "It goes from 0 to 10, in whole or half steps.", _reserve_fix(self.low(at)),
            )  # fmt: skip
            return after
        return self._effort(value, "RIR", at, after)

    def _effort(self, value: Range, word: str, at: int, after: int) -> int:
        if "rir" in self.values and self.values["rir"] != value:
            return self._both(value, word, at, after)
        if "rir" not in self.values:
            self.values["rir"], self.values["effort_word"] = value, word
        return after

    def _both(self, value: Range, word: str, at: int, after: int) -> int:
        """RPE and RIR that are no mirror images of each other: the repetitions are kept, and RPE as it was written."""
        held, known = self.values["rir"], self.values["effort_word"]
        apart = value.low > held.high or held.low > value.high
        if known == word or "rpe" in self.values or apart:
            if known != word and apart:
                self.slip(
                    "effort-apart", "error", at, after, f"`{self.piece(at, after)}` and what the line says before do not go together.",
                    "10 less the RPE are the repetitions in reserve; the first one was kept.", "Leave one of the two out.",
                )  # fmt: skip
                return after
            return self._put("rir", value, at, after)
        rir, rpe = (value, held) if word == "RIR" else (held, value)
        self.values |= {"rir": rir, "effort_word": "RIR", "rpe": Range(round(10 - rpe.high, 4), round(10 - rpe.low, 4))}
        self.slip(
            "effort-differs", "advice", at, after, "RPE and repetitions in reserve of this line are no mirror images.",
            "10 less the RPE are the repetitions in reserve; the repetitions rule.", "Write one of the two.",
        )  # fmt: skip
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
            if self.low(at) in ("slow", "slowly", "fast"):
                self.free.append("as fast as possible" if self.low(at) == "fast" else "slow")
                return at + 1
            end = at
            while end < len(self.tokens) and self.low(end) not in (",", ";") and end < at + 8:
                end += 1
            self.slip(
                "tempo-not-read", "error", at - 1, end, f"`{self.piece(at - 1, end)}` is no tempo.",
                "A tempo is seconds down, pause, up and, if wanted, at the top; `x` is fast.", "Write for example `tempo 3-1-1`.",
            )  # fmt: skip
            return end
        return self._put("tempo", read[0], at - 1, read[1])


def _reserve_fix(number_text: str) -> str:
    """`8,2 RIR` and `8.2 RIR`: a comma and its space went missing."""
    whole, _, rest = number_text.replace(".", ",").partition(",")
    return f"Put a comma and a space between: `{whole}, {rest} RIR`." if rest else "Write for example `2 RIR`."


def _tempo(parts: list[float] | list[str] | list[float | str]) -> Tempo:
    return Tempo(*parts)
