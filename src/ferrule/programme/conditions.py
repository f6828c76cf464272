"""Written conditions: a closed list that can be acted on; anything else only prints."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ferrule.model.finding import Span
from ferrule.model.programme import Condition
from ferrule.model.quantity import Range, Step
from ferrule.programme.fields import FieldReader
from ferrule.programme.form_text import step_text
from ferrule.programme.markdown import Line
from ferrule.programme.report import Report
from ferrule.programme.scan import plain

_START = re.compile(r"(?:when|if)\b[^:]*:", re.IGNORECASE)
_LIMIT = re.compile(
    r"(?:limit|cap|at most)\s*:\s*(\d{1,3}(?:\.\d)?) ?% (?:more )?(?:a|per|each) week\.?$", re.IGNORECASE
)
_ROW = r"(?: (?:for|in) (\d{1,2}|one|two|three) sessions?(?: in a row| running)?)?"
_N = r"(\d{1,3})(?: ?(?:-|to) ?(\d{1,3}))?"
_SCALE = r"(?: ?(?:/|of|out of) ?10)?"
_OVER = r"(?:above|over|more than|>)"
_MOST = r"(?:at most|up to|<=|not above|no more than|under|below)"
_MOMENT = r"(?: (during|after|next morning|the next morning|in the morning|at night|on hopping))?"
ACTIONS = {
    **dict.fromkeys(("add load", "more load", "raise load", "heavier", "add weight", "raise the load"), "add load"),
    "harder": "harder", "go harder": "harder", "easier": "easier", "go easier": "easier", "an easier version": "easier",
    "easier version": "easier", "use an easier version": "easier", "next band": "next band", "thicker band": "next band",
    "stop": "stop", "stop and ask": "stop and ask", "stop and get help": "stop and get help", "stop, get help": "stop and get help",
    "stop and call for help": "stop and get help", "stop and get medical help": "stop and get help",
    "ask": "ask", "ask me": "ask", "ask the coach": "ask", "go on": "go on", "carry on": "go on", "continue": "go on", "allowed": "go on",
    "less": "less", "do less": "less", "reduce": "less", "lighter": "lighter", "lighter load": "lighter", "less load": "lighter",
    "repeat the week": "repeat the week", "repeat the step": "repeat the week", "repeat": "repeat the week",
    "restart": "restart", "start again": "restart", "start": "start", "begin": "start", "next cycle": "next cycle",
    "next phase": "next cycle", "next level": "next level", "helper": "helper", "with help": "helper", "hold": "hold",
    "stay": "hold", "no change": "hold", "do not progress": "hold",
}  # fmt: skip
_COUNT = {"one": 1, "two": 2, "three": 3}


@dataclass(frozen=True, slots=True)
class Trigger:
    """A closed form of what is looked at: its pattern, its canonical words, and which groups are what."""

    pattern: re.Pattern[str]
    when: str
    text: str
    numbers: tuple[int, int] | None = None
    sessions: int = 0
    moment: int = 0


def _t(
    pattern: str, when: str, text: str, *, numbers: tuple[int, int] | None = None, sessions: int = 0, moment: int = 0
) -> Trigger:
    return Trigger(re.compile(pattern + "$", re.IGNORECASE), when, text, numbers, sessions, moment)


_BE = r"(?: (?:is|are|gets|feels))?"
TRIGGERS = (
    _t(rf"when all (?:the )?reps{_BE}(?: done)?{_ROW}", "all reps", "when all reps", sessions=1),
    _t(rf"when {_N} reps? over(?: the target)?{_ROW}", "reps over", "when {n} rep{s} over", numbers=(1, 2), sessions=3),
    _t(rf"when (?:the )?(?:reps{_BE} over|reps{_BE} beaten|more reps{_BE} possible(?: than written)?){_ROW}", "reps over", "when 1 rep over", sessions=1),
    _t(rf"when {_N} reps{_BE}(?: done| reached| possible| possible in a set)?{_ROW}", "reps", "when {n} rep{s}", numbers=(1, 2), sessions=3),
    _t(rf"when (?:it |all )?{_BE} ?(?:too )?eas(?:y|ier){_ROW}", "easy", "when easy", sessions=1),
    _t(rf"when (?:the )?(?:technique|form){_BE} (?:good|sound|right|accepted|accepted by the coach){_ROW}", "technique good", "when technique good", sessions=1),
    _t(rf"when (?:there is )?(?:no pain|pain[- ]free|done without pain|without pain)(?: or discomfort)?{_ROW}", "no pain", "when no pain", sessions=1),
    _t(rf"(?:when|if) (?:the )?pain{_BE} gone by (?:the )?(?:next )?morning", "pain gone by morning", "when pain gone by morning"),
    _t(rf"(?:when|if) (?:the )?(hop(?:ping)? )?pain{_BE} {_MOST} {_N}{_SCALE}{_MOMENT}", "pain at most", "when pain at most {n}{m}", numbers=(2, 3), moment=4),
    _t(rf"(?:when|if) (?:the )?pain{_BE} {_OVER} {_N}{_SCALE}{_MOMENT}", "pain above", "if pain above {n}{m}", numbers=(1, 2), moment=3),
    _t(rf"if (?:the )?pain{_BE} (?:worse|higher|up|more) (?:the )?next morning", "pain worse", "if pain worse next morning"),
    _t(rf"if (?:the )?pain{_BE} (?:worse|higher|up|more) (?:from )?week (?:to|by|on) week", "pain worse", "if pain worse week to week"),
    _t(rf"if (?:the )?pain{_BE} (?:worse|higher|up|more) (?:after|after the session)", "pain worse", "if pain worse after"),
    _t(r"if (?:you are )?(?:not able|unable|you cannot|not able to)", "not able", "if not able"),
    _t(rf"if (?:the )?(?:technique|form){_BE} (?:lost|goes|bad)", "technique lost", "if technique lost"),
    _t(rf"if (?:a|one|1) week{_BE} (?:missed|off|lost)", "week missed", "if a week missed"),
    _t(r"if (?:the )?last rep fails", "last rep fails", "if the last rep fails"),
)  # fmt: skip
_PAIN_MOMENTS = ("next morning", "week to week", "after")


def read_condition(line: Line, report: Report) -> Condition | None:
    """The line as a condition; None when it does not begin like one. Finding: condition-only-prints."""
    text = " ".join(plain(line.text).split())
    end = line.column + len(line.text)
    span = report.span(line.number, line.column, end)
    limit = _LIMIT.match(text)
    if limit:
        most = float(limit.group(1))
        return Condition(f"limit: {most:g} % more a week", True, span, "limit", Range.of(most))
    if not _START.match(text):
        return None
    found = _closed(text, span)
    if found is not None:
        return found
    report.add(
        "condition-only-prints", "note", line.number, line.column, end,
        "This condition is not one of the closed list; Ferrule will not act on this.",
        "It is printed for the runner as it stands, and nothing follows from it by itself.",
        "To have it acted on, write `when all reps for 2 sessions: add 1 rep` (or `2.5 kg`, `5 s`, `harder`), "
        "or `if pain above 3: stop` (or `ask`).",
    )  # fmt: skip
    return Condition(text, False, span)


def _closed(text: str, span: Span) -> Condition | None:
    trigger, _, action = text.partition(":")
    done = _action(action.strip().rstrip("."))
    if done is None:
        return None
    for form in TRIGGERS:
        found = form.pattern.match(" ".join(trigger.split()))
        if not found:
            continue
        number = None
        if form.numbers:
            low = int(found.group(form.numbers[0]))
            high = int(found.group(form.numbers[1]) or low)
            if low > high or ("pain" in form.when and high > 10) or ("reps" in form.when and low < 1):
                return None
            number = Range(low, high)
        row = found.group(form.sessions) if form.sessions else None
        sessions = _COUNT.get((row or "").lower(), 0) or int(row or 1)
        if sessions < 1:
            return None
        moment = (
            (found.group(form.moment) or "").lower().removeprefix("the ").replace("in the morning", "next morning")
            if form.moment
            else ""
        )
        if form.when == "pain at most" and found.group(1):
            moment = "on hopping"
        if form.when == "pain worse":
            moment = next(m for m in _PAIN_MOMENTS if form.text.endswith(m))
        words = form.text.format(
            n="" if number is None else number, s="" if number == Range.of(1) else "s", m=f" {moment}" if moment else ""
        )
        words += f" for {sessions} session{'' if sessions == 1 else 's'}" if row else ""
        step, name = done if isinstance(done, tuple) else (None, done)
        shown = step_text(step) if step is not None else name
        return Condition(f"{words}: {shown}", True, span, form.when, number, sessions, moment, name, step)
    return None


def _action(text: str) -> str | tuple[Step, str] | None:
    low = text.lower()
    if low in ACTIONS:
        return ACTIONS[low]
    reader = FieldReader(text if low.startswith("add ") else "")
    reader.load()
    read = reader.step_at(0) if reader.tokens else None
    if read is None or read[1] != len(reader.tokens) or reader.slips:
        return None
    return read[0], "add"
