"""What stands between two lists: where a block begins that no head names, and which lines read as items."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ferrule.programme.asides import Asides
from ferrule.programme.conditions import read_condition
from ferrule.programme.drafts import BlockDraft, Chunk, CycleDraft, SessionDraft
from ferrule.programme.guessed_heads import DOSE_FIRST, Guess, guess_head
from ferrule.programme.head_fields import DAYS
from ferrule.programme.head_text import session_head
from ferrule.programme.heads import Head, read_head
from ferrule.programme.lines import prefix_of
from ferrule.programme.markdown import Entry, Line, Listing, Node, Para
from ferrule.programme.near_heads import without_label
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain

_REST = re.compile(r"(?:rest|recover(?:y)?)\b", re.IGNORECASE)
_COUNTED = re.compile(
    r":\s*\d|\d\s*(?:x\s*\d|reps?\b|/\s*side|ea\b|each\b|per (?:side|leg)|s\b|sec|min\b|m\b)|^\D{3,40}\s\d+(?:-\d+)?$",
    re.IGNORECASE,
)
"""A list entry with an amount, whatever its name."""
_WEEKDAY = re.compile(
    r"(?P<day>mon|tues?|wed|thu(?:rs?)?|fri|sat|sun|monday|tuesday|wednesday|thursday|friday|saturday|sunday)s?"
    r"(?:\s*[:-]\s*(?P<name>[^.!?]{0,60}))?\s*:?$",
    re.IGNORECASE,
)
_NO_WORK = re.compile(r"(?:rest|off|day off|none|nothing|no |easy|run|long run|recovery|walk|free)\b", re.IGNORECASE)
"""What a day without a session says."""
_NUMBERED = re.compile(r"[\d:]")


@dataclass(slots=True)
class Apart(Asides):
    """The parts of the pass that open what has no head. `apart`: words stand between the last list and what comes now."""

    apart: bool = False

    def _cycle(self, line: Line) -> CycleDraft:
        if not self.cycles:
            span = self.report.span(line.number, line.column)
            self.cycles.append(CycleDraft(Head("cycle", "cycle", label="1"), span, implied=True))
        return self.cycles[-1]

    def _session(self, line: Line) -> SessionDraft:
        cycle = self._cycle(line)
        if not cycle.sessions:
            self.report.add(
                "session-missing", "advice", line.number, line.column, line.column + len(line.text),
                "A block stands before any session.", "It was read as session 1.", "Write a line such as `### Session 1: name, 35 min` before it.",
            )  # fmt: skip
            span = self.report.span(line.number, line.column)
            cycle.sessions.append(SessionDraft(Head("session", "session", label="1"), span))
            self.chunks.append(Chunk([session_head("1", "", None, None)]))
        return cycle.sessions[-1]

    def _guess(self, para: Para, place: int, following: Node | None) -> Guess | None:
        """The line `place` of a paragraph as a head, where a list follows it, with `-` or without."""
        line, after = para.lines[place], para.lines[place + 1 :]
        if after or isinstance(following, Para):
            lines = after or (following.lines if isinstance(following, Para) and not following.level else ())
            if not lines or len(line.text) > 100 or not self._named(lines[0]):
                return None
            count, items = len(lines), True
        elif isinstance(following, Listing):
            count, items = len(following.entries), self._looks_like_items(following)
        else:
            return None
        if self._named(line) or line.text.startswith("|") or prefix_of(line, Report(self.report.file))[0]:
            return None
        if not self.cycles and not items:
            return None
        first = not (self.cycles and self.cycles[-1].sessions and self.cycles[-1].sessions[-1].blocks)
        guess = guess_head(line, count, first=first, marked=bool(para.level))
        waiting = self.block is not None and not self.block.items
        if guess is None or (guess.title and (waiting or not self.cycles or not (items or line.text.endswith(":")))):
            return None
        return guess

    def _weekday(self, para: Para, following: Node | None) -> Head | None:
        """A day of the week on a line of its own is a session. Finding: head-guessed."""
        line = para.lines[0]
        found = _WEEKDAY.match(plain(line.text).strip("*_# "))
        if found is None:
            return None
        after = para.lines[1].text if len(para.lines) > 1 else ""
        if not after and isinstance(following, Para) and following.lines:
            after = following.lines[0].text
        if _NO_WORK.match(found["name"] or after.strip("*_ ")) or (not after and not isinstance(following, Listing)):
            return None
        count = len(self.cycles[-1].sessions) if self.cycles else 0
        name = " ".join((found["name"] or "").strip(" .:").split())
        meant = f"Session {count + 1}, day {DAYS[found['day'][:3].lower()]}" + (f": {name}" if name else "")
        head = read_head(meant)
        if head is None or not head.whole or head.slips:
            return None
        self.report.add(
            "head-guessed", "advice", line.number, line.column, line.column + len(line.text),
            f"`{short(line.text)}` names a day; it was read as `### {meant}`.",
            "Without a head of its own the day's exercises would belong to the session above.", f"Write `### {meant}`.",
        )  # fmt: skip
        return head

    def _words_apart(self, para: Para, line: Line, following: Listing) -> None:
        """Words between two lists part them: the second is a block of its own, and the words are said there."""
        if self.block is None or not self.block.items or not self._looks_like_items(following):
            return
        quiet = Report(self.report.file)
        if (
            prefix_of(line, quiet)[0] == "coach"
            or read_condition(line, quiet) is not None
            or _REST.match(line.text)
            or line.text.startswith("(")
        ):
            return
        last = len(para.lines) - 1
        head = read_head(para.lines[last].text)
        if (head is not None and head.whole) or self._guess(para, last, following) is not None:
            return
        self._block_apart(line, f"`{short(line.text)}` stands between two lists, and is no head.")

    def _block_apart(self, line: Line, what: str) -> None:
        self.apart = False
        self.report.add(
            "head-missing", "advice", line.number, line.column, line.column + len(line.text), what,
            "The second list was read as a block of its own, straight sets.",
            "Write a line such as `Straight, 3 sets, rest 90 s` or `Pair A, 3 rounds` before it.",
        )  # fmt: skip
        self.block = BlockDraft(Head("block", "straight"), self.report.span(line.number, line.column), implied=True)
        self._session(line).blocks.append(self.block)
        self.chunks.append(Chunk(["Straight"]))

    def _named(self, line: Line) -> bool:
        """Does the line read as an item without its `-`?"""
        text = plain(line.text).lstrip("*_ ")
        if not _NUMBERED.search(text):
            return False
        dose = DOSE_FIRST.match(text)
        if dose:
            words = re.sub(r"^[\d\s\w/-]*?(?=[A-Za-z]{3})", "", text[dose.end() :])
            return any(self.names.longest(words[m.start() :]) for m in list(re.finditer(r"[A-Za-z]{3,}", words))[:4])
        found = self.names.longest(text)
        if not found:
            text = without_label(text)
            found = self.names.longest(text)
        return found is not None and re.match(r"[*_ ]*(?:[:,]|\s-|\s*(?:x\s*)?\d|\s*$)", text[found[2] :]) is not None

    def _looks_like_items(self, listing: Listing) -> bool:
        for entry in listing.entries:
            line = first_line(entry)
            if line is None:
                continue
            text = line.text.strip("*_ ")
            if self.names.longest(text) or self.names.find(text.split(":")[0]):
                return True
            if self.cycles and self.cycles[-1].sessions and _COUNTED.search(text):
                return True
        return False


def first_line(entry: Entry) -> Line | None:
    """The line an entry of a list begins with; None when it holds no text."""
    for node in entry.nodes:
        if isinstance(node, Para) and node.lines:
            return node.lines[0]
        if isinstance(node, Listing) and node.entries:
            return first_line(node.entries[0])
    return None
