"""Pain that needs a word: flags first, then pain by the published rules of behaviour. Nothing here is a diagnosis.

Each side of each region is taken by itself. It needs a word when it was above `pain-stop`; not settled by the next morning;
higher than in the weeks before by `pain-rise`; told without a number; when it stopped a set or a session; or when the weekly
question was answered with yes and nothing more was said. In the young a growth site goes up a tier.
What was answered, and what the runner told as gone since (0 of 10, no flags), is off the list.

Sources: settled by the next morning, and never rising from week to week: Silbernagel 2007 (seen as summarised; the one
point of rise is ours). The line is the house's. The young: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ferrule.model.entry import LoggedSet, TimeAway
from ferrule.model.fact import Entry, PainTold, RedFlag, SessionTold, WeekTold
from ferrule.model.quantity import number
from ferrule.model.red_flags import RED_FLAG_TAIL, RED_FLAGS, SIGNS
from ferrule.model.words import Region, Side
from ferrule.notice.told import Due, Told, on
from ferrule.record.standing import day_of
from ferrule.squad.young import ADULT, may_be_under_18

GROWTH_SITES: frozenset[Region] = frozenset(("foot", "knee"))
"""Regions with the growth sites that running and jumping load most: the heel, and below the kneecap."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """What one place says: the entries that have no answer, the facts, the flags, and whether it goes up a tier."""

    where: str
    entries: tuple[Entry, ...]
    facts: tuple[str, ...]
    flags: tuple[RedFlag, ...] = ()
    young: bool = False


def pain(told: Told) -> Iterator[Due]:
    """At most one row of red flags and one of other pain."""
    found = [*_places(told), *_unsaid(told)]
    flagged = [t for t in found if t.flags or t.young]
    other = [t for t in found if not (t.flags or t.young)]
    if flagged:
        yield _row(told, flagged, flag=True)
    if other:
        yield _row(told, other, flag=False)


def _row(told: Told, troubles: Sequence[Trouble], *, flag: bool) -> Due:
    entries = [e for t in troubles for e in t.entries]
    facts = [f for t in troubles for f in t.facts]
    since = min(day_of(e.fact) for e in entries)
    draft = _flag_draft(told, troubles) if flag else _pain_draft(told, troubles)
    keys = tuple(t.entries[-1].entry_id for t in troubles)
    return told.due("red flag" if flag else "pain", since, facts, draft, keys)


def _flag_draft(told: Told, troubles: Sequence[Trouble]) -> list[str]:
    signs = [sign for t in troubles for f in t.flags for sign in SIGNS[f]]
    out = [f"{told.name}, thank you for telling me."]
    if signs:
        out.append("Stop, and get medical help for this now. Do no session until somebody qualified has seen you.")
    else:
        places = " and ".join(dict.fromkeys(t.where for t in troubles))
        out.append(f"Stop what loads the {places}, and have somebody qualified look at it before we go on.")
    if any("chest or faint" in t.flags for t in troubles):
        out.append(RED_FLAG_TAIL)
    out.append("Tell me what they say; nothing is lost by waiting.")
    return out


def _pain_draft(told: Told, troubles: Sequence[Trouble]) -> list[str]:
    places = " and ".join(dict.fromkeys(t.where for t in troubles if t.where))
    stop = number(told.house.value("pain-stop"))
    about = "Leave out whatever brings it on until we have spoken."
    if any(not t.where for t in troubles):
        about += " Where is it, and how much, 0 to 10?"
    return [
        f"{told.name}, thank you for telling me" + (f" about the {places}." if places else "."),
        about,
        f"How is it now, and how was it this morning? Anything above {stop} of 10 while you do it: stop that exercise.",
        f"If there is any of these, stop and get medical help first: {'; '.join(RED_FLAGS)}.",
    ]


def _places(told: Told) -> Iterator[Trouble]:
    """One trouble for each side of each region that needs a word."""
    groups: dict[tuple[Region | None, Side], list[Entry]] = {}
    for entry in told.said:
        if isinstance(entry.fact, PainTold):
            groups.setdefault((entry.fact.region, entry.fact.side), []).append(entry)
    for (region, side), entries in groups.items():
        where = place_words(region, side)
        left = _open(told, entries)
        facts: list[str] = []
        flags: list[RedFlag] = []
        for entry in left:
            said, raised = _why(told, entry, entries)
            flags += raised
            if said:
                facts.append(said)
        young = bool(left) and region in GROWTH_SITES and _young(told) and any(_hurts(e) for e in left)
        if young:
            words = "a growth site in the young goes up a tier"
            facts = facts or [_told(_pain(left[-1]))]
            facts.append(f"may be under {ADULT} by the year of birth: {words}")
        if facts:
            needs = tuple(e for e in left if young or _why(told, e, entries)[0])
            yield Trouble(where, needs, tuple(facts), tuple(dict.fromkeys(flags)), young)


def _open(told: Told, entries: Sequence[Entry]) -> list[Entry]:
    """What came after the last answer, and after the last time it was told as gone. A flag stays until it is answered."""
    answered = max((i for i, e in enumerate(entries) if e.entry_id in told.answered), default=-1)
    gone = max((i for i, e in enumerate(entries) if _gone(_pain(e))), default=-1)
    return [e for i, e in enumerate(entries) if i > answered and (i > gone or _pain(e).flags)]


def _why(told: Told, entry: Entry, entries: Sequence[Entry]) -> tuple[str, tuple[RedFlag, ...]]:
    """The fact in words when this telling needs a word, else nothing; and its flags."""
    fact = _pain(entry)
    because = [sign for flag in fact.flags for sign in SIGNS[flag]]
    stop = told.house.value("pain-stop")
    if fact.worst is None and fact.morning is None and not fact.flags:
        because.append("no number was told")
    if max(fact.worst or 0, fact.morning or 0) > stop:
        because.append(f"above the line of {number(stop)}")
    if (fact.morning or 0) > told.house.value("pain-settled"):
        because.append("not settled by the next morning")
    if (rise := _rise(fact, entries)) >= told.house.value("pain-rise"):
        because.append(f"{rise} higher than in the weeks before")
    return (f"{_told(fact)}: {', '.join(because)}" if because else ""), fact.flags


def _rise(fact: PainTold, entries: Sequence[Entry]) -> int:
    """How far it lies above the worst told 7 to 20 days before; 0 when nothing hurt then, or nothing was told."""
    if fact.worst is None:
        return 0
    before = [_pain(e) for e in entries]
    was = max((p.worst for p in before if p.worst is not None and 7 <= (fact.day - p.day).days < 21), default=0)
    return fact.worst - was if was else 0


def _unsaid(told: Told) -> Iterator[Trouble]:
    """Pain that stopped a set or a session, a yes to the weekly question, an injury: where nothing else was said of it."""
    days = {e.fact.day for e in told.said if isinstance(e.fact, PainTold)}
    found: list[tuple[Entry, str]] = []
    for entry in told.entries:
        fact = entry.fact
        if isinstance(fact, LoggedSet) and fact.stopped == "pain" and fact.day not in days:
            found.append((entry, f"{on(fact.day)}, a set was stopped by pain, and no more was said"))
        elif isinstance(fact, SessionTold) and fact.why == "pain" and fact.day not in days:
            found.append((entry, f"{on(fact.day)}, a session was cut or left out for pain, and no more was said"))
        elif isinstance(fact, WeekTold) and fact.pain and not _within(fact.monday, days):
            found.append((entry, f"week of {on(fact.monday)}, yes to any pain, and no more was said"))
        elif isinstance(fact, TimeAway) and fact.kind == "injury" and not fact.by:
            found.append((entry, f"{on(fact.first)}, away with an injury until {on(fact.last)}"))
    last = max((i for i, (e, _) in enumerate(found) if e.entry_id in told.answered), default=-1)
    found = found[last + 1 :]
    if found:
        yield Trouble("", tuple(e for e, _ in found), tuple(dict.fromkeys(words for _, words in found)))


def _within(monday: date, days: set[date]) -> bool:
    return any(monday + timedelta(days=n) in days for n in range(7))


def place_words(region: Region | None, side: Side) -> str:
    """`left calf`, or `knee` for both; nothing where no place was told."""
    if region is None:
        return ""
    return region if side == "both" else f"{side} {region}"


def _told(fact: PainTold) -> str:
    worst = "" if fact.worst is None else f" {fact.worst} of 10"
    morning = "" if fact.morning is None else f", {fact.morning} the next morning"
    words = f' ("{fact.words.strip()}")' if fact.words.strip() else ""
    said = f"{place_words(fact.region, fact.side) or 'pain'}{worst}{morning}{words}"
    return on(fact.day) if said == "pain" else f"{on(fact.day)}, {said}"


def _pain(entry: Entry) -> PainTold:
    assert isinstance(entry.fact, PainTold)
    return entry.fact


def _gone(fact: PainTold) -> bool:
    return fact.worst == 0 and not fact.morning and not fact.flags


def _hurts(entry: Entry) -> bool:
    fact = _pain(entry)
    return fact.worst is None or fact.worst > 0 or bool(fact.morning)


def _young(told: Told) -> bool:
    return told.runner is not None and may_be_under_18(told.runner.birth_year, told.now.year)
