"""A text of typed logs of several runners and days: head lines such as `R07 Thu 22 Jan`, each followed by its lines."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import Squad
from ferrule.model.words import DAYS
from ferrule.programme.scan import plain
from ferrule.record.typed import read_log_lines
from ferrule.record.typed_days import read_day, weekday_said

Weeks = Callable[[str, date], tuple[FittedWeek, str] | None]
"""The newest sent week of a runner that a day lies in, and its copy id; None when none was sent."""

_SESSION = re.compile(r"[,\s]+session\s+(?P<key>\S.*)$", re.IGNORECASE)
_SESSION_ALONE = re.compile(r"session\s+(?P<key>[^,:]+)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Part:
    """The lines of one runner and day."""

    runner_id: str
    day: date
    session: str
    first_line: int
    lines: tuple[str, ...]


def no_weeks(_runner_id: str, _day: date) -> tuple[FittedWeek, str] | None:
    """A record that holds no sent week."""
    return None


def read_log_text(
    data: bytes | str,
    file: str,
    squad: Squad,
    library: Library,
    near: date,
    weeks: Weeks = no_weeks,
    *,
    runner_id: str = "",
    day: date | None = None,
    now: datetime | None = None,
) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Entries of a typed text, and what is odd in it.

    near            a day without a year is looked for before it: the day it is
    runner_id, day  whose and of which day the lines before the first head line are
    """
    text = data if isinstance(data, str) else data.decode("utf-8-sig", errors="replace")
    findings: list[Finding] = []
    entries: list[Entry] = []
    for part in _parts(text, file, squad, near, runner_id, day, findings):
        found = weeks(part.runner_id, part.day)
        week, copy_id = found if found is not None else (None, "")
        key = _session_key(week, part, file, findings) if part.session else ""
        read, noticed = read_log_lines(
            "\n".join(part.lines), file, part.runner_id, part.day, library, week,
            session_key=key, copy_id=copy_id, now=now, first_line=part.first_line,
        )  # fmt: skip
        entries += read
        findings += noticed
    if not entries and not findings:
        findings.append(
            Finding("log-not-read", "error", "There is no line of a log in this file.", "Nothing was taken from it.",
                    "Write a head line, as `R07 Thu 22 Jan`, and below it `Step-up: 6, 6, 5`.", Span(file, 1))
        )  # fmt: skip
    return tuple(dict.fromkeys(entries)), in_order(findings)


def _parts(
    text: str, file: str, squad: Squad, near: date, runner_id: str, day: date | None, findings: list[Finding]
) -> Iterator[_Part]:
    names = runner_names(squad)
    session, start = "", 1
    lines: list[str] = []
    homeless: list[int] = []
    for number, raw in enumerate(text.splitlines(), 1):
        said = plain(raw).strip().lstrip("#*- ").strip()
        head = _head(said, names, near)
        only = _SESSION_ALONE.match(said)
        if head is None and only is None:
            if said and (not runner_id or day is None):
                homeless.append(number)
            lines.append(raw)
            continue
        if runner_id and day is not None and any(x.strip() for x in lines):
            yield _Part(runner_id, day, session, start, tuple(lines))
        lines, start = [], number + 1
        if only is not None and head is None:
            session = only["key"].strip()
            continue
        assert head is not None
        who, what, key = head
        runner_id, session, span = who or runner_id, key, Span(file, number, 1, len(raw) + 1)
        day = read_day(what, near) if what else (None if who else day)
        if day is None or not runner_id:
            findings.append(_no_head(span, what, runner_id))
            day = None
        else:
            findings += _weekday_differs(span, what, day)
    if runner_id and day is not None and any(x.strip() for x in lines):
        yield _Part(runner_id, day, session, start, tuple(lines))
    if homeless:
        findings.append(_homeless(file, homeless))


