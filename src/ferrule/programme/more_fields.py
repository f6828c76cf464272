"""Fields of sets that are out of the ordinary: to failure, rest-pause, loads set by set, steps by week, heights, phases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ferrule.model.quantity import Range, SetLoads, Step, Tempo, number
from ferrule.programme.amounts import SECONDS
from ferrule.programme.effort_fields import EffortFields
from ferrule.programme.field_words import HEIGHT_WORDS, KG_WORDS, KIT_WORDS, REP_WORDS

_SORE = frozenset(["sore", "affected", "bad", "injured", "painful"])
_DOWN = frozenset(["down", "lowering", "eccentric", "lower", "ecc", "eccentrics"])
_UP = frozenset(["up", "raising", "lifting", "concentric", "lift", "con"])
_KIT_LEADS = frozenset(["with", "in", "on", "using", "from", "holding", "a", "an", "the", "your", "books", "book"])
_KIT_ALONE = frozenset(
    [
        "rucksack",
        "backpack",
        "barbell",
        "dumbbells",
        "dumbbell",
        "db",
        "dbs",
        "kb",
        "kettlebell",
        "kettlebells",
        "machine",
        "cable",
        "books",
    ]
)
_MORE_UNITS = frozenset(["lead", "light", "cm", "m", "inch", "inches", "in", "kgm", "kgm²", *KG_WORDS])
_PHASE_WORDS = frozenset([*_DOWN, *_UP, "at", "top", "bottom", "between", "inside"])
_MORE_WORDS = frozenset(
    [*_SORE, *_KIT_LEADS, *_KIT_ALONE, *HEIGHT_WORDS, "rest", "part", "cluster", "intra", "only", "max", "hold", "as", "to", "then", "add",
     "load", "loaded", "weight", "inertia", "loads", "week", "weeks", "from", "until"]
)  # fmt: skip
"""What these forms can begin with: most lines hold none of them."""
_UNITS: dict[str, Literal["kg", "%", "reps", "s", "sets"]] = {
    **dict.fromkeys(KG_WORDS, "kg"), "%": "%", "percent": "%", **dict.fromkeys(REP_WORDS, "reps"), **dict.fromkeys(SECONDS, "s"),
    "set": "sets", "sets": "sets",
}  # fmt: skip


@dataclass(slots=True)
class MoreFields(EffortFields):
    """Forms that begin with a number (`_more_number`) or a word (`_more_word`); None leaves them to the common ones.

    weeks   weeks of the programme in which the line is done
    """

    weeks: tuple[int, int | None] | None = None
    phase_at: tuple[int, int] | None = None

    def _more_number(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, after = amount
        unit = self.low(after)
        if unit not in _MORE_UNITS:
            return None
        for words in (("lead", "-", "in"), ("lead", "in"), ("light", "lead", "-", "in"), ("light", "lead", "in")):
            if self.words(after, *words):
                end = after + len(words)
                end += self.low(end) in REP_WORDS
                return self._put("lead_in", self.range_of(low, high, at, after), at, end)
        if unit in ("inch", "inches") or (unit == "in" and self.low(after + 1) in HEIGHT_WORDS):
            return self._inches(at, amount)
        if unit == "cm" or (unit == "m" and self.low(after + 1) in HEIGHT_WORDS):
            return self._height(at, amount, 100.0 if unit == "m" else 1.0)
        if unit in KG_WORDS or unit in ("kgm", "kgm²"):
            return self._inertia(at, amount)
        return None

    def _inches(self, at: int, amount: tuple[float, float, int]) -> int:
        low, high, unit = amount
        end = unit + 1
        of = HEIGHT_WORDS.get(self.low(end), "")
        end += bool(of)
        cm = Range(float(round(min(low, high) * 2.54)), float(round(max(low, high) * 2.54)))
        self.slip(
            "inches", "error", at, end, f"`{self.piece(at, end)}` is in inches.", "Heights are in centimetres.",
            f"An inch is 2.54 cm: write `{cm} cm{f' {of}' if of else ''}`.",
        )  # fmt: skip
        return end

    def _height(self, at: int, amount: tuple[float, float, int], factor: float) -> int:
        low, high, unit = amount
        end = unit + 1
        of = HEIGHT_WORDS.get(self.low(end))
        end += of is not None or self.low(end) in ("high", "height")
        self.values["height_of"] = self.values.get("height_of") or of
        return self._put("height_cm", self.range_of(low * factor, high * factor, at, unit), at, end)

    def _inertia(self, at: int, amount: tuple[float, float, int]) -> int | None:
        low, high, unit = amount
        end = unit + 1
        if self.low(unit) == "kgm":
            end = unit + 2 if self.low(end) == "2" else 0
        elif self.low(unit) != "kgm²":
            end += self.low(end) in (".", "·", "*", "⋅")
            if self.low(end) == "m²":
                end += 1
            elif self.low(end) == "m" and self.low(end + 1) == "2":
                end += 2
            else:
                return None
        if not end:
            return None
        return self._put("inertia_kg_m2", self.range_of(low, high, at, unit), at, end)

    def _phase(self, at: int, value: Range, after: int) -> int | None:
        """`3 s down`, `2 s up`, `1 s at the top`: phases of a repetition, put together when they are all that is needed."""
        word = self.low(after)
        if word not in _PHASE_WORDS:
            return None
        self.phase_at = self.phase_at or (at, after + 1)
        if word in _DOWN and self.low(after + 1) != "only":
            return self._put("down_s", value, at, after + 1)
        if word in _UP and self.low(after + 1) not in ("to", "only"):
            return self._put("up_s", value, at, after + 1)
        for words in (("at", "the", "top"), ("at", "top"), ("top",)):
            if self.words(after, *words):
                return self._put("top_s", value, at, after + len(words))
        for words in (("at", "the", "bottom"), ("at", "bottom"), ("bottom",)):
            if self.words(after, *words):
                return self._put("bottom_s", value, at, after + len(words))
        for words in (
            ("between", "parts"),
            ("between", "the", "parts"),
            ("inside", "the", "set"),
            ("between", "clusters"),
        ):
            if self.words(after, *words):
                return self._put("part_rest_s", value, at, after + len(words))
        return None

    def _phases_as_tempo(self) -> None:
        """`3 s up, 5 s down` is tempo 5-0-3; a range, or one phase alone, stays as it is."""
        down, up = self.values.get("down_s"), self.values.get("up_s")
        top, bottom = self.values.pop("top_s", None), self.values.pop("bottom_s", None)
        parts = [p for p in (down, up, top, bottom) if p is not None]
        if not parts:
            return
        if "tempo" in self.values or down is None or up is None or not all(p.single for p in parts):
            if "tempo" in self.values:
                first, end = self.phase_at or (0, len(self.tokens))
                self.slip(
                    "said-twice", "error", first, end, f"`{self.piece(first, end)}` gives seconds of a phase beside a tempo.",
                    "One line can hold each field once; the tempo was kept.", "Leave one of the two out.",
                )  # fmt: skip
                self.values.pop("down_s", None)
                self.values.pop("up_s", None)
            if top is not None:
                self._keep_pause(top)
            if bottom is not None:
                self._keep_pause(bottom)
            return
        del self.values["down_s"], self.values["up_s"]
        self.values["tempo"] = Tempo(
            down.low, 0.0 if bottom is None else bottom.low, up.low, None if top is None else top.low
        )

    def _keep_pause(self, value: Range) -> None:
        self.values.setdefault("pause_s", value)

    def _more_word(self, word: str, at: int) -> int | None:
        if word not in _MORE_WORDS:
            return None
        nxt = at + 1
        if word == "rest" and (self.words(nxt, "-", "pause") or self.low(nxt) == "pause"):
            return self._rest_pause(at, nxt + (2 if self.low(nxt) == "-" else 1))
        if word in ("part", "cluster", "intra") and self.low(nxt) in ("rest", "set", "-"):
            lead = nxt + 1
            while self.low(lead) in ("-", "set", "rest"):
                lead += 1
            timed = self.time(lead, bare="rest")
            return None if timed is None else self._put("part_rest_s", timed[0], at, timed[1])
        if word in _SORE and self.low(nxt) in ("side", "leg", "arm", "foot"):
            only = nxt + 1
            return self._put("sore_side_only", True, at, only + (self.low(only) == "only"))
        if (
            word == "only"
            and self.words(nxt, "the")
            and self.low(nxt + 1) in _SORE
            and self.low(nxt + 2) in ("side", "leg")
        ):
            return self._put("sore_side_only", True, at, nxt + 3)
        if (word == "max" and self.low(nxt) == "hold") or (word == "hold" and self.low(nxt) in ("max", "to", "as")):
            end = nxt + 1 if self.low(nxt) in ("hold", "max") else nxt + 2 if self.low(nxt) == "to" else nxt + 4
            self.free.append("as long as possible")
            return end
        if word == "max" and self.low(nxt) in ("sets", "rounds"):
            return self._put("max_sets", True, at, nxt + 1)
        if word == "as" and self.words(nxt, "many"):
            return self._as_many(at)
        if (word == "to" and self.low(nxt) == "failure") or (word == "then" and self.words(nxt, "to", "failure")):
            return self._failure(at, nxt + (1 if word == "to" else 2))
        if word == "add":
            return self._step(at)
        if word in ("load", "loaded", "weight"):
            return self._load_days(at)
        if word == "inertia":
            amount = self.numbers(nxt)
            if amount is None:
                return None
            whole = self._inertia(nxt, amount) if self.low(amount[2]) in (*KG_WORDS, "kgm", "kgm²") else None
            return whole or self._put(
                "inertia_kg_m2", self.range_of(amount[0], amount[1], nxt, amount[2]), at, amount[2]
            )
        if word == "loads":
            return self._loads(at)
        if word in ("week", "weeks", "from", "to", "until"):
            return self._weeks(word, at)
        if word in HEIGHT_WORDS and self.numbers(nxt) and self.low((self.numbers(nxt) or (0, 0, 0))[2]) == "cm":
            amount = self.numbers(nxt)
            self.values["height_of"] = HEIGHT_WORDS[word]
            return self._height(nxt, amount, 1.0) if amount else None
        return self._kit(at)

    def _rest_pause(self, at: int, lead: int) -> int | None:
        timed = self.time(lead, bare="rest")
        if timed is None:
            return None
        after = self._put("rest_pause_s", timed[0], at, timed[1])
        words = {"twice": 2, "once": 1}
        if self.low(after) in words:
            return self._put("rest_pause_times", words[self.low(after)], at, after + 1)
        if self.low(after) == "x" and self.kind(after + 1) == "num" and self.tokens[after + 1].value.is_integer():
            times = int(self.tokens[after + 1].value)
            return self._put("rest_pause_times", times, at, after + 2) if times else after + 2
        return after

    def _as_many(self, at: int) -> int | None:
        """`as many sets as possible`, `as many reps as possible in 40 s`."""
        what = self.low(at + 2)
        end = at + 2 if what == "as" else at + 3
        if not self.words(end, "as", "possible"):
            return None
        end += 2
        if what in ("sets", "rounds"):
            return self._put("max_sets", True, at, end)
        return self._max(at, end) if what == "as" or what in REP_WORDS else None

    def _max(self, at: int, end: int) -> int | None:
        """As many repetitions as possible; in a time, when one follows."""
        if "reps" in self.values:
            return None
        if self.kind(end) == "num" and self.low(end + 1) in ("", ",", ";", "/", "-", "to", "reps", "each", "per"):
            self._open("up to", at, end)
            return self._from_number(end)
        self._put("reps_open", "max", at, end)
        lead = end + (self.low(end) in ("in", "for", "within"))
        timed = self.time(lead)
        if timed is not None and self.low(timed[1]) not in ("rest", "off", "pause", "hold"):
            after = timed[1] + (self.low(timed[1]) in ("work", "on"))
            end = self._put("work_s", timed[0], at, after)
        return self._sides(end)

    def _failure(self, at: int, end: int) -> int | None:
        if any(
            n in self.values
            for n in ("reps", "per_set", "cluster", "hold_s", "work_s", "left", "right", "distance_m", "contacts")
        ):
            return self._put("to_failure", True, at, end)
        return self._max(at, end)

    def _step(self, at: int) -> int | None:
        read = self.step_at(at)
        if read is not None:
            return self._put("step", read[0], at, read[1])
        amount = self.numbers(at + 1)
        if amount is None:
            return None
        end = amount[2]
        while self.kind(end) == "word" and end < amount[2] + 3:
            end += 1
        return self._without_unit(at, end, "kg`, `reps` or `s")

    def _without_unit(self, at: int, end: int, units: str) -> int:
        self.slip(
            "unit-missing", "error", at, end, f"`{self.piece(at, end)}` does not say of what.",
            "Kilograms, repetitions and percentages are far apart; it was left out.", f"Write `{units}` after the number.",
        )  # fmt: skip
        return end

    def step_at(self, at: int) -> tuple[Step, int] | None:
        """`add 5 kg a week, to 60 kg` from the word `add`: the step and the next place."""
        lead = at + 1
        words = {"one": 1.0, "two": 2.0, "a": 1.0}
        if self.low(lead) in words and self.kind(lead) == "word":
            amount: tuple[float, float, int] | None = (words[self.low(lead)], words[self.low(lead)], lead + 1)
        else:
            amount = self.numbers(lead)
        if amount is None or self.low(amount[2]) not in _UNITS or amount[0] <= 0:
            return None
        unit = _UNITS[self.low(amount[2])]
        end = amount[2] + 1
        every: Literal["", "week", "2 weeks", "session"] = ""
        for words_of, meaning in _EVERY:
            if self.words(end, *words_of):
                every, end = meaning, end + len(words_of)
                break
        to = None
        lead = end + (self.low(end) == ",")
        lead += self.words(lead, "up", "to") or (self.low(lead) == "at" and self.low(lead + 1) == "most")
        if self.low(lead) in ("to", "until", "most", "max"):
            top = self.numbers(lead + 1)
            if top is not None and _UNITS.get(self.low(top[2])) == ("kg" if unit == "%" else unit):
                to, end = top[1], top[2] + 1
        return Step(self.range_of(amount[0], amount[1], at, end), unit, every, to), end

    def _load_days(self, at: int) -> int | None:
        """`load on 2-3 days a week`."""
        lead = at + 1 + (self.low(at + 1) in ("on", "only")) + self.words(at + 1, "only", "on")
        amount = self.numbers(lead)
        if amount is None or self.low(amount[2]) not in ("day", "days"):
            return None
        end = amount[2] + 1
        for words in (("a", "week"), ("per", "week"), ("each", "week"), ("of", "the", "week")):
            if self.words(end, *words):
                end += len(words)
                break
        return self._put("load_days", self.range_of(amount[0], amount[1], lead, amount[2]), at, end)

    def _loads(self, at: int) -> int | None:
        """`loads 40, 45, 50 kg`."""
        values: list[float] = []
        here = at + 1
        while self.kind(here) == "num":
            values.append(self.tokens[here].value)
            here += 1
            if self.low(here) in (",", "/", "-") and self.kind(here + 1) == "num":
                here += 1
        unit: Literal["kg", "% 1RM", "% body mass"]
        if self.low(here) in KG_WORDS:
            unit, end = "kg", here + 1
        elif self.words(here, "%", "1", "rm"):
            unit, end = "% 1RM", here + 3
        elif self.words(here, "%", "of", "1", "rm"):
            unit, end = "% 1RM", here + 4
        elif self.words(here, "%", "body", "mass"):
            unit, end = "% body mass", here + 3
        else:
            if len(values) > 1:
                shown = ", ".join(number(v) for v in values)
                self.slip(
                    "unit-missing", "error", at, here, f"`{self.piece(at, here)}` reads as a load for each set, but does not say of what.",
                    "Kilograms and percentages are far apart; it was left out.",
                    f"Write `loads {shown} kg`" + (f", or `loads {shown} % 1RM`." if max(values) <= 110 else "."),
                )  # fmt: skip
            return here if len(values) > 1 else None
        if len(values) < 2 or min(values) <= 0:
            return None
        return self._put("loads", SetLoads(tuple(values), unit), at, end)

    def _weeks(self, word: str, at: int) -> int | None:
        """`from week 5`, `weeks 4-8`, `to week 4`: when the line is done."""
        lead = at + 1
        if word in ("from", "to", "until"):
            if self.low(lead) not in ("week", "weeks"):
                return None
            lead += 1
        amount = self.numbers(lead)
        if amount is None or not (amount[0].is_integer() and amount[1].is_integer()) or min(amount[:2]) < 1:
            return None
        low, high = int(min(amount[:2])), int(max(amount[:2]))
        end = amount[2] + (word == "from" and self.low(amount[2]) == "on")
        self.weeks = (low, None) if word == "from" else (1, high) if word in ("to", "until") else (low, high)
        return end

    def _kit(self, at: int) -> int | None:
        """`with rucksack`, `books in a backpack`, `on a machine`."""
        here = at
        while self.low(here) in _KIT_LEADS and here < at + 5 and self.low(here) not in ("books", "book"):
            here += 1
        if self.low(here) in ("books", "book") and self.low(here + 1) in ("in", "inside"):
            return self._kit(here + 2)
        if here == at and self.low(at) not in _KIT_ALONE:
            return None
        for count in (2, 1):
            kit = KIT_WORDS.get(" ".join(self.low(here + k) for k in range(count)))
            if kit is not None:
                return self._put("kit", kit, at, here + count)
        return None


_EVERY: tuple[tuple[tuple[str, ...], Literal["week", "2 weeks", "session"]], ...] = (
    (("a", "week"), "week"), (("per", "week"), "week"), (("each", "week"), "week"), (("every", "week"), "week"),
    (("/", "week"), "week"), (("weekly",), "week"), (("every", "2", "weeks"), "2 weeks"), (("every", "two", "weeks"), "2 weeks"),
    (("every", "second", "week"), "2 weeks"), (("a", "session"), "session"), (("per", "session"), "session"),
    (("each", "session"), "session"), (("every", "session"), "session"),
)  # fmt: skip
