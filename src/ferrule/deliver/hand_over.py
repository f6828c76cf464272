"""One page for a helping coach: who is where, what holds, what waits, what to look at, how to reach. No diagnosis.

A hold is said without its reason: whoever needs it asks the coach.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from ferrule.deliver import cautions
from ferrule.deliver import review_words as say
from ferrule.deliver.amounts import day as day_words
from ferrule.deliver.amounts import short_date
from ferrule.deliver.contact import reach
from ferrule.deliver.document import Block, Document, Item, Items, Para, Section, Table
from ferrule.deliver.physio import limit_text
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.review import red_flags
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry, SessionTold, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Runner, Squad
from ferrule.model.words import DAYS
from ferrule.notice.told import Due, Tier
from ferrule.programme.weeks import cycle_of
from ferrule.record.standing import by_runner, day_of
from ferrule.squad.place import away_words, monday_of, programme_week

MOST_FACTS = 3
"""Facts told of one runner in one tier."""

MAY = (
    "Sent weeks are as they are: change nothing in them. A runner may leave anything out, or take the easier way printed "
    "on the sheet.",
    "A limit is changed only by who set it. A runner on hold is sent nothing until a named person has cleared them.",
    "What you do not know, ask the coach; what hurts and is on the list below is for medical help, not for either of you.",
)


def hand_over(
    squad: Squad,
    programme: Programme,
    library: Library,
    house: House,
    entries: Iterable[Entry],
    weeks: Mapping[str, FittedWeek],
    dues: Sequence[Due],
    today: date,
) -> Document:
    """The page as of `today`.

    entries   those that stand;  weeks: runner id -> the newest copy sent for this week
    dues      who needs a word, as `ferrule.notice.due` has it on that day
    """
    own = by_runner(entries)
    runners = squad.runners
    return Document(
        title=f"Hand-over, {day_words(today)} {today.year}",
        lead=(clean(programme.title), reach(house)),
        sections=(
            Section("Look at this first", _due(dues, ("red flag", "pain"))),
            Section("Questions that wait", _due(dues, ("question",))),
            Section("Also to look at", _due(dues, ("not what you wrote", "silent", "effort far off"))),
            Section("Who is where", (_where(runners, programme, own, weeks, today),)),
            Section("Holds, limits and sore places", _limits(runners, library, today)),
            Section("What you may do", (Items(tuple(Item("", (text,)) for text in MAY)), red_flags())),
        ),
        foot=(cautions.PURPOSE,),
        tight=True,
    )


def _name(runner: Runner) -> str:
    return f"{clean(runner.id)} {clean(runner.name)}"


_Own = Mapping[str, Sequence[Entry]]


def _due(dues: Sequence[Due], tiers: Sequence[Tier]) -> tuple[Block, ...]:
    """The rows of the list that are in these tiers, in its order: who, why, since when."""
    rows = [d for d in dues if d.tier in tiers]
    if not rows:
        return (Para("Nothing."),)
    effort = [d for d in rows if d.tier == "effort far off"]
    others = [d for d in rows if d.tier != "effort far off"]
    blocks: list[Block] = []
    if others:
        blocks.append(Items(tuple(Item(f"{_who(d)}: {d.tier}", _facts(d)) for d in others)))
    if effort:
        blocks.append(Para("Effort far off, the newest of each; `ferrule due` has the rest:", "note"))
        blocks.append(Items(tuple(Item(_who(d), _newest(d)) for d in effort)))
    return tuple(blocks)


def _who(due: Due) -> str:
    return f"{clean(due.runner_id)} {clean(due.runner_name)}"


def _newest(due: Due) -> tuple[str, ...]:
    """Of effort only the newest fact: many lines of many runners would bury the rest of the page."""
    more = len(due.facts) - 1
    return (sentence(due.facts[-1] + (f"; {more} more" if more > 0 else "")),) if due.facts else ()


def _facts(due: Due) -> tuple[str, ...]:
    """The newest few, and how many more there are on the list itself."""
    more = len(due.facts) - MOST_FACTS
    said = tuple(sentence(f) for f in due.facts[-MOST_FACTS:])
    return said if more <= 0 else (*said, f"And {more} more before that: `ferrule due` has them.")


def _where(
    runners: Sequence[Runner], programme: Programme, own: _Own, weeks: Mapping[str, FittedWeek], today: date
) -> Table:
    monday = monday_of(today)
    rows = []
    for runner in runners:
        week = weeks.get(runner.id)
        number = programme_week(runner, programme.weeks, monday)
        cycle = None if number is None else cycle_of(programme, number)
        place = away_words(runner, programme.weeks, monday) if number is None else f"week {number}"
        if cycle is not None and cycle.name:
            place += f", {clean(cycle.name)}"
        days = (
            "nothing sent" if week is None else ", ".join(_session(s.day, s.key) for s in week.sessions) or "no session"
        )
        told = _said(own.get(runner.id, ()), monday, today)
        races = ", ".join(short_date(r) for r in runner.races if r >= today)
        held = "on hold" if any(h.cleared_by is None for h in runner.holds) else ""
        rows.append((_name(runner), place, held or days, told, races))
    caption = f"The week of {short_date(monday)}: place in the programme, sessions sent by day, what was told so far."
    return Table(caption, ("Runner", "Place", "Sent", "Told", "Race"), tuple(rows))


def _session(day: date, key: str) -> str:
    return f"{DAYS[day.weekday()]} {clean(key)}"


def _said(entries: Sequence[Entry], monday: date, today: date) -> str:
    here = [e.fact for e in entries if monday <= day_of(e.fact) <= today]
    sessions = [f"{DAYS[f.day.weekday()]} {_outcome(f)}" for f in here if isinstance(f, SessionTold)]
    weeks = [f"week: {f.did}" for f in here if isinstance(f, WeekTold)]
    return ", ".join((*sessions, *weeks))


def _outcome(told: SessionTold) -> str:
    return say.OUTCOME_WORDS[told.outcome]


def _limits(runners: Sequence[Runner], library: Library, today: date) -> tuple[Block, ...]:
    held = [r for r in runners if any(h.cleared_by is None for h in r.holds)]
    items = (
        [Item(", ".join(map(_name, held)), ("On hold: nothing is sent until a named person clears it.",))]
        if held
        else []
    )
    for runner in runners:
        said: list[str] = []
        said += [f"Limit: {limit_text(li, library)}." for li in runner.limits if li.until is None or li.until >= today]
        said += [
            f"Sore: {say.place_words(s.region, s.side)}" + ("." if s.worst is None else f", {s.worst} at worst.")
            for s in runner.sore
        ]
        if said:
            items.append(Item(_name(runner), tuple(said)))
    return (Items(tuple(items)),) if items else (Para("None."),)
