"""The lines below an item or a head that are not fields: `note:`, `coach:`, conditions, plain text."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field, replace

from ferrule.model.programme import Condition
from ferrule.programme.conditions import read_condition
from ferrule.programme.fields import FieldReader
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report
from ferrule.programme.scan import plain
from ferrule.programme.week_rules import tell_rule

_PREFIX = re.compile(
    r"\s*(?P<mark>[*_]{1,2})?(?P<word>[A-Za-z]{3,8})(?:'s)?(?:\s+(?:note|notes|only))?[*_]{0,2}\s*[:：]\s*(?(mark)[*_]{0,2})\s*"
)
_INNER_COACH = re.compile(r"(?:(?<=\s)|(?<=[;,.(]))coach\s*:", re.IGNORECASE)


FIELDS_LIMIT = 1000
"""Longer lines are never read as fields."""
_BLOCK_SIGN = re.compile(r"[-+*#>|<`~=]|\d{1,9}[.)]")


@dataclass(slots=True)
class Said:
    """What is said in words at one place. `open` is where a further line without a mark goes on ("note", "coach", "")."""

    notes: list[str] = field(default_factory=list)
    coach: list[str] = field(default_factory=list)
    conditions: list[Condition] = field(default_factory=list)
    written: list[list[str]] = field(default_factory=list)
    open: str = ""
    pending: bool = False

    @property
    def waits_for_list(self) -> bool:
        """Is the last thing said a `coach:` that announces a list?"""
        return self.open == "coach" and (self.pending or (bool(self.coach) and self.coach[-1].endswith(":")))

    def add(self, kind: str, text: str, *, prefix: bool) -> None:
        """A new note or coach line; `prefix` says whether the canonical text begins with `note:`."""
        self.pending, self.open = not text, kind
        if not text:
            return
        (self.coach if kind == "coach" else self.notes).append(text)
        plain_line = not prefix and not _BLOCK_SIGN.match(text)  # at the start of a line it would begin a block
        lead = "coach: " if kind == "coach" else "" if plain_line else "note: "
        self.written.append([(lead + text).strip()])

    def go_on(self, text: str) -> None:
        """More words of the last note or coach line."""
        if self.pending:
            self.add(self.open, text, prefix=True)
            return
        target = self.coach if self.open == "coach" else self.notes
        target[-1] = f"{target[-1]} {text}".strip()
        if _BLOCK_SIGN.match(text) or _reads_as_fields(text):
            self.written[-1][-1] += f" {text}"  # at the start of a line it would begin a block, or read as fields
        else:
            self.written[-1].append(text)


def _reads_as_fields(text: str) -> bool:
    if len(text) > FIELDS_LIMIT or not any(c.isdigit() for c in text):
        return False
    reader = FieldReader(plain(text)).read()
    return bool(reader.understood) and not reader.unread


def prefix_of(line: Line, report: Report) -> tuple[str, Line]:
    """("coach" | "note" | "", the line after that mark). Near spellings of `coach:` are kept from runners, and told."""
    found = _PREFIX.match(line.text)
    if not found:
        return "", line
    word = found.group("word").lower()
    rest = _after(line, found.end())
    if word in ("coach", "coaches"):
        return "coach", rest
    if word in ("note", "notes"):
        return "note", rest
    near = difflib.get_close_matches(word, ["coach", "note"], n=1, cutoff=0.75)
    if near and word not in ("couch", "nose", "not"):
        report.add(
            "word-misspelt", "advice", line.number, line.column, line.column + found.end(),
            f"`{found.group().strip()}` was read as `{near[0]}:`.",
            "Words for the coach must not reach a runner." if near[0] == "coach" else "It is not a mark of a line, but near to one.",
            f"Write `{near[0]}:`.",
        )  # fmt: skip
        return near[0], rest
    return "", line


def part_coach(line: Line, report: Report) -> tuple[Line, str]:
    """The line without what follows a `coach:` inside it, and that text. Finding: coach-inside-line."""
    found = _INNER_COACH.search(line.text, 1)
    if not found or line.text[: found.start()].strip().lower() in ("", "note:", "-"):
        return line, ""
    report.add(
        "coach-inside-line", "advice", line.number, line.column + found.start(), line.column + found.end(),
        "`coach:` stands inside a line; what follows it is kept from runners.",
        "A reader sees best what is for whom when it has a line of its own.", "Put `coach:` at the start of its own line.",
    )  # fmt: skip
    return replace(line, text=line.text[: found.start()].rstrip(" ,;(")), line.text[found.end() :].strip()


def say(line: Line, said: Said, report: Report, *, prefix: bool) -> None:
    """Reads one line of words into `said`."""
    kind, rest = prefix_of(line, report)
    if kind == "coach":
        said.add("coach", _tidy(rest.text), prefix=True)
        return
    rest, hidden = part_coach(rest, report)
    if kind == "":
        condition = read_condition(rest, report)
        if condition:
            said.conditions.append(condition)
            said.written.append([condition.text])
            said.open = ""
        elif said.open:
            if said.open != "coach":
                tell_rule(rest, report)
            said.go_on(_tidy(rest.text))
        else:
            tell_rule(rest, report)
            said.add("note", _tidy(rest.text), prefix=prefix)
    else:
        said.add("note", _tidy(rest.text), prefix=True)
    if hidden:
        said.add("coach", _tidy(hidden), prefix=True)


def _tidy(text: str) -> str:
    return " ".join(text.split())


def _after(line: Line, end: int) -> Line:
    return replace(line, text=line.text[end:], column=line.column + end)
