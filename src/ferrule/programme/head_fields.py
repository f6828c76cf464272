"""What heads say beyond rounds, rests, days and minutes: how often, from when, beside what, at which stations."""

from __future__ import annotations

import re
from typing import Literal

from ferrule.model.quantity import Range
from ferrule.programme.fields import FieldReader
from ferrule.programme.head import Head
from ferrule.programme.head_base import HeadBase

DAYS = {"mon": 1, "tue": 2, "wed": 3, "thu": 4, "fri": 5, "sat": 6, "sun": 7}
"""The first three letters of each day, Monday 1."""
_DAY_WORD = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs|ur)?(?:day)?s?$")
_KEY = re.compile(
    r"\s*(?:,|/|\bor\b|\band\b)?\s*([A-Za-z]?\d{1,2}[A-Za-z]?|[A-Za-z]{1,2})(?=\s*(?:$|[,:;/)]|\b(?:or|and|of|in)\b))"
)
_COUNTS = {"once": 1.0, "twice": 2.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0}
_ORDINALS = {"second": 2, "other": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4}
_PER = frozenset(["a", "per", "/", "each", "every"])
_PARTS: dict[str, Literal["morning", "afternoon", "evening"]] = {
    "morning": "morning", "mornings": "morning", "afternoon": "afternoon", "afternoons": "afternoon", "evening": "evening",
    "evenings": "evening", "am": "morning", "pm": "afternoon",
}  # fmt: skip
_ROUNDS = frozenset(["sets", "rounds", "set", "round"])
_SESSION_WORDS = frozenset(
    [*_COUNTS, *_PARTS, "at", "weekly", "daily", "every", "morning", "day", "days", "from", "to", "until", "after", "before", "same",
     "in", "level", "choose", "pick", "as", "supervised", "unsupervised", "remote", "on", "up", "week", "weeks", "wk", "wks"]
)  # fmt: skip
"""What a field of a session head can begin with; names hold few of them."""


