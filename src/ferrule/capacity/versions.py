"""Which estimate of what the squad shares counts in which week, and up to which day the sets behind it go.

A cycle brings new exercises, and all of them are met in its first week: so what the squad shares is estimated anew when a
cycle begins and once more when its first week is in, and is then frozen for the rest of the cycle. Within a cycle nobody's
late log or erasure moves another's week. Each runner reads the version of their own cycles: two runners at one point of
one cycle read the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.model.programme import Programme

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True, order=True)
class Version:
    """One estimate of what the squad shares. counts_from: a Monday, from which it counts until the next one does."""

    counts_from: date

    @property
    def number(self) -> int:
        """Year and week of the calendar from which it counts: 202602; never the same for two, and it rises."""
        year, week, _ = self.counts_from.isocalendar()
        return 100 * year + week

    @property
    def until(self) -> date:
        """The last day whose sets go in, the Sunday before."""
        return self.counts_from - timedelta(days=1)


def cycle_mondays(programme: Programme, first_monday: date) -> tuple[date, ...]:
    """The Mondays on which a cycle of `programme` begins for who begins week 1 on `first_monday`; each once, in order."""
    return tuple(sorted({first_monday + (c.first_week - 1) * WEEK for c in programme.cycles}))


def versions(begins: Iterable[date]) -> tuple[Version, ...]:
    """The versions that count in cycles which begin on these days: one from each Monday, one from the Monday after it.

    A cycle of one week has the second in common with the next cycle. A day that is no Monday counts as its week's.
    """
    mondays = {day - timedelta(days=day.weekday()) for day in begins}
    return tuple(Version(day) for day in sorted(mondays | {day + WEEK for day in mondays}))


def version_on(every: Sequence[Version], day: date) -> Version | None:
    """The one of `every` that counts on `day`; None before the first: nothing is shared yet."""
    return max((v for v in every if v.counts_from <= day), default=None)
