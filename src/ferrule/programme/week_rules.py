"""Words that begin like a rule over the weeks, and that nothing acts on: `Deload in week 6: halve the sets`."""

from __future__ import annotations

import re

from ferrule.programme.markdown import Line
from ferrule.programme.report import Report, short

_RULE = re.compile(
    r"(?:(?:deload|unload|taper|recovery week|easy week|light(?:er)? week|progress(?:ion|ing)?|overload)\b.*(?:\d|week|half|halve)"
    r"|(?:in |from |on )?(?:weeks?|wks?) \d{1,2}\b.*\b(?:halve|half|drop|reduce|cut|add|increase|more|less|fewer|double|only|skip|instead"
    r"|sets?|rounds?|reps?|kg|rest|easier|harder|lighter|heavier)\b"
    r"|(?:every|each) (?:week|session|\w+ weeks?)\b.*\b(?:add|increase|drop|reduce|more|one|\d)"
    r"|(?:add|increase|drop|reduce|halve|cut|double|up|build|go up)\b.*\b(?:each|every|per|a|in|from|by|to) (?:the )?(?:last |final |next )?(?:weeks?|wks?|sessions?)\b)",
    re.IGNORECASE,
)


def is_rule(text: str) -> bool:
    """Does the text begin like a rule over the weeks: `Week 6: halve the sets`?"""
    return len(text) <= 160 and _RULE.match(text.lstrip("*_ ")) is not None


def tell_rule(line: Line, report: Report) -> None:
    """A note that begins like a rule over the weeks is printed, and nobody acts on it. Finding: note-like-a-rule."""
    if not is_rule(line.text):
        return
    report.add(
        "note-like-a-rule", "advice", line.number, line.column, line.column + len(line.text),
        f"`{short(line.text)}` was read as a note: Ferrule will not act on it.",
        "The weeks are laid as the lines and the by-week tables say; runners would read one thing and be given another.",
        "Write the values of those weeks as columns of a by-week table below the list; leave the words out.",
    )  # fmt: skip
