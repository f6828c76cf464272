"""Written conditions: a closed list that can be acted on; anything else only prints."""

from __future__ import annotations

import re

from ferrule.model.programme import Condition
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report
from ferrule.programme.scan import plain

_START = re.compile(r"(?:when|if)\b[^:]*:", re.IGNORECASE)
_WHEN = re.compile(
    r"when all (?:the )?reps(?: are)?(?: done)?(?: (?:for|in) (\d{1,2}) sessions?(?: in a row)?)?\s*:\s*"
    r"(?:add ([\d.]+|one|two) ?(reps?|kg|s|sec|seconds)|(?:go )?(harder))\.?$",
    re.IGNORECASE,
)
_PAIN = re.compile(
    r"if pain(?: is)? (?:above|over|more than|>) ?(\d{1,2})(?: ?(?:/|of|out of) ?10)?\s*:\s*(stop|ask)(?: me| the coach)?\.?$",
    re.IGNORECASE,
)
_COUNT = {"one": "1", "two": "2"}


def read_condition(line: Line, report: Report) -> Condition | None:
    """The line as a condition; None when it does not begin like one. Finding: condition-only-prints."""
    text = " ".join(plain(line.text).split())
    if not _START.match(text):
        return None
    end = line.column + len(line.text)
    span = report.span(line.number, line.column, end)
    when = _WHEN.match(text)
    if when and int(when.group(1) or 1) >= 1:
        sessions = int(when.group(1) or 1)
        row = f" for {sessions} session" + ("s" if sessions > 1 else "")
        count = _COUNT.get((when.group(2) or "").lower(), when.group(2) or "")
        unit = {"r": "rep" if count == "1" else "reps", "k": "kg", "s": "s"}.get((when.group(3) or " ")[0].lower(), "")
        action = "harder" if when.group(4) else f"add {count} {unit}"
        return Condition(f"when all reps{row}: {action}", True, span)
    pain = _PAIN.match(text)
    if pain and int(pain.group(1)) <= 10:
        return Condition(f"if pain above {int(pain.group(1))}: {pain.group(2).lower()}", True, span)
    report.add(
        "condition-only-prints", "note", line.number, line.column, end,
        "This condition is not one of the closed list; Ferrule will not act on this.",
        "It is printed for the runner as it stands, and nothing follows from it by itself.",
        "To have it acted on, write `when all reps for 2 sessions: add 1 rep` (or `2.5 kg`, `5 s`, `harder`), "
        "or `if pain above 3: stop` (or `ask`).",
    )  # fmt: skip
    return Condition(text, False, span)
