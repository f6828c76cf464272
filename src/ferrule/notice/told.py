"""One runner as the list sees them on a day: what they told up to then, what was answered, what was sent."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from math import ceil, inf
from typing import Literal

from ferrule.model.entry import LoggedSet
from ferrule.model.fact import Asked, Decided, Entry
from ferrule.model.fitted import FittedWeek, Outcome
from ferrule.model.house import House
from ferrule.model.squad import Runner, Squad
from ferrule.record.standing import by_runner, day_of, standing

Tier = Literal["red flag", "pain", "question", "not what you wrote", "silent", "effort far off"]
TIERS: tuple[Tier, ...] = ("red flag", "pain", "question", "not what you wrote", "silent", "effort far off")
"""In the one order of the list. The first tier of the design, pain and red flags, is the first two: flags before other pain."""

MINUTES: Mapping[Tier, str] = {
    "red flag": "word-red-flag-min",
    "pain": "word-pain-min",
    "question": "word-question-min",
    "not what you wrote": "word-unwritten-min",
    "silent": "word-silent-min",
    "effort far off": "word-effort-min",
}
"""The house rule that says how long a word of each tier takes."""


LEAST_DAYS = 21


def window_days(house: House) -> int:
    """How many days of sets and sent weeks tell who is on the list: three weeks, or longer where `silent-days` needs it.

    For how long somebody has been silent may need more; see `clipped`.
    """
    silent = house.value("silent-days")
    return LEAST_DAYS if silent == inf else max(LEAST_DAYS, 2 * ceil(silent) + 1)


@dataclass(frozen=True, slots=True)
class Due:
    """One runner who needs a word from the coach, and why.

    since    day of the oldest thing in it that has no answer
    facts    what was told or sent, oldest first, each with its day
    draft    an answer to begin from; the coach changes it and sends it by their own way
    minutes  a word like this is likely to take, by the house rule
    keys     what an answer answers: an `Asked` whose `answers` is one of them takes that part off the list
    """

    tier: Tier
    runner_id: str
    runner_name: str
    since: date
    facts: tuple[str, ...]
    draft: str
    minutes: float
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of one runner on `now`.

    entries    that stand, up to that day and the coach's decisions ahead, in their order; said: those that are no sets
    answered   keys that were answered, with the last day of it
    weeks      the newest sent copy of each week, by Monday;  draft: the next week, not signed yet
    runner     None when the squad list no longer has them
    """

    runner_id: str
    name: str
    runner: Runner | None
    entries: tuple[Entry, ...]
    answered: Mapping[str, date]
    weeks: tuple[FittedWeek, ...]
    draft: Outcome | None
    house: House
    now: date
    said: tuple[Entry, ...]

    def last_answer(self, start: str) -> date | None:
        """The last day on which a key that begins so was answered."""
        return max((day for key, day in self.answered.items() if key.startswith(start)), default=None)

    def due(self, tier: Tier, since: date, facts: Iterable[str], draft: Iterable[str], keys: Iterable[str]) -> Due:
        """A row of the list about this runner."""
        words = " ".join(draft)
        minutes = self.house.value(MINUTES[tier])
        return Due(tier, self.runner_id, self.name, since, tuple(facts), words, minutes, tuple(keys))


def told_of(
    squad: Squad,
    weeks: Iterable[FittedWeek],
    entries: Iterable[Entry],
    house: House,
    now: date,
    drafts: Iterable[Outcome] = (),
) -> tuple[Told, ...]:
    """Everybody, in the order of the squad list; then those it no longer has, by id.

    weeks   sent copies, in the order they were sent: the last one of a runner's Monday counts
    """
    own = by_runner(e for e in standing(entries) if day_of(e.fact) <= now or isinstance(e.fact, Decided))
    sent: dict[str, dict[date, FittedWeek]] = {}
    for week in weeks:
        sent.setdefault(week.runner_id, {})[week.monday] = week
    ahead = {d.runner_id: d for d in drafts}
    runners = {r.id: r for r in squad.runners}
    ids = [*runners, *sorted({*own, *sent} - set(runners))]
    out = []
    for runner_id in ids:
        runner = runners.get(runner_id)
        mine = own.get(runner_id, ())
        copies = sent.get(runner_id, {})
        names = [copies[monday].runner_name for monday in sorted(copies)]
        name = runner.name if runner else next(reversed(names), runner_id)
        week_by_week = tuple(copies[monday] for monday in sorted(copies))
        said = tuple(e for e in mine if not isinstance(e.fact, LoggedSet))
        out.append(
            Told(runner_id, name, runner, mine, _answered(said), week_by_week, ahead.get(runner_id), house, now, said)
        )
    return tuple(out)


def _answered(entries: Iterable[Entry]) -> dict[str, date]:
    """Keys that were answered, with the last day of it. An answer names what it answers, or replaces the question."""
    out: dict[str, date] = {}
    for entry in entries:
        fact = entry.fact
        if isinstance(fact, Asked) and fact.answered_by:
            for key in (fact.answers, entry.replaces):
                if key:
                    out[key] = max(fact.day, out.get(key, fact.day))
    return out


def on(day: date) -> str:
    """A day as the list says it: `Thu 22 Jan`."""
    return f"{day:%a} {day.day} {day:%b}"
