"""A week that was given already: what is past is as it was, and nothing new lies on a past or lost day."""

from __future__ import annotations

from ferrule.fit.given import Given
from ferrule.fit.verify.refused import refused
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedWeek
from ferrule.model.programme import ProgrammeWeek


def past_keys(week: FittedWeek, written: ProgrammeWeek, given: Given | None) -> frozenset[str]:
    """Keys of sessions of the copy that were on days before the first open one and not lost."""
    if given is None or (given.week.programme_week, given.week.monday) != (week.programme_week, week.monday):
        return frozenset()
    in_text = {s.key for s in written.sessions}
    return frozenset(
        s.key for s in given.week.sessions if s.day < given.open_from and s.day not in given.lost and s.key in in_text
    )


def check_given(week: FittedWeek, past: frozenset[str], given: Given | None) -> tuple[Finding, ...]:
    """Past sessions are there, unchanged; every other lies on an open day that is not lost."""
    if given is None:
        return ()
    was = {s.key: s for s in given.week.sessions}
    now = {s.key: s for s in week.sessions}
    out = [
        refused("given", week, f"session {key} is past and is not as it was given")
        for key in sorted(past)
        if now.get(key) != was[key]
    ]
    for key, session in now.items():
        if key not in past and (session.day < given.open_from or session.day in given.lost):
            out.append(refused("given", week, f"session {key} is put on {session.day}, which is past or lost"))
    return tuple(out)