class HeadReader(HeadBase):
    """The fields of cycle, session and block heads."""

    def _times(self, at: int, per: tuple[str, ...] = ("week", "wk")) -> tuple[Range, bool, int] | None:
        """`2 a week`, `2-3 times per week`, `twice a week`, `at least 2 a week`, `weekly`."""
        if self.low(at) == "weekly" and "week" in per:
            return Range.of(1), False, at + 1
        lead, at_least = at, False
        if self.words(at, "at", "least"):
            lead, at_least = at + 2, True
        elif self.low(at) == ">":
            lead, at_least = at + 1, True
        amount = self.numbers(lead)
        if amount is None and self.low(lead) in _COUNTS:
            amount = (_COUNTS[self.low(lead)], _COUNTS[self.low(lead)], lead + 1)
        if amount is None:
            return None
        end = amount[2]
        while self.low(end) in ("x", "times", "sessions", "session", "days"):
            end += 1
        if self.low(end) not in _PER or self.low(end + 1) not in per:
            return None
        if not (amount[0].is_integer() and amount[1].is_integer()) or min(amount[:2]) < 1:
            return None
        return self.range_of(amount[0], amount[1], lead, amount[2]), at_least, end + 2

    def _weeks(self, at: int) -> tuple[tuple[int, int | None], int] | None:
        """`weeks 4-8`, `week 4`, `from week 5 on`, `after week 4`, `to week 4`."""
        lead, word = at, self.low(at)
        if word in ("from", "to", "until", "after"):
            lead += 1
        if self.low(lead) not in ("week", "weeks", "wk", "wks"):
            return None
        amount = self.numbers(lead + 1)
        if amount is None or not (amount[0].is_integer() and amount[1].is_integer()):
            return None
        low, high = int(min(amount[0], 9999)), int(min(amount[1], 9999))
        end = amount[2]
        on = 2 if self.words(end, "and", "on") else 1 if self.low(end) in ("on", "onwards", "onward") else 0
        if word == "after":
            return (high + 1, None), end + on
        if word == "from" or (on and low == high):
            return (low, None), end + on
        if word in ("to", "until"):
            return (1, high), end
        return (low, high), end

    def _keys(self, at: int) -> tuple[tuple[str, ...], int]:
        """Keys of sessions from the token `at`: `A, B or C`."""
        place = self.start(at)
        found: list[str] = []
        while True:
            match = _KEY.match(self.text, place)
            if not match or match.start(1) >= self.end_before(len(self.tokens)):
                break
            key = match.group(1)
            found.append(key.upper() if key.isalpha() else key)
            place = match.end()
        while at < len(self.tokens) and self.start(at) < place:
            at += 1
        return tuple(found), at

    def _cycle_field(self, head: Head, at: int) -> int | None:
        more, word = head.more, self.low(at)
        if word == "sessions" and self.kind(at + 1) == "num":
            amount = self.numbers(at + 1)
            if amount and 1 <= amount[0] <= amount[1] <= 9999 and self.low(amount[2]) not in _PER:
                more["sessions_span"] = (int(amount[0]), int(amount[1]))
                return amount[2]
        if word in ("repeat", "repeated", "repeats"):
            lead = at + 1 + (self.low(at + 1) in ("to", "until"))
            amount = self.numbers(lead + 1) if self.low(lead) == "week" else None
            if amount is None:
                return None
            more["repeat_to"] = int(min(amount[1], 9999))
            return amount[2]
        if word in ("overlapping", "overlaps"):
            more["overlaps"] = True
            return at + 1
        if word in ("start", "starts", "starting"):
            lead = at + 1 + (self.low(at + 1) in ("in", "at"))
            lead += self.low(lead) in ("week", "weeks")
            amount = self.numbers(lead)
            if amount is None:
                return None
            more["start"] = self.range_of(amount[0], amount[1], lead, amount[2])
            return amount[2]
        if word in ("and", "on") and head.weeks is not None:
            end = at + 2 if self.words(at, "and", "on") else at + 1
            if word == "on" or self.words(at, "and", "on"):
                more["open_end"] = True
                return end
        weeks = self._weeks(at) if head.kind == "cycle" else None
        if weeks is not None:
            (first, last), end = weeks
            head.weeks = (first, first if last is None else last)
            if last is None:
                more["open_end"] = True
            return end
        times = self._times(at)
        if times is not None:
            more["times_a_week"], more["at_least"] = times[0], times[1]
            return times[2]
        return None

    def _session_field(self, head: Head, at: int) -> int | None:
        more, word = head.more, self.low(at)
        lead = at + 1 if word in ("about", "~") else at
        amount = self.time(lead)
        if amount and amount[0].high >= 60:
            low, head.minutes = round(amount[0].low / 60), round(amount[0].high / 60)
            if low != head.minutes:
                more["minutes_from"] = low
            return amount[1]
        if self.kind(at) == "word" and word not in _SESSION_WORDS and not _DAY_WORD.match(word):
            return None
        for read in (self._session_often, self._session_when, self._session_what):
            after = read(head, at, word)
            if after is not None:
                return after
        return None

    def _session_often(self, head: Head, at: int, word: str) -> int | None:
        more = head.more
        times = self._times(at)
        if times is not None:
            more["times_a_week"], more["at_least"] = times[0], times[1]
            return times[2]
        daily = self._times(at, ("day",))
        if daily is not None and daily[0] == Range.of(2):
            more["twice_a_day"] = True
            return daily[2]
        if self.words(at, "morning", "and", "evening"):
            more["twice_a_day"] = True
            return at + 3
        if word == "daily" or self.words(at, "every", "day"):
            more["every_days"] = 1
            return at + (1 if word == "daily" else 2)
        if word == "every":
            nxt, count = self.low(at + 1), 0
            if nxt in _ORDINALS and self.low(at + 2) == "day":
                count = _ORDINALS[nxt]
            elif self.kind(at + 1) == "num" and self.low(at + 2) in ("days", "day"):
                count = int(self.tokens[at + 1].value)
            elif self.kind(at + 1) == "num" and self.low(at + 2) in ("nd", "rd", "th") and self.low(at + 3) == "day":
                more["every_days"] = max(1, int(self.tokens[at + 1].value))
                return at + 4
            if count:
                more["every_days"] = count
                return at + 3
        lead = at + 2 if self.words(at, "at", "least") else at
        apart = self.numbers(lead)
        if apart and self.low(apart[2]) in ("h", "hours", "hour") and apart[0].is_integer():
            more["hours_apart"] = int(apart[0])
            return apart[2] + 1 + (self.low(apart[2] + 1) in ("apart", "between"))
        return None

    def _session_when(self, head: Head, at: int, word: str) -> int | None:
        more = head.more
        if word == "day" and self.kind(at + 1) == "num" and float(self.tokens[at + 1].value).is_integer():
            head.day = int(self.tokens[at + 1].value)
            return self._day_list(head, at + 2) if self.low(at + 2) in ("and", "&") else at + 2
        if word == "days" and self.kind(at + 1) == "num":
            return self._day_list(head, at + 1)
        day = _DAY_WORD.match(word) if self.kind(at) == "word" else None
        if day:
            self._add_day(head, DAYS[day.group(1)])
            end = at + 1
            while self.low(end) in ("and", "&", "/", "+", ","):
                following = _DAY_WORD.match(self.low(end + 1))
                if not following:
                    break
                self._add_day(head, DAYS[following.group(1)])
                end += 2
            return end
        weeks = self._weeks(at)
        if weeks is not None:
            more["weeks"] = weeks[0]
            return weeks[1]
        if word in ("after", "before"):
            end = at + 1 + (self.low(at + 1) in ("the", "a", "your", "an"))
            end += self.low(end) in (*_PARTS, "easy", "hard", "long", "key")
            if self.low(end) in ("run", "runs", "running"):
                more["beside_run"] = word
                return end + 1
            return None
        if self.words(at, "same", "day"):
            end = at + 2
            while self.low(end) in ("as", "the", "a", "run", "your"):
                end += 1
            if self.low(end - 1) == "run":
                more["beside_run"] = "same day"
                return end
        lead = at + 2 if self.words(at, "in", "the") else at
        if self.low(lead) in _PARTS and self.low(lead + 1) in ("", ",", ";", ":"):
            more["part_of_day"] = _PARTS[self.low(lead)]
            return lead + 1
        return None

    def _session_what(self, head: Head, at: int, word: str) -> int | None:
        more = head.more
        if word == "level" and self.kind(at + 1) == "word":
            more["level"] = self.low(at + 1)
            return at + 2
        if word in ("choose", "pick"):
            end = at + 1
            while self.low(end) in ("one", "of", "from", "between", "1"):
                end += 1
            keys, after = self._keys(end)
            if len(keys) < 2:
                return None
            more["choose"] = keys
            return after
        if word == "as" or self.words(at, "same", "as"):
            return self._same_as(head, at + (1 if word == "as" else 2))
        if word in ("supervised", "unsupervised", "remote") or self.words(at, "on", "your", "own"):
            more["supervised"] = word == "supervised"
            return at + (3 if word == "on" else 1)
        for lead in ("from", "up to", ""):
            start = at + len(lead.split())
            if not self.words(at, *lead.split()):
                continue
            amount = self.numbers(start)
            if amount is None:
                continue
            end = amount[2] + (self.low(amount[2]) in ("foot", "ground"))
            if self.low(end) == "contacts":
                more["contacts"] = self.range_of(amount[0], amount[1], start, amount[2])
                if lead:
                    more["contacts_open"] = lead
                return end + 1
        return None

    def _same_as(self, head: Head, at: int) -> int | None:
        """`as session 1`, `as session 1 of cycle 2`, `as in cycle 1`: blocks taken from another session."""
        session = cycle = ""
        if self.low(at) in ("session", "day"):
            keys, after = self._keys(at + 1)
            if len(keys) != 1:
                keys, after = keys[:1], at + 2
            if not keys:
                return None
            session, at = keys[0], after
        while self.low(at) in ("of", "in"):
            at += 1
        if self.low(at) in ("cycle", "phase"):
            keys, after = self._keys(at + 1)
            if not keys:
                return None
            cycle, at = keys[0], after if len(keys) == 1 else at + 2
        elif self.low(at) in ("week", "weeks") and self.numbers(at + 1):
            low, high, after = self.numbers(at + 1) or (0.0, 0.0, at)
            cycle, at = f"week {low:.0f}" if low == high else f"weeks {low:.0f}-{high:.0f}", after
        if not session and not cycle:
            return None
        head.more["same_as"] = (cycle, session)
        return at

    def _add_day(self, head: Head, day: int) -> None:
        days = sorted({*head.more.get("days", ()), *([] if head.day is None else [head.day]), day})
        self._keep_days(head, days)

    def _keep_days(self, head: Head, days: list[int]) -> None:
        head.day = days[0] if len(days) == 1 else None
        if len(days) > 1:
            head.more["days"] = tuple(days)

    def _day_list(self, head: Head, at: int) -> int:
        """`days 1, 3 and 5`: numbers up to the first that has a unit."""
        days = [] if head.day is None else [head.day]
        while True:
            while self.low(at) in ("and", "&"):
                at += 1
            comma = self.low(at) == "," and self.kind(at + 1) == "num"
            here = at + 1 if comma else at
            if self.kind(here) != "num" or self.low(here + 1) not in ("", ",", "and", "&", ";", ":", ")"):
                break
            parts = self.tokens[here].low.split(",")
            days += [int(p) for p in parts if p.isdigit() and 1 <= int(p) <= 7]
            at = here + 1
        if days:
            self._keep_days(head, sorted(set(days)))
        return at

    def _more_block(self, head: Head, at: int) -> int | None:
        more, word = head.more, self.low(at)
        if word in ("max", "amrap") and self.low(at + 1) in _ROUNDS:
            more["max_sets"] = True
            return at + 2
        if self.words(at, "as", "many") and self.low(at + 2) in _ROUNDS and self.words(at + 3, "as", "possible"):
            more["max_sets"] = True
            return at + 5
        if word == "amrap":
            more["max_sets"] = True
            return at + 1
        if word in ("for", "in") and self.time(at + 1) is not None:
            return self._block_time(head, at + 1)
        if self.words(at, "on", "the", "minute") or self.words(at, "every", "minute"):
            more["every_s"] = 60
            return at + (3 if word == "on" else 2)
        if word == "emom":
            more["every_s"] = 60
            return at + 1
        if word == "every":
            timed = self.time(at + 1)
            if timed is None or not timed[0].single:
                return None
            more["every_s"] = round(timed[0].low)
            return timed[1]
        if word in ("choose", "pick", "any") and self.numbers(at + 1):
            amount = self.numbers(at + 1)
            if amount is None or min(amount[:2]) < 1 or not (amount[0].is_integer() and amount[1].is_integer()):
                return None
            more["exercises"] = self.range_of(amount[0], amount[1], at + 1, amount[2])
            end = amount[2] + (self.low(amount[2]) == "exercises")
            while self.low(end) in ("of", "these", "them", "the", "list"):
                end += 1
            return end
        after = self._block_time(head, at)
        if after is not None:
            return after
        amount = self.numbers(at)
        if amount is not None:
            unit, whole = (
                self.low(amount[2]),
                amount[0].is_integer() and amount[1].is_integer() and min(amount[:2]) >= 1,
            )
            if unit in ("exercises", "exercise", "stations") and whole:
                more["exercises"] = self.range_of(amount[0], amount[1], at, amount[2])
                return amount[2] + 1
            end = amount[2] + (unit in ("reps", "contractions", "repetitions"))
            if whole and (
                self.words(end, "in", "all")
                or self.words(end, "in", "total")
                or (end > amount[2] and self.low(end) == "total")
            ):
                more["reps_in_all"] = self.range_of(amount[0], amount[1], at, amount[2])
                return end + (1 if self.low(end) == "total" else 2)
        return self._by_item_fields(head, at)

    def _block_time(self, head: Head, at: int) -> int | None:
        """`12 min`, `40 s on`, `20 s off`."""
        timed = self.time(at)
        if timed is None:
            amount = self.numbers(at)
            if amount is None or self.low(amount[2]) not in ("on", "off"):
                return None
            value = self.range_of(amount[0], amount[1], at, amount[2])
            self._stations_without_unit(at, value, amount[2])
            timed = value, amount[2]
        word = self.low(timed[1])
        if word in ("on", "work", "working"):
            head.more["on_s"] = timed[0]
            return timed[1] + 1
        if word == "off":
            head.more["off_s"] = timed[0]
            return timed[1] + 1
        if word in ("rest", "between") or timed[0].high < 60 or not timed[0].single or timed[0].high % 60:
            return None
        head.more["minutes"] = round(timed[0].high / 60)
        return timed[1]

    def _stations_without_unit(self, at: int, value: Range, word: int) -> None:
        """`40 on, 20 off`: told once, with both in the fix."""
        if any(s.code == "unit-missing" and "off`" in s.fix for s in self.slips):
            return
        end, fix = word + 1, f"{value} s {self.low(word)}"
        other = self.numbers(end + (self.low(end) in (",", "/")))
        if other is not None and self.low(word) == "on" and self.low(other[2]) == "off":
            end, fix = other[2] + 1, f"{fix}, {self.range_of(other[0], other[1], end, other[2])} s off"
        self.slip(
            "unit-missing", "advice", at, end, f"`{self.piece(at, end)}` has no unit; it was read as seconds.",
            "Seconds and minutes are easily taken for one another.", f"Write `{fix}`.",
        )  # fmt: skip

    def _by_item_fields(self, head: Head, at: int) -> int | None:
        """`tempo 2-0-2` and `at least 80 % HRmax`: read as in a line, for every item of the block."""
        if self.low(at) not in ("tempo", "at", "above", "over", ">", "about", "~", "more") and self.kind(at) != "num":
            return None
        end = at
        while end < len(self.tokens) and self.low(end) not in (",", ";"):
            end += 1
        reader = FieldReader(self.text[: self.end_before(end)]).read(self.start(at))
        if reader.unread or reader.slips or len(reader.values) != 1 or not set(reader.values) <= {"tempo", "intensity"}:
            return None
        head.more |= reader.values
        return end
