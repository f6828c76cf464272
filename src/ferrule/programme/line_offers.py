"""What may begin or fill a line that is no item: heads, front matter, words, conditions, comments."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import get_args

from ferrule.model.programme import BlockKind
from ferrule.model.words import KIT_KINDS
from ferrule.programme.conditions import ACTIONS, TRIGGERS, read_condition
from ferrule.programme.cursor import Cursor
from ferrule.programme.front import KEPT, KNOWN, read_front
from ferrule.programme.head_offers import head_fields
from ferrule.programme.heads import Head, is_head, read_head
from ferrule.programme.markdown import Line
from ferrule.programme.offer import Choice, Kind
from ferrule.programme.report import Report
from ferrule.programme.source import Source

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVXYZ"
_KEYS = {
    "programme": "the title",
    "weeks": "how many weeks the programme has",
    "sessions": "how many sessions a week, as `3 a week`",
    "needs": "what a runner needs, parted by `;`",
    **KEPT,
}
_BLOCKS = {
    "warm-up": "easy, before the work; never counted as hard sets",
    "straight": "all sets of one exercise, then all of the next",
    "pair": "exercises in turn, round by round",
    "circuit": "more exercises in turn, round by round",
}
CONDITIONS: tuple[tuple[str, str], ...] = (
    ("when all reps for 2 sessions: add 1 rep", "acted on"),
    ("when all reps for 2 sessions: add 2.5 kg", "acted on"),
    ("when all reps for 2 sessions: add 5 s", "acted on"),
    ("when all reps for 2 sessions: harder", "acted on: the next variant of the family"),
    ("if pain above 3: stop", "acted on"),
    ("if pain above 3: ask", "acted on"),
)
"""The usual forms; any other of the closed list is offered in two steps, what is looked at and then what to do."""


def start_choices(cursor: Cursor) -> Iterator[Choice]:
    """At the start of a line: heads with the next number or letter, an item, a table, words, conditions, a comment."""
    yield from _heads(cursor)
    if cursor.part("block") is not None:
        yield from _offer(cursor, "- ", "variant", "an item of this block", begins=True)
        if cursor.items_of_block():
            yield from _offer(
                cursor,
                _table(cursor),
                "by-week table",
                "what changes from week to week; a blank line stands before it",
                begins=True,
            )
    yield from below_choices(cursor)
    yield from _offer(
        cursor, "<!-- allow ", "allow", "sets a check aside for the block that follows, with the reason", begins=True
    )
    if cursor.index == 0 and not cursor.line.strip():
        yield from _offer(cursor, "---\nprogramme: ", "front matter", "title, weeks, sessions, needs", begins=True)


def below_choices(cursor: Cursor) -> Iterator[Choice]:
    """Words: for the runner, for the coach only, and conditions."""
    around = cursor.lines[max(0, cursor.index - 1) : cursor.index + 2 : 2] if cursor.index else cursor.lines[1:2]
    if any(line.lstrip().startswith("|") for line in around):
        return  # a line directly above or below a table would be read as a row of it
    yield from _offer(cursor, "note: ", "note", "words for the runner", begins=True)
    yield from _offer(cursor, "coach: ", "coach", "words that never reach a runner", begins=True)
    for text, detail in CONDITIONS:
        yield from _offer(cursor, text, "condition", detail)
    yield from _conditions(cursor)


def _conditions(cursor: Cursor) -> Iterator[Choice]:
    """The closed list of conditions.py: what is looked at, then, after the colon, what to do."""
    line, at = cursor.line, cursor.at
    content = line[:at].lstrip()
    if ":" not in content:
        for form in TRIGGERS:
            yield from _offer(
                cursor, form.text.format(n=3, s="s", m="") + ": ", "condition", "what is looked at", begins=True
            )
        return
    typed = content.partition(":")[2].strip().lower()
    if not content.lower().startswith(("when ", "if ")) or line[at:].strip():
        return
    first = line.index(":") + 1
    for action in ("add 1 rep", "add 2.5 kg", "add 5 s", *dict.fromkeys(ACTIONS.values())):
        choice = Choice(f" {action}", first + 1, len(line) + 1, "condition", "what to do")
        made = read_condition(Line(choice.applied(line).strip(), 1, 1), Report(""))
        if action.startswith(typed) and action != typed and made is not None and made.acts:
            yield choice


def _offer(cursor: Cursor, text: str, kind: Kind, detail: str, *, begins: bool = False) -> Iterator[Choice]:
    """The choice when the line, up to the cursor, begins like it; it takes the place of the whole line's content."""
    start = len(cursor.line) - len(cursor.line.lstrip())
    typed = cursor.line[start : cursor.at].lower()
    words = typed.lstrip("#* ")
    if cursor.line[cursor.at :].strip() or not (
        text.lower().startswith(typed) or (text.lower().lstrip("# ").startswith(words) and words)
    ):
        return
    if text.strip() != cursor.line.strip():
        yield Choice(text, min(start, cursor.at) + 1, len(cursor.line) + 1, kind, detail, begins)


