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

RULES = (pain, question, unwritten, silent, effort)


WITH_A_FLAG = ("red flag", "pain", "question")
"""Nobody with a red flag is written to about their training as well: how hard it was, what is new, why they are silent."""


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
    found = [row for told in told_of(squad, weeks, entries, house, now, drafts) for rule in RULES for row in rule(told)]
    flagged = {row.runner_id for row in found if row.tier == "red flag"}
    return in_order((r for r in found if r.runner_id not in flagged or r.tier in WITH_A_FLAG), squad)


def in_order(rows: Iterable[Due], squad: Squad) -> tuple[Due, ...]:
    """By tier, the oldest first, then the order of the squad list and those it no longer has by id."""
    place = {runner.id: n for n, runner in enumerate(squad.runners)}
    last = len(place)
    return tuple(sorted(rows, key=lambda r: (TIERS.index(r.tier), r.since, place.get(r.runner_id, last), r.runner_id)))


def clipped(rows: Iterable[Due], first: date) -> tuple[str, ...]:
    """Runners whose silence begins in the first week that was read, so that it may have begun before it.

    first   its Monday
    """
    return tuple(r.runner_id for r in rows if r.tier == "silent" and (r.since - first).days < 7)


def minutes_of(rows: Iterable[Due]) -> float:
    """Minutes the whole list is likely to take."""
    return sum(row.minutes for row in rows)
