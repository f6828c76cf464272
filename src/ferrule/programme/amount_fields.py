"""Fields that say how much one set holds: sets, repetitions, times, sides."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, field
from typing import Any

from ferrule.model.quantity import Range
from ferrule.programme.amounts import METRES, TIME_UNITS, Amounts
from ferrule.programme.field_words import KG_WORDS, POUND_WORDS, SIDE_WORDS
from ferrule.programme.form_text import seconds_text

LIKELY_REST_S = 40
"""A time beside repetitions from this on is sooner a rest than a pause in each of them."""
_AMOUNTS = ("per_set", "reps", "left", "right", "hold_s", "work_s", "distance_m", "contacts", "cluster")

_NOT_A_SET = frozenset([*TIME_UNITS, *METRES, *KG_WORDS, *POUND_WORDS, "rir", "rpe", "rm", "x", "%", "-", "cm", "lead", "light", "contacts",
                        "runs", "bouts", "times", "to", "in"])  # fmt: skip
"""After a number: it is no number of a set, but begins another field."""
_PIECES = ({"reps", "distance_m"}, {"reps", "work_s"})
"""What may be counted in pieces: `5 reps of 80 m`."""


@dataclass(slots=True)
class AmountFields(Amounts, ABC):
    """The state of a reading and its amounts. `FieldReader` knows which field begins where."""

    bare: str = "reps"
    values: dict[str, Any] = field(default_factory=dict)
    free: list[str] = field(default_factory=list)
    unread: list[tuple[int, int]] = field(default_factory=list)
    optional: bool = False
    understood: int = 0
    own_time: tuple[int, int] | None = None
    pieces: bool = False

    @abstractmethod
    def _from_number(self, at: int) -> int | None:
        """Reads what begins with the number at `at`: the place after it, None when nothing does."""

    @abstractmethod
    def _from_word(self, at: int) -> int | None:
        """The same for a word."""

    @abstractmethod
    def _phase(self, at: int, value: Range, after: int) -> int | None:
        """The same for the seconds of one phase of a repetition, `4 s down`."""

    @abstractmethod
    def _second_sets(self, at: int, amount: tuple[float, float, int]) -> int | None:
        """The same for a second `2 x` in a line, `2 x 12 kg`."""

    @abstractmethod
    def _kilograms(
        self, at: int, amount: tuple[float, float, int], *, each_hand: bool = False, unit: bool = True
    ) -> int:
        """Keeps a load; the place after it."""

    def _put(self, name: str, value: Any, first: int, after: int) -> int:
        """Keeps a field; a second, different one is told and left out."""
        if name in self.values and self.values[name] != value:
            self.slip(
                "said-twice", "error", first, after, f"`{self.piece(first, after)}` says again what the line has said already.",
                "One line can hold each field once; the first was kept.",
                "Leave one of the two out; a range is `8-10`, a number for each set `sets 10, 8`."
                if name == "reps"
                else "Leave one of the two out.",
            )  # fmt: skip
        else:
            self.values[name] = value
        return after

    def _put_amount(self, name: str, value: Any, first: int, after: int) -> int:
        """Keeps what one set holds; only one kind of amount can stand in a line."""
        others = [n for n in _AMOUNTS if n in self.values and n != name and {n, name} != {"left", "right"}]
        apart = {name, *others} == {"reps", "hold_s"} or ({name, *others} in _PIECES and self.pieces)
        if others and not apart:
            self.slip(
                "two-amounts", "error", first, after,
                f"`{self.piece(first, after)}` is a second amount for the same set.",
                "A set is counted in one thing: repetitions, a time, a distance or contacts.",
                "Leave one of them out, or say what it is: `rest`, `pause`, `work`, `hold`.",
            )  # fmt: skip
            return after
        after = self._put(name, value, first, after)
        return self._sides(after)

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
            amount_told = (
                "reps" not in self.values and {"distance_m", "hold_s", "work_s", "contacts"} & self.values.keys()
            )
            if low == high == 2 and ("sets" not in self.values or amount_told):
                return self._kilograms(cross + 1, second, each_hand=True)
            if "sets" in self.values:
                return None
        if self._not_whole(low, high, at, cross, "sets"):
            return self._quantity(cross + 1) or cross + 1
        again = self._second_sets(at, amount)
        if again is not None:
            return again
        after = self._put("sets", self.range_of(low, high, at, cross), at, cross + 1)
        end = self._quantity(after)
        if end is None:
            return after
        if self.low(end) == "x" and self.numbers(end + 1):
            return end + 1
        return end

    def _times(self, at: int) -> int | None:
        """`30 s x 3` is three sets; `60 kg x 8` is eight repetitions."""
        amount = self.numbers(at + 1)
        if amount is None:
            return None
        if "load" in self.values and not {*_AMOUNTS} - {"reps"} & self.values.keys():
            return self._reps(amount[0], amount[1], at, amount[2])
        if "sets" in self.values or not {"hold_s", "work_s", "distance_m"} & set(self.values):
            return None
        if self._not_whole(amount[0], amount[1], at, amount[2], "sets"):
            return amount[2]
        self.slip(
            "sets-after-amount", "advice", at, amount[2], f"`{self.piece(at, amount[2])}` was read as {self.low(at + 1)} sets.",
            "The number of sets stands before what is done in one.", f"Write `{self.low(at + 1)} x` before the time or distance.",
        )  # fmt: skip
        return self._put("sets", self.range_of(amount[0], amount[1], at, amount[2]), at, amount[2])

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
        phase = self._phase(at, value, after)
        if phase is not None:
            return phase
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
                f"Write `rest {seconds_text(value)}`, or `pause {seconds_text(value)}` (inside each repetition)."
                if value.low >= LIKELY_REST_S
                else f"Write `pause {seconds_text(value)}` (inside each repetition), or `rest {seconds_text(value)}`.",
            )  # fmt: skip
            return after
        return self._put_amount("hold_s", value, at, after)

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
            if self.low(here + 1) in _NOT_A_SET:
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
        if word == "on" and nxt == "each":
            inner = self._sides(at + 1)
            return inner if inner > at + 1 else at
        if (word in "/\\|" and word and (nxt in SIDE_WORDS or nxt in ("l", "way"))) or (
            word in ("each", "per", "a", "ea", "e", "every") and nxt in (SIDE_WORDS - {"s"}) | {"way"}
        ):
            after = at + 2
        elif (word in ("e", "p", "b") and nxt in ("/", ".") and self.low(at + 2) in ("s", "l", "side", "leg")) or (
            (word, self.low(at + 2)) in (("l", "r"), ("left", "right")) and nxt in ("/", "&", "+", "and")
        ):
            after = at + 3
        elif word in ("each", "ea", "es", "ps", "pl", "el"):
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

    def _negative(self, first: int, after: int) -> int:
        unit_after = (
            after + 1 if self.kind(after) == "word" and self.low(after) in (*TIME_UNITS, *METRES, *KG_WORDS) else after
        )
        self.slip(
            "negative-number", "error", first, unit_after, f"`{self.piece(first, unit_after)}` is below zero.",
            "No field of a line can be.", "Write the number without the minus; leave the field out when it is not stated.",
        )  # fmt: skip
        return unit_after
