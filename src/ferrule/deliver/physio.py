"""One page for a physiotherapist: what was done and what was told of it, day by day, and the way back as a limit by example.

No capacity, no estimate, no cause: dates, exercise, side, sets x repetitions x load, pain, the runner's words.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date

from ferrule.deliver import review_words as say
from ferrule.deliver.amounts import MONTHS, short_date
from ferrule.deliver.document import Block, Document, Item, Items, Lines, Para, Section, Table
from ferrule.deliver.dose_words import asked_words, told_words
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.review import red_flags
from ferrule.deliver.review_facts import Outcome, RunnerReview, SentCopy, SessionReview
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
_RUN = re.compile(r"as asked(?:, as asked)+(?! \()")
"""Sets told by a bare tap, one after the other."""
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
    days = _days(review, list(sets_of(entries, runner.id)), library)
    return Document(
        title=f"{clean(runner.name)}: training and what was told of it",
        lead=tuple(lead),
        sections=(
            Section("Where it hurt", _places(review)),
            Section(
                "Day by day",
                (
                    Table(
                        "Each exercise as it was sent, then what was told of it, set by set. Pain is 0 to 10, worst during "
                        "and the next morning.",
                        ("Day", "As sent: as told", "Pain and their words"),
                        tuple(said.row(day) for day, said in days.items()),
                        small=tuple(n for n, said in enumerate(days.values()) if not said.pains),
                    )
                    if days
                    else Para("No session was sent, and nothing was told."),
                ),
            ),
            Section("Limits in force", _limits(runner, review.last, library)),
            Section("The way back", _way_back(review, library)),
            Section("What the runner is told", (red_flags(),)),
        ),
        foot=(PURPOSE,),
        tight=True,
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


@dataclass(slots=True)
class _Day:
    """What one day's row says: exercises with what was told, and pain with the runner's words."""

    lines: list[str] = field(default_factory=list)
    pains: list[str] = field(default_factory=list)

    def row(self, day: date) -> tuple[str, ...]:
        return (_day(day), " ".join(map(sentence, self.lines)), " ".join(map(sentence, self.pains)))


def _days(review: RunnerReview, sets: Sequence[LoggedSet], library: Library) -> dict[date, _Day]:
    """What each day says, in order; what belongs to no line that was sent stands after what does."""
    days: defaultdict[date, _Day] = defaultdict(_Day)
    used: set[int] = set()
    mondays = {c.copy_id: c.week.monday for c in review.weeks}
    for session in review.sessions:
        here = [s for s in sets if _of(s, mondays) == session.monday and s.session_key == session.session.key]
        day = days[min((s.day for s in here), default=session.session.day)]
        if session.outcome == "none":
            why = say.WHY_WORDS[session.why]
            text = f"{clean(session.session.name)}: not done" + (f", {why}" if why else "")
            day.lines.append(": ".join(part for part in (text, _quoted(session.words)) if part))
        else:
            used |= _session_lines(day, session, here, review.pains)
    for one in sets:
        if review.first <= one.day <= review.last and not _sent(one, review.weeks, mondays):
            side = "" if one.side == "both" else f", {one.side}"
            days[one.day].lines.append(f"Not sent: {_name(one.variant_id, library)}{side}, {_done([one])}")
    for pain in review.pains:
        if id(pain) not in used:
            days[pain.day].pains.append(_pain_line(pain, "at no one exercise"))
    return dict(sorted(days.items()))


def _session_lines(day: _Day, session: SessionReview, sets: Sequence[LoggedSet], pains: Sequence[PainTold]) -> set[int]:
    """Adds one session to its day. Told as asked and not told are one sentence each; a warm-up is one word.

    Returns the ids of the pains that were said of its lines.
    """
    as_asked: list[str] = []
    untold: list[str] = []
    used: set[int] = set()
    for block, item in ((b, i) for b in session.session.blocks for i in b.items):
        own = [s for s in sets if s.item_key == item.item_key]
        hurt = [p for p in pains if _same(p, session.session, item, session.monday)]
        used |= {id(p) for p in hurt}
        day.pains += [_pain_line(p, f"at {clean(item.name)}") for p in hurt]
        short = block.kind in LIGHT and not hurt and not any(s.stopped or s.outcome == "failed" for s in own)
        what = "warm-up" if short else f"{clean(item.name)} {asked_words(item)}"
        told = _told(item, own)
        if not own and not hurt:
            untold.append("warm-up" if short else clean(item.name))
        elif short or told == "as asked":
            as_asked.append(what)
        else:
            day.lines.append(f"{what}: {told}")
    for head, names in (("As asked", as_asked), (_UNTOLD[session.outcome], untold)):
        if names:
            day.lines.append(f"{head}: {'; '.join(dict.fromkeys(names))}")
    if untold and session.words:
        day.lines.append(_quoted(session.words))
    return used


def _told(item: FittedItem, sets: Sequence[LoggedSet]) -> str:
    """`2 as asked, 8`, a side where they differ, and the load where it is another than was sent."""
    if not sets:
        return "not told"
    parts = []
    for side in dict.fromkeys(s.side for s in sets):
        own = [s for s in sets if s.side == side]
        done = _done(own, _sent_load(item))
        parts.append(done if side == "both" else f"{side} {done}")
    if parts == [f"{len(item.per_set) or item.sets} as asked"]:
        return "as asked"
    return " and ".join(parts)


def _done(sets: Sequence[LoggedSet], sent: str = "") -> str:
    """What was told of sets of one side. A load that is as `sent` is left out."""
    loads = list(dict.fromkeys(_load(s) for s in sets))
    parts = []
    for load in loads:
        told = told_words([s for s in sets if _load(s) == load])
        told = _RUN.sub(lambda run: f"{run[0].count('as asked')} as asked", told)
        only_taps = all(s.outcome == "tapped" for s in sets if _load(s) == load)
        shown = "" if load == sent or (not load and only_taps) else load or "no weight named"
        parts.append(", ".join(part for part in (told, shown) if part))
    return " and ".join(parts)


def _load(told: LoggedSet) -> str:
    if told.band is not None:
        return f"{told.band} band"
    return f"{number(told.load_kg)} kg" if told.load_kg else ""


def _sent_load(item: FittedItem) -> str:
    if item.load is None:
        return ""
    if item.load.band is not None:
        return f"{item.load.band} band"
    return f"{number(item.load.kg)} kg" if item.load.kg else ""


def _pain_line(pain: PainTold, at: str) -> str:
    said = f"{say.place_words(pain.region, pain.side)} {_pain(pain)}, {at}"
    return f"{said}: {_quoted(pain.words)}" if clean(pain.words) else said


def _quoted(words: str) -> str:
    return f"“{clean(words)}”" if clean(words) else ""


def _pain(pain: PainTold) -> str:
    def one(value: int | None) -> str:
        return "-" if value is None else str(value)

    signs = (" or ".join(SIGNS[f]) for f in pain.flags)
    return ", ".join((f"{one(pain.worst)} during, {one(pain.morning)} next morning", *signs))


def _same(pain: PainTold, session: FittedSession, item: FittedItem, monday: date) -> bool:
    return monday_of(pain.day) == monday and (pain.session_key, pain.item_key) == (session.key, item.item_key)


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


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


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