def _heads(cursor: Cursor) -> Iterator[Choice]:
    session = cursor.part("session")
    if session is not None or cursor.part("block") is not None:
        letters = {p.head.label.upper() for p in cursor.siblings("block") if p.head.label}
        letter = next((c for c in _LETTERS if c not in letters), "")
        for kind in get_args(BlockKind):
            text = f"{kind.capitalize()} {letter if kind in ('pair', 'circuit') else ''}".strip()
            if not is_head(text):
                continue
            yield from _offer(cursor, text, "block", _BLOCKS.get(kind, "a block of the session"), begins=True)
    number = _next(p.head.label for p in cursor.siblings("session"))
    if cursor.part("cycle", "week") is not None or cursor.parts == ():
        yield from _offer(
            cursor,
            f"### Session {number}: ",
            "session",
            "one session: its name, then its minutes",
            begins=True,
        )
    last = max((p.head.weeks[1] for p in cursor.parts if p.head.weeks), default=0)
    cycles = [p.head.label for p in cursor.parts if p.head.kind == "cycle"]
    text = f"## Cycle {_next(cycles)}, weeks {last + 1}-{last + 3}: "
    yield from _offer(cursor, text, "cycle", "weeks in a row with one aim and one set of sessions", begins=True)
    text = f"## Week {last + 1}: "
    yield from _offer(cursor, text, "cycle", "a part named by its week, such as an easier one", begins=True)


def _next(labels: Iterable[str]) -> int:
    return max((int(label) for label in labels if label.isdigit()), default=0) + 1


def weeks_around(cursor: Cursor) -> tuple[int, int]:
    """The weeks of the cycle the cursor is in; (1, 3) when none is written."""
    cycle = cursor.part("cycle", "week")
    return (1, 3) if cycle is None or cycle.head.weeks is None else cycle.head.weeks


def _table(cursor: Cursor) -> str:
    low, high = weeks_around(cursor)
    weeks = [str(w) for w in range(low, min(high, low + 51) + 1)]
    return "| week | " + " | ".join(weeks) + " |\n|" + "---|" * (len(weeks) + 1) + "\n| "