def runner_names(squad: Squad) -> dict[str, str]:
    """Lower-case ids, and names that only one runner has, longest first -> id."""
    names: dict[str, list[str]] = {}
    for runner in squad.runners:
        for name in dict.fromkeys((runner.id.lower(), " ".join(runner.name.lower().split()))):
            names.setdefault(name, []).append(runner.id)
    return {n: ids[0] for n, ids in sorted(names.items(), key=lambda p: -len(p[0])) if len(ids) == 1 and n}


def _head(said: str, names: dict[str, str], near: date) -> tuple[str, str, str] | None:
    """(runner id or "", day as written, session key) of a head line; None when it is another line."""
    found = _SESSION.search(said)
    key = found["key"].strip().rstrip(":") if found else ""
    bare = (said[: found.start()] if found else said).strip().rstrip(":")
    low = bare.lower()
    who = ""
    for name, runner_id in names.items():
        if low == name or (low.startswith(name) and not low[len(name)].isalnum()):
            who, bare = runner_id, bare[len(name) :].strip(" ,:-")
            break
    rest = bare.lower()
    for name, runner_id in names.items():  # `R07 Arla T, Thu 22 Jan`
        if who == runner_id and rest.startswith(name):
            bare = bare[len(name) :].strip(" ,:-")
            break
    if who:
        return (who, bare, key) if not bare or read_day(bare, near) or any(c.isdigit() for c in bare) else None
    return ("", bare, key) if bare and read_day(bare, near) is not None else None


def session_named(week: FittedWeek, text: str) -> str | None:
    """The key of the session a text names by its key, its name, or the end of its key; None when none or several."""
    wanted = " ".join(text.lower().split())
    for forms in (
        {s.key: (s.key.lower(),) for s in week.sessions},
        {s.key: (s.name.lower(),) for s in week.sessions},
        {s.key: (s.key.lower().split("/")[-1], s.key.lower().split("/")[-1].removeprefix("s")) for s in week.sessions},
    ):
        found = [key for key, names in forms.items() if wanted in names]
        if len(found) == 1:
            return found[0]
    return None


def _session_key(week: FittedWeek | None, part: _Part, file: str, findings: list[Finding]) -> str:
    """The key of the session named in a head line; "" and a finding when there is none of that name."""
    if week is None:
        return ""
    found = session_named(week, part.session)
    if found is not None:
        return found
    keys = ", ".join(f"`{s.key}`" for s in week.sessions)
    findings.append(
        Finding("log-session-unclear", "advice", f"The week that was sent has no session `{part.session[:40]}`.",
                "The session of the day is taken.", f"It has {keys}.", Span(file, max(1, part.first_line - 1)))
    )  # fmt: skip
    return ""


def _no_head(span: Span, what: str, runner_id: str) -> Finding:
    missing = (
        "say whose it is" if not runner_id else f"give a day that can be read (`{what[:30]}`)" if what else "give a day"
    )
    return Finding("log-no-day", "error", f"This head line does not {missing}.", "Nothing below it was taken.",
                   "Write it as `R07 Thu 22 Jan`, or `R07 2026-01-22`.", span)  # fmt: skip


def _weekday_differs(span: Span, what: str, day: date) -> list[Finding]:
    said = weekday_said(what)
    if said is None or said == day.weekday():
        return []
    return [Finding("log-weekday", "advice", f"{day} is a {DAYS[day.weekday()]}, and {DAYS[said]} was written.",
                    f"{day} was taken.", "Mend whichever is wrong and log it again.", span)]  # fmt: skip


def _homeless(file: str, numbers: list[int]) -> Finding:
    many = "1 line stands" if len(numbers) == 1 else f"{len(numbers)} lines stand"
    return Finding("log-no-head", "error", f"{many} under no runner and day.", "Nothing was taken from there.",
                   "Write a head line above, as `R07 Thu 22 Jan`, or give `--runner R07 --on 2026-01-22`.", Span(file, numbers[0]))  # fmt: skip
