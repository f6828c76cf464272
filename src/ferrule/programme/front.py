"""The front matter: `key: rest of the line` between two lines of `---`. Not YAML: `18:30` and `no` stay what they are."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field

from ferrule.model.programme import FrontEntry
from ferrule.model.quantity import Range
from ferrule.programme.heads import read_head
from ferrule.programme.report import Report, short
from ferrule.programme.scan import plain
from ferrule.programme.source import Source

KNOWN = ("programme", "weeks", "sessions", "needs")
KEPT = {
    "key runs": "days of the hard runs, as `Tue, Sat`; the checks keep heavy leg work away from them",
    "race": "the race, as `week 12`; the checks look for less leg work in that week",
    "for": "for whom it is, as `beginners`; the checks are stricter for beginners, the young and the older",
    "level": "the same in one word, as `beginner`",
}
"""Keys that are kept as they are written, and looked at by the checks: key -> what they take from it."""
_OTHER_SPELLINGS = {"program": "programme", "title": "programme", "name": "programme", "kit": "needs"}
_ENTRY = re.compile(r"\s*([^\s:][^:]{0,40}?)\s*:(?:\s+|$)(.*)")
_WEEKS = re.compile(r"(\d{1,4})(?:\s*(?:weeks?|wks?))?$", re.IGNORECASE)
_SESSIONS = re.compile(
    r"(at least\s+)?(\d{1,2})(?:\s*(?:-|to)\s*(\d{1,2}))?\s*(?:x|times|sessions)?\s*(?:a|per|/|each)?\s*(?:week|wk)?$",
    re.IGNORECASE,
)


@dataclass(slots=True)
class Front:
    """What the front matter says, and its canonical lines. `end` counts the lines it takes, from 0; `bare` are such lines
    that stand below the top without `---`."""

    entries: list[FrontEntry] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    title: str = ""
    weeks: int | None = None
    sessions: Range | None = None
    at_least: bool = False
    needs: tuple[str, ...] = ()
    end: int = 0
    bare: frozenset[int] = frozenset()


def read_front(source: Source, report: Report) -> Front:
    """The front matter at the top of the file, if any.

    Findings: front-not-closed, front-not-fenced, front-line-not-read, front-key-twice, front-key-unknown, front-value-not-read.
    """
    front = Front()
    lines = source.lines
    first = next((i for i, line in enumerate(lines[:50]) if line.strip()), None)
    if first is None:
        return front
    if not _is_fence(lines[first]):
        _bare(lines, first, front, report)
        return front
    limit = next((i for i in range(first + 1, len(lines)) if _begins_body(lines, i)), len(lines))
    closed = next((i for i in range(first + 1, min(limit, first + 200)) if _is_fence(lines[i])), None)
    end = closed
    if end is None:
        end = first + 1
        while end < limit and lines[end].strip() and _ENTRY.match(plain(lines[end])):
            end += 1
        if end == first + 1:
            return front
        report.add(
            "front-not-closed", "error", first + 1, 1, None, "The front matter has no closing line of `---`.",
            f"It was taken to end after line {end}.", "Write `---` under its last line.",
        )  # fmt: skip
    elif closed is not None and not any(_ENTRY.match(plain(line)) for line in lines[first + 1 : closed]):
        return front
    front.end = end + (1 if closed is not None else 0)
    seen: set[str] = set()
    for index in range(first + 1, end):
        _line(lines[index], index + 1, front, seen, report)
    return front


def _bare(lines: tuple[str, ...], first: int, front: Front, report: Report) -> None:
    """Lines `weeks: 12` at the top of a file that has no `---`. Finding: front-not-fenced, once."""
    found: list[int] = []
    for index in range(first, min(len(lines), first + 30)):
        text = plain(lines[index].strip())
        if text.startswith(("##", "- ", "* ", "|", ">", "```")):
            break
        entry = _ENTRY.match(text)
        key = _OTHER_SPELLINGS.get(entry.group(1).lower(), entry.group(1).lower()) if entry else ""
        if entry is not None and entry.group(2).strip() and (key in KNOWN or (key in KEPT and found)):
            found.append(index)
            continue
        head = read_head(text)
        if head is not None and head.whole:
            break
    if not any(
        plain(lines[i]).strip().lower().startswith(("weeks", "sessions", "programme", "program", "needs", "kit"))
        for i in found
    ):
        return
    seen: set[str] = set()
    for index in found:
        _line(lines[index], index + 1, front, seen, report)
    front.bare = frozenset(found)
    text = lines[found[0]].strip()
    report.add(
        "front-not-fenced", "advice", found[0] + 1, lines[found[0]].find(text) + 1, lines[found[0]].find(text) + 1 + len(text),
        f"`{short(text)}` stands at the top without `---`; it was read as front matter.",
        "Front matter stands between two lines of `---`, above everything else.",
        "Write `---` on a line above and a line below these keys, at the top of the file.",
    )  # fmt: skip


def _begins_body(lines: tuple[str, ...], index: int) -> bool:
    """Does the programme itself begin here? Front matter holds no headings, list items or, after a blank line, heads."""
    if lines[index].lstrip().startswith(("#", "- ", "|")):
        return True
    if lines[index - 1].strip():
        return False
    head = read_head(lines[index])
    return head is not None and head.whole and bool(head.label)


def _is_fence(line: str) -> bool:
    text = plain(line.strip())
    return len(text) >= 3 and set(text) == {"-"}


def _line(raw: str, number: int, front: Front, seen: set[str], report: Report) -> None:
    text = raw.strip()
    if not text:
        return
    column = raw.find(text) + 1
    found = _ENTRY.match(plain(text)) or re.match(r"\s*([^\s:][^:]{0,40}?)\s*:(.*)", plain(text))
    if not found:
        front.text.append(text)
        report.add(
            "front-line-not-read", "error", number, column, column + len(text), f"`{short(text)}` is not `key: value`.",
            "The front matter holds one key and its value a line; this line was left out.", "Write for example `weeks: 6`.",
        )  # fmt: skip
        return
    key, value = found.group(1).lower(), text[found.start(2) :].strip()
    key = _OTHER_SPELLINGS.get(key, key)
    if key not in KNOWN:
        near = difflib.get_close_matches(key, KNOWN, n=1, cutoff=0.75)
        if near:
            report.add(
                "front-key-unknown", "advice", number, column, column + found.end(1), f"`{short(found.group(1))}` was read as `{near[0]}`.",
                "It is not one of the keys that are acted on, but near to one.", f"Write `{near[0]}`.",
            )  # fmt: skip
            key = near[0]
    if key in seen:
        front.text.append(text)
        report.add(
            "front-key-twice", "error", number, column, column + len(text), f"`{short(key)}` stands twice in the front matter.",
            "The first one was kept.", "Leave one of the two out.",
        )  # fmt: skip
        return
    seen.add(key)
    span = report.span(number, column, column + len(text))
    front.entries.append(FrontEntry(key, value, span))
    front.text.append(f"{key}: {value}".strip())
    _value(key, value, number, column + found.start(2), front, report)


def _value(key: str, value: str, number: int, column: int, front: Front, report: Report) -> None:
    fix = ""
    body = plain(value).strip()
    if key == "programme":
        front.title = value
    elif key == "needs":
        front.needs = tuple(" ".join(p.split()) for p in re.split(r";", value) if p.strip())
    elif key == "weeks":
        found = _WEEKS.match(body)
        if found and 1 <= int(found.group(1)) <= 520:
            front.weeks = int(found.group(1))
        else:
            fix = "Write a whole number of weeks from 1 to 520, for example `weeks: 6`."
    elif key == "sessions":
        times = _SESSIONS.match(body)
        low = int(times.group(2)) if times else 0
        high = int(times.group(3) or low) if times else 0
        if times and 0 < low <= high <= 21:
            front.sessions, front.at_least = Range(low, high), bool(times.group(1))
        else:
            fix = "Write for example `sessions: 3 a week`, or `2-3 a week`."
    if fix:
        report.add(
            "front-value-not-read", "error", number, column, column + max(1, len(value)), f"`{short(value)}` was not understood as {key}.",
            "It was read as not stated.", fix,
        )  # fmt: skip