def head_choices(cursor: Cursor) -> Iterator[Choice]:
    """Fields of a head that it does not say yet, each tried with the real reader; heads still being written as at a line start."""
    head = read_head(cursor.line.strip())
    if head is None or (not head.label and not cursor.line[cursor.at :].strip()):
        yield from start_choices(cursor)
    if head is None:
        return
    line, at = cursor.line, cursor.at
    before = line[:at]
    first = max(before.rfind(","), before.rfind(":")) + 1
    if first == 0 and not before.strip():
        return
    typed = before[first:].strip().lower() if first else ""
    after = line[at:]
    end = after.find(",") if "," in after else len(after)
    inside = after[:end].strip()
    last = max((p.head.weeks[1] for p in cursor.parts if p.head.weeks and p.index < cursor.index), default=0)
    for text, detail, begins in head_fields(head, typed, weeks_around(cursor)[0], last):
        if first and text.lower().startswith(typed) and text.lower() != typed:
            start = first + len(before[first:]) - len(before[first:].lstrip())
            lead = "" if before[first:start] else " "
            new = (
                (text, start + 1, at + (end if typed else 0) + 1)
                if not inside or typed
                else (text + ", ", at + 1, at + 1)
            )
            new = (lead + new[0], new[1], new[2])
        elif not inside and before.rstrip() and not before.rstrip().endswith((",", ":")):
            new = (f", {text}", len(before.rstrip()) + 1, at + 1)
        else:
            continue
        choice = Choice(new[0], new[1], new[2], "field", detail, begins)
        made = read_head(choice.applied(line).strip())
        if made is not None and made.whole and not any(s.level == "error" for s in made.slips) and _gained(head, made):
            yield choice


def _gained(before: Head, after: Head) -> bool:
    names = ("weeks", "minutes", "day", "sets", "rest_s", "between_s")
    more = len(after.more.keys() - before.more.keys())
    return sum(getattr(after, n) is not None for n in names) + more > sum(getattr(before, n) is not None for n in names)


def front_choices(cursor: Cursor) -> Iterator[Choice]:
    """Keys of the front matter that are not there yet, and kit after `needs:`."""
    line, at = cursor.line, cursor.at
    key, colon, value = line.partition(":")
    if not colon or at <= len(key):
        there = {
            text.partition(":")[0].strip().lower() for n, text in enumerate(cursor.lines[:60]) if n != cursor.index
        }
        typed = line[:at].strip().lower()
        for known in (*KNOWN, *KEPT):
            if known.startswith(typed) and known not in there and known != key.strip().lower():
                text = known if colon else f"{known}: "
                made = Choice(text, 1, len(key) + 1, "front matter", _KEYS.get(known, "a key that is acted on"))
                yield (
                    made
                    if _reads(made.applied(line))
                    else Choice(made.text, 1, made.to_column, made.kind, made.detail, True)
                )
        return
    if key.strip().lower() == "sessions" and not value.strip():
        yield Choice(
            " 3 a week", len(key) + 2, len(line) + 1, "front matter", "sessions a week; a range is `2-3 a week`"
        )
    if key.strip().lower() == "needs":
        first = max(line.rfind(";", 0, at), len(key)) + 1
        typed = line[first:at].strip().lower()
        if line[at:].strip(" ;") and not line[at:].lstrip().startswith(";"):
            return
        for kind in KIT_KINDS:
            if kind.startswith(typed) and kind != typed:
                yield Choice(f" {kind}", first + 1, at + 1, "front matter", "kit a runner may own")


def _reads(line: str) -> bool:
    lines = ("---", line, "---")
    report = Report("")
    report.lines = lines
    read_front(Source(lines, (1, 2, 3), lines), report)
    return not any(f.level == "error" for f in report.findings())


def allow_choices(cursor: Cursor, rules: Sequence[str]) -> Iterator[Choice]:
    """`<!-- allow`, then the names of the checks that may be set aside."""
    line, at = cursor.line, cursor.at
    word = line.lower().find("allow")
    if word < 0 or at <= word + 4:
        first = line.find("<!--") + 4
        if first <= at and not line[at:].strip(" ->"):
            yield Choice(" allow ", first + 1, at + 1, "allow", "sets a check aside, with the reason", True)
        return
    first = word + 5
    end = next((n for n in range(first + 1, len(line)) if line[n] in ": " and line[first:n].strip()), len(line))
    if at > end:
        return
    typed = line[first:at].strip().lower()
    complete = line[end:].lstrip(": ").split("-->")[0].strip() != "" and line.rstrip().endswith("-->")
    for rule in rules:
        if rule.startswith(typed) and rule != line[first:end].strip():
            text = f" {rule}" if complete else f" {rule}: "
            yield Choice(
                text, first + 1, end + 1, "rule", "the check that is set aside; write the reason after it", not complete
            )
