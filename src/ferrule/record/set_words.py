"""What a typed line tells of the sets of one exercise: `6, 6, 5/side, 12 kg, 1 RIR`, `40 s, 35 s`, `8 failed at 9`.

The amounts are those of the programme's own shorthand (docs/notation.md); a comma parts sets here. What a log adds to it is
how a set ended: `failed`, `failed at 9`, `stopped: pain`, `skipped`, `as written`, `4+ RIR`, `don't know`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from ferrule.model.entry import Outcome, Reserve, Stopped
from ferrule.model.finding import Level
from ferrule.model.quantity import Load, Range
from ferrule.model.words import Region, Side
from ferrule.programme.amounts import Slip
from ferrule.programme.fields import FieldReader
from ferrule.squad.limit_cells import read_place

_COMMA = re.compile(r"[;,]")
_DECIMAL = re.compile(r"\d+\s*kg\b", re.IGNORECASE)
_FAIL = re.compile(
    r"\b(?:then |and |to )?fail(?:ed|ure)?\b(?:\s*(?:at|on))?(?:\s*(?:rep|number)?\s*(?P<at>\d{1,3})(?:st|nd|rd|th)?)?"
    r"(?P<side>\s*(?:/|each |per |a )\s*(?:side|leg|arm))?\s*$", re.IGNORECASE
)  # fmt: skip
_OPEN_RESERVE = re.compile(
    r"(?P<n>\d)\s*(?:\+|or more)\s*(?:rir|(?:reps? )?in reserve|(?:reps? )?left|in the tank|more)?$", re.IGNORECASE
)
_MORE = re.compile(r"(?P<n>\d{1,2})(?P<open>\+)? (?:more|in the tank)$", re.IGNORECASE)
_DONT_KNOW = re.compile(r"(?:(?:rir|effort):? )?(?:don'?t know|do not know|dk|\?)$", re.IGNORECASE)
_STOPPED = re.compile(
    r"(?:stopped|ended|cut short|broke off)?(?: early)?:?\s*(?:by|for|with|because of)?\s*(?P<why>pain|it hurt|hurt|(?:no |out of )?time|no kit|kit)$",
    re.IGNORECASE,
)  # fmt: skip
_STOPPED_ONLY = re.compile(r"(?:stopped|ended|cut short|broke off)(?: early)?$", re.IGNORECASE)
_SKIPPED = re.compile(r"(?:skipped|left out|not done|none|did not do(?: it)?)(?::?\s*(?P<why>.+))?$", re.IGNORECASE)
_WRITTEN = re.compile(r"(?:all |done |did (?:it )?)?as (?:written|asked|planned)$|(?:all )?done$|all$", re.IGNORECASE)
_PAIN = re.compile(
    r"(?:pain:?\s+)?(?:in (?:the )?)?(?P<where>[a-z][a-z .]*?)(?P<word> pain| sore| hurt)?:?\s*(?P<worst>\d{1,2})(?P<ten>\s*/\s*10)?"
    r"(?:\s+(?:and |then )?(?:the )?(?:next morning|in the morning|morning)\s*:?\s*(?P<morning>\d{1,2})(?:\s*/\s*10)?)?$",
    re.IGNORECASE,
)  # fmt: skip
_MORNING = re.compile(
    r"(?:the )?(?:next morning|in the morning|morning(?: after)?)\s*:?\s*(?P<n>\d{1,2})(?:\s*/\s*10)?$", re.IGNORECASE
)
_WHY: dict[str, Stopped] = {"pain": "pain", "it hurt": "pain", "hurt": "pain", "time": "time", "kit": "kit"}
_NONE_DONE = re.compile(
    r"(?:(?P<times>\d{1,2})\s*(?:x|\u00d7|sets? of)\s*)?0(?: reps?)?(?:\s*(?:/|each |per |a )\s*(?:side|leg|arm|s))?$", re.IGNORECASE
)  # fmt: skip
"""A programme cannot ask for none; a log can tell of it."""
_SIDE_WORD = re.compile(r"\b(left|right|both)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SetTold:
    """One set as typed. number: from 1, for each side."""

    number: int
    side: Side
    done: float | None
    unit: Literal["reps", "s"]
    outcome: Outcome = "counted"
    reserve: Reserve | None = None
    effort_asked: bool = False
    stopped: Stopped | None = None
    load: Load | None = None
    total: bool = False


@dataclass(frozen=True, slots=True)
class PainWords:
    """Pain as typed: `left calf 4/10, next morning 2`."""

    side: Side
    region: Region
    worst: int
    morning: int | None = None


@dataclass(slots=True)
class LineTold:
    """What one line tells. slips: what is odd, at places of the text."""

    sets: list[SetTold] = field(default_factory=list)
    pains: list[PainWords] = field(default_factory=list)
    slips: list[Slip] = field(default_factory=list)
    as_written: bool = False
    skipped: Stopped | None = None
    reserve: Reserve | None = None
    effort_asked: bool = False

    @property
    def says_something(self) -> bool:
        return bool(self.sets or self.pains or self.as_written or self.skipped)


def read_line(text: str) -> LineTold:
    """What `text`, the part of a line after the name, tells. Never raises; what is not understood is a slip."""
    return _Reader(text).read()


def read_pain(text: str) -> PainWords | None:
    """`left calf 4/10`, `pain in the right knee 3`; None when it is no pain with a place and a number."""
    found = _PAIN.match(text.strip())
    place = read_place(found["where"]) if found else None
    if not found or place is None:
        return None
    meant = found["ten"] or found["word"] or text.lower().startswith("pain") or _SIDE_WORD.search(found["where"])
    worst = int(found["worst"])
    morning = int(found["morning"]) if found["morning"] else None
    if not meant or worst > 10 or (morning or 0) > 10:
        return None
    return PainWords(place[0], place[1], worst, morning)


def read_morning(text: str) -> int | None:
    """`next morning 2`."""
    found = _MORNING.match(text.strip())
    return int(found["n"]) if found and int(found["n"]) <= 10 else None


def pieces(text: str) -> Iterator[tuple[int, str]]:
    """The pieces between commas and where each begins; `12,5 kg` is one number, `6,6,5` are three."""
    start = 0
    for mark in _COMMA.finditer(text):
        at = mark.start()
        inside = text[at - 1 : at].isdigit() and text[at + 1 : at + 2].isdigit()
        if mark.group() == "," and inside and _DECIMAL.match(text, at + 1):
            continue
        yield from _piece(text, start, at)
        start = at + 1
    yield from _piece(text, start, len(text))


def _piece(text: str, start: int, end: int) -> Iterator[tuple[int, str]]:
    said = text[start:end]
    if said.strip(" \t."):
        lead = len(said) - len(said.lstrip())
        yield start + lead, said.strip().rstrip(".")


@dataclass(slots=True)
class _Reader:
    text: str
    told: LineTold = field(default_factory=LineTold)
    numbers: dict[str, int] = field(default_factory=lambda: {"left": 0, "right": 0})
    load: Load | None = None
    since: int = 0
    """Index of the first set since the last load."""
    ahead: bool = False
    """The first load stood before any set: each load is of the sets that follow it."""

    def read(self) -> LineTold:
        for at, piece in pieces(self.text):
            self._read(at, piece)
        sets, told = self.told.sets, self.told
        for i, one in enumerate(sets):
            if one.load is None and self.load is not None:
                sets[i] = replace(one, load=self.load)
        if sets and (told.reserve or told.effort_asked):
            self._effort(told.reserve)
        self._none_done()
        return told

    def _read(self, at: int, piece: str) -> None:
        if self._pain(piece) or self._ended(at, piece) or self._effort_words(piece):
            return
        fail = _FAIL.search(piece)
        rest = (piece[: fail.start()] if fail else piece).strip()
        if fail and fail["side"] and rest:
            rest += fail["side"]  # `5 failed at 6/side` is `5/side failed at 6`
        rest = re.sub(r"^sets?:?\s+(?=\d)", "", rest, flags=re.IGNORECASE)
        before = len(self.told.sets)
        if rest:
            self._fields(at, rest)
        if fail:
            self._failed(at, piece, int(fail["at"]) if fail["at"] else None, len(self.told.sets) > before)

    def _pain(self, piece: str) -> bool:
        pain, morning = read_pain(piece), read_morning(piece)
        if pain is not None:
            self.told.pains.append(pain)
        elif morning is not None and self.told.pains:
            self.told.pains[-1] = replace(self.told.pains[-1], morning=morning)
        else:
            return False
        return True

    def _ended(self, at: int, piece: str) -> bool:
        """Skipped, as written, stopped."""
        if skipped := _SKIPPED.fullmatch(piece):
            self.told.skipped = why_of(skipped["why"] or "")
        elif _WRITTEN.fullmatch(piece):
            self.told.as_written = True
        elif (stop := _STOPPED.fullmatch(piece)) or _STOPPED_ONLY.fullmatch(piece):
            if not self.told.sets:
                self.told.skipped = why_of(stop["why"]) if stop else "other"
            else:
                last = self.told.sets[-1]
                self.told.sets[-1] = replace(last, stopped=why_of(stop["why"]) if stop else "other")
        elif re.match(r"(?:stopped|ended|broke off)\b", piece, re.IGNORECASE) and self.told.sets:
            self.told.sets[-1] = replace(self.told.sets[-1], stopped=why_of(piece))
        else:
            return False
        return at >= 0

    def _effort_words(self, piece: str) -> bool:
        found = _OPEN_RESERVE.fullmatch(piece)
        if found and not re.search(r"[a-z]", piece, re.IGNORECASE):
            found = None  # `8+` is a number of repetitions
        more = _MORE.fullmatch(piece)
        if found or more:
            n = int((found or more)["n"])  # type: ignore[index]
            is_open = bool(found) or bool(more and more["open"])
            self._effort(Reserve(min(n, 4), None) if is_open else Reserve(n, n))
            return True
        if _DONT_KNOW.fullmatch(piece):
            self._effort(None)
            return True
        return False

    def _effort(self, reserve: Reserve | None) -> None:
        """Effort belongs to the set told last; before any, to the last one of the line."""
        if not self.told.sets:
            self.told.reserve, self.told.effort_asked = reserve, True
            return
        number = self.told.sets[-1].number
        for i, one in enumerate(self.told.sets):
            if one.number == number:
                self.told.sets[i] = replace(one, reserve=reserve, effort_asked=True)

    def _failed(self, at: int, piece: str, tried: int | None, counted: bool) -> None:
        sets = self.told.sets
        if not counted and tried is not None:
            self._add("both", float(tried - 1), "reps")
        elif not sets:
            self._slip("log-failed", "advice", at, piece, f"`{piece}` does not say after how many.",
                       "A failed set is an exact count.", "Write `8 failed`, or `8 failed at 9`.")  # fmt: skip
            return
        last = sets[-1]
        if counted and tried is not None and last.done is not None and last.unit == "reps" and tried != last.done + 1:
            self._slip("log-failed", "advice", at, piece, f"`{piece}`: {last.done:g} done and failed at {tried}.",
                       f"{last.done:g} was taken as done.", f"Write `{last.done:g} failed at {last.done + 1:g}`.")  # fmt: skip
        sets[-1] = replace(last, outcome="failed")

    def _none_done(self) -> None:
        """A set of none that was not stopped for another reason was tried, as when `failed` stands with it."""
        bare = False
        for i, one in enumerate(self.told.sets):
            if one.done == 0 and one.outcome == "counted" and one.stopped is None:
                self.told.sets[i], bare = replace(one, outcome="failed"), True
        if bare:
            self._slip("log-none-done", "advice", 0, self.text, "`0` was read as tried and not one done.",
                       "A set that was not tried says nothing about strength.", "Write `0 failed`, or `skipped: no time`.")  # fmt: skip

    def _fields(self, at: int, piece: str) -> None:
        """A piece in the programme's shorthand."""
        if none := _NONE_DONE.fullmatch(piece):
            for _ in range(min(int(none["times"] or 1), 30)):
                self._add("both", 0.0, "reps")
            return
        reader = FieldReader(piece).read()
        values = reader.values
        self.told.slips += [replace(s, start=s.start + at, end=s.end + at) for s in reader.slips]
        for start, end in reader.unread:
            self._slip("log-not-understood", "error", at + start, piece[start:end],
                       f"`{piece[start:end]}` was not understood.", "Nothing was done with it.",
                       "Write sets as `6, 6, 5`, then `12 kg`, `1 RIR`, `failed at 9`.")  # fmt: skip
        before = len(self.told.sets)
        self._amounts(at, piece, values)
        load = values.get("load")
        if isinstance(load, Load):
            self._loaded(load, before)
        rir = values.get("rir")
        if isinstance(rir, Range):
            self._effort(Reserve(math.floor(rir.low), math.ceil(rir.high)))
        idle = [n for n in ("tempo", "pause_s", "rest_s", "side_rest_s") if n in values]
        if idle:
            self._slip("log-not-kept", "note", at, piece, f"`{piece}` is not kept with a set.",
                       "Sets, loads and effort are.", "Leave it out.")  # fmt: skip

    def _amounts(self, at: int, piece: str, values: dict[str, object]) -> None:
        many = values.get("sets")
        times = int(many.low) if isinstance(many, Range) else 1
        one_side = {s: values[s] for s in ("left", "right") if s in values}
        per_set, cluster = values.get("per_set") or (), values.get("cluster") or ()
        for _ in range(max(1, min(times, 30))):
            for side, done in one_side.items():
                self._add(side, float(done), "reps")  # type: ignore[arg-type]
            for done in per_set:  # type: ignore[attr-defined]
                self._add("both", float(done), "reps")
            if cluster:
                self._add("both", float(sum(cluster)), "reps")  # type: ignore[call-overload]
            for name, unit in (
                ("reps", "reps"),
                ("contacts", "reps"),
                ("hold_s", "s"),
                ("work_s", "s"),
                ("distance_m", ""),
            ):
                amount = values.get(name)
                if not isinstance(amount, Range) or (name == "hold_s" and "reps" in values):
                    continue
                if not amount.single:
                    self._slip("log-range", "advice", at, piece, f"`{piece}` is a range; {amount.low:g} was taken as done.",
                               "A log holds what was done.", "Write the number that was done.")  # fmt: skip
                if unit:
                    self._add("both", amount.low, unit, total=values.get("sides") == "total")  # type: ignore[arg-type]
                else:
                    self._add("both", None, "reps", outcome="tapped")

    def _add(
        self,
        side: Side,
        done: float | None,
        unit: Literal["reps", "s"],
        outcome: Outcome = "counted",
        total: bool = False,
    ) -> None:
        reached = max(self.numbers.values()) if side == "both" else self.numbers[side]
        number = reached + 1
        for s in ("left", "right") if side == "both" else (side,):
            self.numbers[s] = number
        load = self.load if self.ahead else None
        self.told.sets.append(SetTold(number, side, done, unit, outcome, load=load, total=total))

    def _loaded(self, load: Load, before: int) -> None:
        """A load after sets is theirs; one before them is of those that follow, until the next."""
        sets = self.told.sets
        self.ahead = self.ahead or not sets
        for i in range(before if self.ahead else self.since, len(sets)):
            sets[i] = replace(sets[i], load=load)
        self.load, self.since = load, len(sets)

    def _slip(self, code: str, level: Level, at: int, piece: str, what: str, why: str, fix: str) -> None:
        self.told.slips.append(Slip(code, level, at, at + len(piece), what, why, fix))


def why_of(text: str) -> Stopped:
    """Why a set or an exercise ended, in one of the four words."""
    low = text.lower()
    for word, why in (("pain", "pain"), ("hurt", "pain"), ("sore", "pain"), ("time", "time"), ("kit", "kit")):
        if word in low:
            return why  # type: ignore[return-value]
    return (
        "kit" if re.search(r"\bno (?:dumbbell|kettlebell|band|step|box|bench|barbell|rucksack|chair)", low) else "other"
    )
