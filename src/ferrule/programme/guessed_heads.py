"""Lines that lead up to a list as a head does, in the trade's words: labels, `x 3`, `EMOM`, `Tabata`, `Finisher`, titles."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from ferrule.model.programme import BlockKind
from ferrule.model.quantity import Range
from ferrule.programme.amounts import Slip
from ferrule.programme.head import Head
from ferrule.programme.head_fields import HeadReader
from ferrule.programme.head_text import block_head
from ferrule.programme.heads import read_head
from ferrule.programme.markdown import Line
from ferrule.programme.scan import plain
from ferrule.programme.week_rules import is_rule

_LIMIT = 100
_LABEL = r"(?:\b[A-H]\d\b|\b\d[a-eA-E]\b)[).:]*"
_LABELS = re.compile(rf"{_LABEL}(?:\s*(?:/|\+|&|,|and\b|-)?\s*{_LABEL})+|^{_LABEL}")
_LETTER = re.compile(r"^\s*([A-H])[).:](?=\s)")
_BLOCK = re.compile(
    r"\b(?:block|part|section|group|series)\s+([A-Z]|\d{1,2})\b(?!\s*(?:x|sets?|rounds?|min)\b)", re.IGNORECASE
)
_MIN = r"(?:min(?:ute)?s?\b|'|m\b)"
_COUNT_WORD = r"(?!\s*(?:x\b|rounds?|sets?|rds?|times|exercises|stations|\d|-|s\b|sec))"
_MANY = re.compile(
    rf"(?P<a>\d{{1,3}})\s*-?\s*{_MIN}?\s*amrap\b|\bamrap\b(?:\s*(?:[,:]|in|for|of))?\s*(?P<b>\d{{1,3}})\b\s*{_MIN}?{_COUNT_WORD}"
    r"|\bamrap\b|\bas many rounds as possible(?: in (?P<c>\d{1,3}) min(?:ute)?s?)?",
    re.IGNORECASE,
)
_MINUTE = re.compile(
    rf"(?:(?P<before>\d{{1,3}})\s*-?\s*{_MIN}?\s*)?(?:\be(?P<every>\d{{1,2}})?mom\b|\b(?:every minute )?on the minute\b)"
    rf"(?:\s*(?:[,:]|for)?\s*(?P<x>x\s*)?(?P<count>\d{{1,3}})\b\s*(?P<unit>{_MIN})?{_COUNT_WORD})?",
    re.IGNORECASE,
)
_TABATA = re.compile(r"\btabatas?\b", re.IGNORECASE)
_ROUND_TIME = re.compile(r"\b(rounds?|rds?|sets?)\s+of\s+(?=\d{1,2}\s*(?:min|'))", re.IGNORECASE)
_STATIONS = re.compile(r"\b(\d{2})\s*s?\s*/\s*(\d{2})\s*s?\b(?!\s*kg)")
_FALLING = re.compile(r"\b\d+(?:\s*[-/,]\s*\d+){2,}\b")
_CIRCUIT = re.compile(
    r"\b(?:circuits?|tri[- ]?sets?|giant[- ]?sets?|stations?|rotations?|triplet|trio)\b(?:\s+((?-i:[A-Z]))\b)?",
    re.IGNORECASE,
)
_PAIR = re.compile(
    r"\b(?:complex|super[- ]?sets?|couplet|compound[- ]?sets?|pair|contrast(?: sets?)?)\b(?:\s+((?-i:[A-Z]))\b)?",
    re.IGNORECASE,
)
_ROUNDS = re.compile(r"\brounds?\b|\brds?\b|\btimes\b|\bx\s*\d|\b\d+\s*x(?!\w)", re.IGNORECASE)
_SETS = re.compile(r"\bsets?\b", re.IGNORECASE)
_PREPARES = re.compile(
    r"\b(?:prep|prepare|preparation|activation|mobility|mobilise|mobilize|primer|warm[- ]?up|pre[- ]?hab)\b",
    re.IGNORECASE,
)
_SETTLES = re.compile(r"\bcool[- ]?down\b", re.IGNORECASE)
_TITLE = re.compile(
    r"\b(?:core|abs|trunk|finisher|burner|main|accessor(?:y|ies)|assistance|strength|power|speed|plyos?|plyometrics?|jumps?|hops?"
    r"|conditioning|upper|lower|body|legs?|cal(?:f|ves)|hips?|glutes?|foot|feet|ankles?|stretch(?:es|ing)?|isometrics?|isos?"
    r"|balance|drills?|exercises|work|lifts?|block|part|stability)\b",
    re.IGNORECASE,
)  # fmt: skip
_FILLER = frozenset(
    ("of", "each", "the", "through", "do", "repeat", "perform", "complete", "following", "all", "then", "for", "in", "with", "as", "these",
     "this", "those", "them", "and", "a", "to", "next", "go", "finish", "set", "sets", "round", "rounds", "part", "block", "per", "below", "it",
     "after", "at", "followed", "by", "work", "+", "&", "/", "-", ".", "!", "=", "#", "*")
)  # fmt: skip
_WORD = re.compile(r"[^\W\d_]+(?:['-][^\W\d_]+)*|[^\s]")
_PER_WEEK = re.compile(r"\b(?:a|per|each|every|this|next)\s+(?:week|day|month)\b|\btimes\s+weekly\b", re.IGNORECASE)
_WORDS = re.compile(
    r"(?:notes?|tips?|remember|kit|equipment|needs?|you(?: will)? need|aims?|goals?|rules?|why|how|coach|key|cues?|focus|or|if|when"
    r"|limit|rest)\b",
    re.IGNORECASE,
)  # fmt: skip
"""What words for the runner begin with, and no head."""
DOSE_FIRST = re.compile(r"\d{1,2}\s*[x*]\s*\d")
"""`3 x 15 heel drop`: an item with its dose before its name."""
_SENTENCE = re.compile(r"[.!?;]\s|[.!?;]$")


@dataclass(slots=True)
class Guess:
    """A line read as the head of a block. `title`: it says no more than a name. `missed`: parts that were not understood."""

    head: Head
    meant: str
    missed: list[str] = field(default_factory=list)
    title: bool = False


def guess_head(line: Line, count: int, *, first: bool, marked: bool) -> Guess | None:
    """Reads a line before a list as the head of a block; None when it is prose.

    count    entries of the list
    first    is no block of the session above it?
    marked   is the line a heading?
    """
    text = plain(line.text).strip("*_# ")
    if len(text) > _LIMIT or _PER_WEEK.search(text) or _WORDS.match(text) or DOSE_FIRST.match(text) or is_rule(text):
        return None
    if text.startswith("(") and text.rstrip(" .:").endswith(")"):
        return None  # an aside on what stands above
    return _Reader(text).read(count, first=first, marked=marked or line.text.startswith(("**", "__")))


class _Reader:
    def __init__(self, text: str) -> None:
        self.whole = text
        self.text = f" {text} "
        self.label = ""
        self.trade = False
        self.missed: list[str] = []
        self.extra: list[str] = []

    def _take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Takes the first match out of the text; a comma stands in its place."""
        found = pattern.search(self.text)
        if found:
            self.text = f"{self.text[: found.start()]} , {self.text[found.end() :]}"
        return found

    def _labels(self) -> bool:
        """Labels of the exercises or of the block; the letter they share is the label. True for those of exercises."""
        found = self._take(_LABELS)
        own = found is not None
        if found:
            first = found.group().strip()[:1]
        else:
            found = self._take(_BLOCK) or self._take(_LETTER)
            if found is None:
                return False
            first = found.group(1)
        number = int(first) if first.isdigit() else 0
        self.label = chr(64 + number) if 0 < number < 27 else first.upper()
        return own

    def _grouped(self, pattern: re.Pattern[str]) -> bool:
        """Is a word of `pattern` in the line? The letter after it is the label."""
        found = self._take(pattern)
        if found is not None and found.group(1):
            self.label = self.label or found.group(1)
        return found is not None

    def _timed(self) -> None:
        """`EMOM`, `AMRAP` and `Tabata` as the fields they stand for."""
        found = self._take(_MINUTE)
        if found:
            self.trade = True
            every = int(found["every"] or 1)
            self.extra.append(f"every {every} min")
            minutes = found["before"]
            if found["count"] and not minutes:
                if found["x"] and not found["unit"] and every > 1:
                    self.extra.append(f"{found['count']} rounds")
                else:
                    minutes = found["count"]
            elif found["count"]:
                self.missed.append(found["count"])
            if minutes:
                self.extra.append(f"{minutes} min")
        found = self._take(_MANY)
        if found:
            self.trade = True
            minutes = found["a"] or found["b"] or found["c"]
            self.extra.append(f"{minutes} min" if minutes else "max rounds")
            if re.search(r"\d\s*(?:rounds?|sets?|rds?)\b|\bx\s*\d", self.text):
                self.missed.append(found.group().strip())
                self.extra.pop()
        found = self._take(_TABATA)
        if found:
            self.trade = True
            self.extra += ["20 s on", "10 s off"]
            times = self._take(
                re.compile(r"\bx\s*\d{1,2}\b|\b\d{1,2}\s*x(?!\w)", re.IGNORECASE)
            )  # eight rounds so often, or so many?
            if times:
                self.missed.append(times.group().strip())
            if re.search(r"\d\s*(?:rounds?|sets?)\b", self.text) is None:
                self.extra.append("8 rounds")
        found = self._take(re.compile(r"\bfor time\b", re.IGNORECASE))
        if found:
            self.missed.append(found.group())
        while found := self._take(_FALLING):
            self.missed.append(found.group())
        found = self._take(_STATIONS)
        if found:
            self.extra += [f"{found[1]} s on", f"{found[2]} s off"]

    def read(self, count: int, *, first: bool, marked: bool) -> Guess | None:
        announces = self.whole.endswith(":")
        labelled, falling = self._labels(), _FALLING.search(self.whole) is not None
        self._timed()
        self.text = _ROUND_TIME.sub(r"\1 , every ", self.text)
        circuit, pair = self._grouped(_CIRCUIT), self._grouped(_PAIR)
        warm, cool = _PREPARES.search(self.text) is not None and first, _SETTLES.search(self.text) is not None
        title = _TITLE.search(self.whole) is not None or _PREPARES.search(self.whole) is not None or cool
        body = re.sub(r"(?<!\d):|:(?!\d)|\s[-=]\s", " , ", self.text)
        body = ", ".join([body.rstrip(" :.,"), *self.extra])
        reader, head = HeadReader(body), Head("block", "guess")
        reader.read(head, 0, len(body))
        name = self._name([body[s.start : s.end] for s in reader.slips if s.code == "head-not-read"])
        wrong = [
            body[s.start : s.end].strip() for s in reader.slips if s.level == "error" and s.code != "head-not-read"
        ]
        self.missed += wrong
        counted = (
            head.sets is not None
            or bool(wrong or falling)
            or bool({"max_sets", "every_s", "on_s", "exercises", "reps_in_all"} & set(head.more))
        )
        likely = counted or bool(self.label) or circuit or pair or self.trade
        timed = bool(head.more) or head.rest_s is not None or head.between_s is not None
        if not likely:
            short_name = bool(name) and len(name.split()) <= 5 and not self.missed
            if not name and timed and not self.missed and ("minutes" in head.more) and not self.whole.endswith("."):
                return self._guess(head, "", title=True)
            told = announces or marked or (title and name[:1].isupper() and len(name.split()) <= 3)
            if not (short_name and told and not _SENTENCE.search(self.whole)) and not (
                timed and title and not self.missed
            ):
                return None
        elif self._is_sentence() or (not (counted or self.label) and not circuit and not pair and self.missed):
            return None
        rounds = (
            bool(_ROUNDS.search(self.whole)) or self.trade or bool({"on_s", "max_sets", "every_s"} & set(head.more))
        )
        kind = self._kind(count, circuit=circuit, pair=pair or labelled, rounds=rounds)
        head.block = "warm-up" if warm else "cool-down" if cool else kind
        return self._guess(head, name, title=not likely and not timed)

    def _kind(self, count: int, *, circuit: bool, pair: bool, rounds: bool) -> BlockKind:
        sets = bool(_SETS.search(re.sub(r"(?i)(?:giant|tri|super|compound)[- ]?sets?", "", self.whole))) and not rounds
        if count < 2 or not (circuit or pair or (rounds and not sets)):
            return "straight"
        return "circuit" if circuit or count > 2 else "pair"

    def _name(self, parts: list[str]) -> str:
        """The parts that may be a name, joined; what holds digits or says too much is `missed`."""
        names: list[str] = []
        for part in parts:
            words = _WORD.findall(part) if not any(c.isdigit() for c in part) else [part]
            while words and words[0].lower() in _FILLER and not (len(words) > 1 and words[0].lower() == "work"):
                words = words[1:]
            while words and words[-1].lower() in _FILLER and words[-1].lower() not in ("work", "sets"):
                words = words[:-1]
            if not words:
                continue
            text = part[part.find(words[0]) :].strip(" ,.-+&/=()")
            if any(c.isdigit() for c in text) or len(words) > 5 or len(" ".join([*names, text])) > 50 or ":" in text:
                self.missed.append(text)
            else:
                names.append(" ".join(text.split()))
        return " ".join(names)

    def _is_sentence(self) -> bool:
        loose = [
            w
            for w in re.findall(r"[a-z']+", self.whole)
            if w not in ("rest", "min", "rounds", "sets", "between", "each")
        ]
        return _SENTENCE.search(self.whole) is not None and len(loose) >= 5

    def _guess(self, head: Head, name: str, *, title: bool) -> Guess:
        more = dict(head.more)
        if name:
            more["name"] = name[:1].upper() + name[1:]
        for extra in (more, {k: v for k, v in more.items() if k != "name"}, {}):
            sets = head.sets if isinstance(head.sets, Range) else None
            meant = block_head(head.block, self.label, sets, head.rest_s, head.between_s, extra)
            read = read_head(meant)
            if read is not None and read.whole and not read.slips:
                return Guess(read, meant, self.missed, title)
            lost = name if extra is more else ", ".join(str(v) for v in extra.values())
            self.missed += [lost] if lost else []
        read = read_head("Straight")
        assert read is not None
        return Guess(read, "Straight", [self.whole], title)


def tell_missed(guess: Guess, line: Line) -> tuple[Slip, ...]:
    """The first part of the line that was not understood, as the slip head-not-read."""
    part = guess.missed[0]
    at = max(plain(line.text).find(part), 0)
    end = at + len(part) if plain(line.text)[at:].startswith(part) else len(line.text)
    fix = f"Write `{guess.meant}`, and what is left as fields of it or as words below it."
    return (
        Slip(
            "head-not-read", "error", at, end, f"`{part[:60]}` was not understood; the line was read as `{guess.meant}`.",
            "The list below it is a block of its own, and what was not understood is not done.", fix,
        ),
    )  # fmt: skip
