"""Who needs a word from the coach, and why: strict tiers, the oldest first inside each. No score, no ratio as a gate."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from ferrule.model.fact import Entry
from ferrule.model.fitted import FittedWeek, Outcome
from ferrule.model.house import House
from ferrule.model.squad import Squad
from ferrule.notice.effort import effort
from ferrule.notice.pain import pain
from ferrule.notice.question import question
from ferrule.notice.silent import silent
from ferrule.notice.told import TIERS, Due, told_of
from ferrule.notice.unwritten import unwritten


def due(
    squad: Squad,
    weeks: Iterable[FittedWeek],
    entries: Iterable[Entry],
    house: House,
    now: date,
    drafts: Iterable[Outcome] = (),
) -> tuple[Due, ...]:
    """The list as it stands on `now`: at most one row a runner and tier.

    weeks    sent copies, in the order they were sent;  entries: of anybody, in any order; what is after `now` is left out
    drafts   the next week as fitted and not signed, where it is at hand; without it nobody is listed for lines that
             the coach did not write

    A pure function: the same record gives the same list, in whatever order it arrived.
    """
    found = [
        (TIERS.index(row.tier), row.since, place, row)
        for place, told in enumerate(told_of(squad, weeks, entries, house, now, drafts))
        for rule in (pain, question, unwritten, silent, effort)
        for row in rule(told)
    ]
    return tuple(row for *_, row in sorted(found, key=lambda f: f[:3]))


def minutes_of(rows: Iterable[Due]) -> float:
    """Minutes the whole list is likely to take."""
    return sum(row.minutes for row in rows)
