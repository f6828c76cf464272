"""One page for a physiotherapist: what was done and what was told of it, day by day, and the way back as a limit by example.

No capacity, no estimate, no cause: dates, exercise, side, sets x repetitions x load, pain, the runner's words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from ferrule.deliver import review_words as say
from ferrule.deliver.amounts import MONTHS, short_date
from ferrule.deliver.document import Block, Document, Item, Items, Lines, Para, Section, Table
from ferrule.deliver.dose_words import asked_words, told_words
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.review import red_flags
from ferrule.deliver.review_facts import Outcome, RunnerReview, SentCopy
from ferrule.model.entry import LoggedSet
from ferrule.model.exercise import Library, Variant
from ferrule.model.fact import Entry, PainTold
from ferrule.model.fitted import FittedItem, FittedSession
from ferrule.model.house import House
from ferrule.model.programme import LIGHT
from ferrule.model.quantity import number
from ferrule.model.red_flags import SIGNS
from ferrule.model.squad import Limit, Runner
from ferrule.model.words import REGION_GROUPS, Region
from ferrule.record.standing import sets_of
from ferrule.squad.place import monday_of

PURPOSE = (
    "Training of a person cleared to train, written by a coach. It is no finding and no diagnosis. What you decide goes "
    "before anything in the programme."
)
MOST_EXAMPLES = 12
_UNTOLD: dict[Outcome, str] = {
    "did": "told as done, sets not told",
    "part": "session done in part, sets not told",
    "not told": "nothing told",
    "none": "not done",
}


def physio_page(review: RunnerReview, entries: Iterable[Entry], library: Library, house: House) -> Document:
    """The page about one runner, for the days of the weeks that were sent. `entries` stand."""
    runner = review.runner
    lead = [
        f"{short_date(review.first)} to {short_date(review.last)} {review.last.year}. As told by the runner; loads in all."
    ]
    reach = " ".join(part for part in (clean(house.coach), clean(house.contact)) if part)
    lead += [f"Coach: {reach}"] if reach else []
    rows = _rows(review, list(sets_of(entries, runner.id)), library)
    return Document(
        title=f"{clean(runner.name)}: training and what was told of it",
        lead=tuple(lead),
        sections=(
            Section("Where it hurt", _places(review)),
            Section(
                "Day by day",
                (
                    Table(
                        "Asked is what was sent; done is what was told of it. Pain is 0 to 10, worst during and the next morning.",
                        ("Day", "Exercise", "Side", "Asked", "Done", "Pain", "Their words"),
                        rows,
                    )
                    if rows
                    else Para("No session was sent, and nothing was told."),
                ),
            ),
            Section("Limits in force", _limits(runner, review.last, library)),
            Section("The way back", _way_back(review, library)),
            Section("What the runner is told", (red_flags(),)),
        ),
        foot=(PURPOSE,),
    )


def _places(review: RunnerReview) -> tuple[Block, ...]:
    if not review.pains:
        return (Para("No pain was told."),)
    return (
        Items(
            tuple(
                Item(place[0].upper() + place[1:], (sentence(text),)) for place, text in say.pain_places(review.pains)
            )
        ),
    )


def _rows(review: RunnerReview, sets: Sequence[LoggedSet], library: Library) -> tuple[tuple[str, ...], ...]:
    """A row for each exercise and side of each session, by day; a pain that belongs to no exercise has a row of its own."""
    rows: list[tuple[date, int, tuple[str, ...]]] = []
    used: set[int] = set()
    mondays = {c.copy_id: c.week.monday for c in review.weeks}
    told_days = {(s.monday, s.session.key): _day_of(s.monday, s.session, sets, mondays) for s in review.sessions}
    for session in review.sessions:
        key = (session.monday, session.session.key)
        if session.outcome == "none":
            why = say.WHY_WORDS[session.why]
            text = "not done" + (f": {why}" if why else "")
            row = (_day(told_days[key]), clean(session.session.name), "", "", text, "", _quoted(session.words))
            rows.append((told_days[key], 0, row))
            continue
        untold: list[str] = []
        easy: list[str] = []
        for block, item in ((b, i) for b in session.session.blocks for i in b.items):
            own = [s for s in sets if _of(s, mondays) == session.monday and _at(s) == (key[1], item.item_key)]
            pains = [p for p in review.pains if _same(p, session.session, item, session.monday)]
            used |= {id(p) for p in pains}
            if block.kind in LIGHT and own and not pains and not any(s.stopped or s.outcome == "failed" for s in own):
                easy.append(clean(item.name))
            elif own or pains:
                rows += [(told_days[key], 0, row) for row in _item_rows(told_days[key], item, own, pains, library)]
            else:
                untold.append(clean(item.name))
        if easy:
            names = "; ".join(dict.fromkeys(easy))
            rows.append((told_days[key], 1, (_day(told_days[key]), names, "", "", "warm-up, told as done", "", "")))
        if untold:
            names = "; ".join(dict.fromkeys(untold))
            done = _UNTOLD[session.outcome]
            rows.append((told_days[key], 1, (_day(told_days[key]), names, "", "", done, "", _quoted(session.words))))
    loose = [s for s in sets if review.first <= s.day <= review.last and not _sent(s, review.weeks, mondays)]
    for one in loose:
        rows.append(
            (
                one.day,
                1,
                (_day(one.day), _name(one.variant_id, library), _side(one.side), "not sent", _done([one]), "", ""),
            )
        )
    for pain in review.pains:
        if id(pain) not in used:
            place = say.place_words(pain.region, pain.side)
            rows.append(
                (pain.day, 2, (_day(pain.day), "at no one exercise", place, "", "", _pain([pain]), _quoted(pain.words)))
            )
    return tuple(row for _, _, row in sorted(rows, key=lambda r: r[:2]))


def _item_rows(
    day: date, item: FittedItem, sets: Sequence[LoggedSet], pains: Sequence[PainTold], library: Library
) -> Iterable[tuple[str, ...]]:
    asked = asked_words(item, library.variants.get(item.variant_id))
    sides = list(dict.fromkeys(s.side for s in sets)) or ["both"]
    for n, side in enumerate(sides):
        own = [s for s in sets if s.side == side]
        here = list(pains) if n == 0 else []
        words = "; ".join(_quoted(p.words) for p in here if p.words)
        label = "each" if side == "both" and item.per_side else _side(side)
        done = _done(own) if own else "not told"
        pain = "; ".join(f"{say.place_words(p.region, p.side)} {_pain([p])}" for p in here)
        yield (_day(day), clean(item.name), label, asked, done, pain, words)


def _done(sets: Sequence[LoggedSet]) -> str:
    loads = list(dict.fromkeys(_load(s) for s in sets))
    return "; ".join(
        ", ".join(p for p in (told_words([s for s in sets if _load(s) == load]), load) if p) for load in loads
    )


def _load(told: LoggedSet) -> str:
    if told.band is not None:
        return f"{told.band} band"
    return f"{number(told.load_kg)} kg" if told.load_kg else ""


def _quoted(words: str) -> str:
    return f"“{clean(words)}”" if clean(words) else ""


def _pain(pains: Sequence[PainTold]) -> str:
    def one(value: int | None) -> str:
        return "-" if value is None else str(value)

    return "; ".join(
        ", ".join((f"{one(p.worst)} during, {one(p.morning)} next morning", *(" or ".join(SIGNS[f]) for f in p.flags)))
        for p in pains
    )


def _same(pain: PainTold, session: FittedSession, item: FittedItem, monday: date) -> bool:
    return monday_of(pain.day) == monday and (pain.session_key, pain.item_key) == (session.key, item.item_key)


def _at(told: LoggedSet) -> tuple[str, str]:
    return told.session_key, told.item_key


def _of(told: LoggedSet, mondays: dict[str, date]) -> date:
    return mondays.get(told.copy_id, monday_of(told.day))


def _sent(told: LoggedSet, weeks: Sequence[SentCopy], mondays: dict[str, date]) -> bool:
    return any(
        c.week.monday == _of(told, mondays) and s.key == told.session_key and i.item_key == told.item_key
        for c in weeks
        for s in c.week.sessions
        for b in s.blocks
        for i in b.items
    )


def _day_of(monday: date, session: FittedSession, sets: Sequence[LoggedSet], mondays: dict[str, date]) -> date:
    """The day it was done where a set says so, else the day it was sent for."""
    days = [s.day for s in sets if s.session_key == session.key and _of(s, mondays) == monday]
    return min(days, default=session.day)


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def _side(side: str) -> str:
    return "" if side == "both" else side


def _name(variant_id: str, library: Library) -> str:
    variant = library.variants.get(variant_id)
    return clean(variant_id) if variant is None else clean(variant.name)


def _limits(runner: Runner, day: date, library: Library) -> tuple[Block, ...]:
    there = [limit for limit in runner.limits if limit.until is None or limit.until >= day]
    if not there:
        return (Para("None."),)
    return (Items(tuple(Item("", (limit_text(limit, library),)) for limit in there)),)


def limit_text(limit: Limit, library: Library) -> str:
    """A limit as the squad list reads it: `left calf: nothing above Heel raise, until 2026-03-12, said by NAME`."""
    where = limit.region if limit.side == "both" else f"{limit.side} {limit.region}"
    what = "nothing" if limit.ceiling_id is None else f"nothing above {_name(limit.ceiling_id, library)}"
    until = "" if limit.until is None else f", until {limit.until.isoformat()}"
    said = f", said by {clean(limit.said_by)}" if limit.said_by else ""
    return f"{where}: {what}{until}{said}"


def _way_back(review: RunnerReview, library: Library) -> tuple[Block, ...]:
    """Limits by example: the lines to fill in, and the exercises of each place from easier to harder to choose from."""
    places = list(dict.fromkeys((p.region, p.side) for p in review.pains if p.region is not None))
    regions: list[Region] = list(dict.fromkeys(r for r, _ in places if r is not None))
    wheres = [say.place_words(r, s).replace(", both sides", "") for r, s in places] or ["side and place"]
    blocks: list[Block] = [
        Para(
            "A limit by example holds in every exercise, the warm-up included: nothing that asks more of that place than the "
            "exercise you name. It ends on the day you name. The coach pastes the line into the squad list as it stands."
        ),
        Lines(
            tuple(
                f"{where}: nothing above ____________________, until ____-__-__, said by ____________________"
                for where in wheres
            )
        ),
        Para("Nothing at all for that place: write “nothing, until ..., said by ...”.", "note"),
    ]
    for region in regions:
        names = examples(region, review, library)
        if names:
            blocks.append(Para(f"Exercises that load the {region}, easier to harder within a family:", "note"))
            blocks.append(Items(tuple(Item("", (text,)) for text in names)))
    return tuple(blocks)


def examples(region: Region, review: RunnerReview, library: Library) -> tuple[str, ...]:
    """For each family that loads `region` and was asked in these weeks: its exercises, easier to harder, on one line.

    The one that was asked is told. Families are in the order of the text; long ones are cut around what was asked.
    """
    asked = dict.fromkeys(
        i.variant_id for c in review.weeks for s in c.week.sessions for b in s.blocks for i in b.items
    )
    lines: dict[str, str] = {}
    for variant_id in asked:
        variant = library.variants.get(variant_id)
        if variant is None or variant.family in lines or not _loads(variant, region):
            continue
        family = [library.variants[v] for v in library.families[variant.family].variant_ids]
        at = next(n for n, v in enumerate(family) if v.id == variant_id)
        start = max(0, min(at - MOST_EXAMPLES // 2, len(family) - MOST_EXAMPLES))
        shown = family[start : start + MOST_EXAMPLES]
        lines[variant.family] = " < ".join(clean(v.name) + (" (was asked)" if v.id in asked else "") for v in shown)
    return tuple(lines.values())


def _loads(variant: Variant, region: Region) -> bool:
    return variant.main is not None and variant.main.group in REGION_GROUPS[region]
