"""Sessions that lean on others: `Session 2, as session 1`, `choose one of 2A, 2B`; and what is told for weeks that are not."""

from __future__ import annotations

from dataclasses import replace

from ferrule.model.programme import Cycle, Session
from ferrule.programme.form_text import weeks_text
from ferrule.programme.head_text import of_cycle_text
from ferrule.programme.report import Report

DEPTH = 8
"""A session as another, which is as another ...: so far it is followed."""


def filled(cycles: tuple[Cycle, ...], report: Report) -> tuple[Cycle, ...]:
    """The cycles with the blocks of such sessions filled in. Findings: session-not-found, session-own-blocks."""
    for _ in range(DEPTH):
        known = {(c.key, s.key): s for c in cycles for s in c.sessions}
        waiting = [s for s in known.values() if s.same_as and not s.blocks]
        if not waiting:
            break
        new = tuple(replace(c, sessions=tuple(_filled(s, c, known) for s in c.sessions)) for c in cycles)
        if new == cycles:
            break
        cycles = new
    for cycle in cycles:
        for session in cycle.sessions:
            if session.same_as and not session.blocks:
                where = of_cycle_text(session.same_as[0])
                report.add(
                    "session-not-found", "error", session.span.line, session.span.column, session.span.end_column,
                    f"There is no session {session.same_as[1]}{where} with exercises to take over.",
                    "The session holds nothing without it.", "Name a session of this file: `as session 1 of cycle 1`.",
                )  # fmt: skip
    return cycles


def _filled(session: Session, cycle: Cycle, known: dict[tuple[str, str], Session]) -> Session:
    if not session.same_as or session.blocks:
        return session
    where, key = session.same_as
    found = known.get((where or cycle.key, key))
    if found is None or found is session:
        return session
    minutes, low = session.minutes, session.minutes_from
    if minutes is None:
        minutes, low = found.minutes, found.minutes_from
    return replace(session, blocks=found.blocks, minutes=minutes, minutes_from=low)


def told_in_vain(sessions: list[Session], weeks: tuple[int, int], open_end: bool, report: Report) -> None:
    """Sessions and lines for weeks their cycle does not have, choices that are not there.

    Findings: never-done, choice-not-found.
    """
    keys = {s.key for s in sessions}
    for session in sessions:
        missing = [k for k in session.choose if k not in keys]
        if missing:
            report.withdraw("not-fitted", session.span.line)
            report.add(
                "choice-not-found", "error", session.span.line, session.span.column, session.span.end_column,
                f"There is no session {', '.join(missing)} in this cycle to choose.", "Only the others can be chosen.",
                "Write the sessions to choose from under the same cycle.",
            )  # fmt: skip
        items = [i for b in session.blocks for i in b.items]
        for span, told in ((session.span, session.weeks), *((i.span, i.weeks) for i in items)):
            if told is None or ((told[0] <= weeks[1] or open_end) and (told[1] is None or told[1] >= weeks[0])):
                continue
            report.add(
                "never-done", "error", span.line, span.column, span.end_column,
                f"`{weeks_text(told)}`: not in this cycle (weeks {weeks[0]}-{weeks[1]}).", "What stands here is never done.",
                "Weeks are counted through the whole programme; write weeks of this cycle.",
            )  # fmt: skip
