"""Silence, told apart in three: nothing was said; it was said that nothing was done; it was done and not said how.

Days away, told by the runner or the coach, are no silence; nor are weeks that were never sent. Runs read from a file say
that somebody runs, not how the sessions went. All numbers: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from ferrule.model.entry import LoggedSet, LoggedTest, TimeAway
from ferrule.model.fact import Asked, Entry, PainTold, RunTold, SessionTold, WeekTold
from ferrule.notice.told import Due, Told, on
from ferrule.record.standing import day_of, settles
from ferrule.squad.place import monday_of

_OWN_REASONS = ("ill", "pain", "away")
"""Reasons for not doing that other rules speak of."""


def silent(told: Told) -> Iterator[Due]:
    """At most one row: gone, else not done, else not said how. `silent-days` long; twice that for the last.

    Not done counts the days on which training was asked for: one session left out before a holiday is no silence.
    """
    days = told.house.value("silent-days")
    start = _start(told)
    for found in (_gone(told, start), _not_done(told, start), _not_how(told, start)):
        if found is None:
            continue
        since, facts, draft, long = found
        if long >= days and not _away(told, told.now):
            key = f"silent:{since.isoformat()}"
            yield told.due("silent", since, facts, (f"{told.name},", *draft), (key,))
            return


Found = tuple[date, list[str], tuple[str, ...], float]
"""Since when, facts, draft, and how many days it has lasted: those that are held against `silent-days`."""


def _start(told: Told) -> date:
    """The first day that can count: after the last answer to a silence, and after the last time away."""
    days = [e.fact.last for e in told.said if isinstance(e.fact, TimeAway) and e.fact.kit is None]
    answer = told.last_answer("silent:")
    return max([*days, *([answer] if answer else []), date.min])


def _asked_days(told: Told, after: date) -> list[date]:
    """Days of sessions that were sent and lie behind us."""
    days = {s.day for week in told.weeks for s in week.sessions}
    return sorted(d for d in days if after < d <= told.now)


def _gone(told: Told, start: date) -> Found | None:
    heard = max((_heard_on(e) for e in told.entries if _heard(e)), default=date.min)
    asked = _asked_days(told, max(heard, start))
    if not asked:
        return None
    last = "nothing was ever told" if heard == date.min else f"last word on {on(heard)}"
    facts = [f"{last}; {len(asked)} sessions since {on(asked[0])} without a word"]
    runs = [e.fact.day for e in told.said if isinstance(e.fact, RunTold) and e.fact.day >= asked[0]]
    if runs:
        facts.append(f"runs are known, the last on {on(runs[-1])}")
    return (
        asked[0],
        facts,
        ("how are you? No need to have done anything: one line is enough.",),
        (told.now - asked[0]).days,
    )


def _heard(entry: Entry) -> bool:
    fact = entry.fact
    if isinstance(fact, Asked):
        return not fact.answered_by
    # what a runner told is a word from them, also where the coach has set it right
    return (entry.source != "coach" or settles(entry)) and isinstance(
        fact, LoggedSet | LoggedTest | SessionTold | WeekTold | PainTold
    )


def _heard_on(entry: Entry) -> date:
    """The day a word was about; an answer about a week is about all of it."""
    fact = entry.fact
    return fact.monday + timedelta(days=6) if isinstance(fact, WeekTold) else day_of(fact)


def _not_done(told: Told, start: date) -> Found | None:
    """The sessions told last were none of them done, and no reason of its own was given."""
    none: list[tuple[date, str]] = []
    for entry in told.entries:
        fact = entry.fact
        if day_of(fact) <= start:
            continue
        if isinstance(fact, SessionTold) and fact.outcome == "none" and fact.why not in _OWN_REASONS:
            none.append((fact.day, f"{on(fact.day)}, not done" + (f" ({fact.why})" if fact.why else "")))
        elif isinstance(fact, WeekTold) and fact.did == "none":
            none.append((fact.monday, f"week of {on(fact.monday)}, none done"))
        elif isinstance(fact, SessionTold | WeekTold | LoggedSet):
            none.clear()
    if not none:
        return None
    draft = (
        "these weeks do not seem to fit. What gets in the way? Fewer sessions, or shorter ones, are no step back.",
    )
    return none[0][0], [words for _, words in none], draft, _asked_for(told, none[0][0])


def _asked_for(told: Told, since: date) -> int:
    """Days after `since` on which training was asked for: those of weeks with sessions sent, without times away of any kind."""
    sent = {monday_of(s.day) for week in told.weeks for s in week.sessions}
    away = [e.fact for e in told.said if isinstance(e.fact, TimeAway)]
    days = (since + timedelta(days=n) for n in range(1, (told.now - since).days + 1))
    return sum(monday_of(d) in sent and not any(a.first <= d <= a.last for a in away) for d in days)


def _not_how(told: Told, start: date) -> Found | None:
    """It was done, and how hard it was has not been said for long."""
    done: date | None = None
    for entry in told.entries:
        fact = entry.fact
        if day_of(fact) <= start:
            continue
        if _says_how(entry):
            done = None
        elif isinstance(fact, LoggedSet | SessionTold) and not (
            isinstance(fact, SessionTold) and fact.outcome == "none"
        ):
            done = done or fact.day
    if done is None:
        return None
    facts = [f"done since {on(done)} and not said how hard; what is believed rests on the text alone"]
    long = (told.now - done).days / 2
    return done, facts, ("good to see that you train. Was it too easy, right, or too hard?",), long


def _says_how(entry: Entry) -> bool:
    fact = entry.fact
    if isinstance(fact, LoggedSet):
        return fact.reserve is not None or fact.outcome == "failed"
    return (isinstance(fact, SessionTold) and fact.rating is not None) or (
        isinstance(fact, WeekTold) and fact.felt is not None
    )


def _away(told: Told, day: date) -> bool:
    """Not training on that day; time away with kit is not that."""
    return any(
        isinstance(e.fact, TimeAway) and e.fact.kit is None and e.fact.first <= day <= e.fact.last for e in told.said
    )
