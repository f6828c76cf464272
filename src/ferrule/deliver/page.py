"""The runner's page: one HTML file that works from disk, without network, without script and without a tap."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from ferrule.deliver import amounts, cautions
from ferrule.deliver.contact import link, reach
from ferrule.deliver.figures import drawing
from ferrule.deliver.html import environment, inline
from ferrule.deliver.plain import clean, lowered, sentence
from ferrule.deliver.session_words import (
    block_rest,
    block_title,
    fetch_words,
    session_title,
    session_when,
    short_of_time,
)
from ferrule.deliver.wording import ItemWords, item_words
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedBlock, FittedItem, FittedSession, FittedWeek
from ferrule.model.house import House
from ferrule.model.quantity import Range, number
from ferrule.model.words import DAYS


@dataclass(frozen=True, slots=True)
class Track:
    """Dots to tick and the rest after each. key: stable inside the page; rests in s, 0 when none is stated."""

    key: str
    count: int
    noun: str
    legend: str
    button: str
    of: str
    rest_low: str
    rest_high: str


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """One line. wide: the picture lies down, and takes the whole width of a phone."""

    words: ItemWords
    svg: Markup
    wide: bool
    load: str
    dose: str
    how: str
    help: tuple[str, ...]
    cautions: tuple[str, ...]
    track: Track | None


@dataclass(frozen=True, slots=True)
class BlockView:
    """One block. warm: a warm-up. track: rounds to tick when they are ticked for the whole block."""

    anchor: str
    title: str
    warm: bool
    rest: str
    notes: tuple[str, ...]
    exercises: tuple[ExerciseView, ...]
    track: Track | None


@dataclass(frozen=True, slots=True)
class SessionView:
    """One session. link: its words in the list of sessions; date: ISO 8601. short: what to leave out when short of time. fetch: what to have ready."""

    anchor: str
    title: str
    link: str
    date: str
    when: str
    fetch: str
    short: str
    notes: tuple[str, ...]
    blocks: tuple[BlockView, ...]


@dataclass(frozen=True, slots=True)
class PageView:
    """All the template gets. cautions: conditions and limits; lead: said openly; about: to open when wanted."""

    title: str
    name: str
    week: str
    programme: str
    draft: str
    cautions: tuple[str, ...]
    lead: tuple[str, ...]
    about: tuple[str, ...]
    sessions: tuple[SessionView, ...]
    flag_head: str
    flags: tuple[str, ...]
    flag_tail: str
    pain: tuple[str, ...]
    usual: tuple[str, ...]
    purpose: str
    kept: str
    reach: str
    link: str
    changed: str
    copy_key: str
    style: Markup
    style_hash: str
    script: Markup
    script_hash: str


WIDE = 2.0
KEPT = "Your ticks stay on this phone, in this file; nothing is sent. A locked phone may hold back the sound, not the time."


def runner_page(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str = "") -> str:
    """The page of one runner's week. Ticks are kept on the phone under `copy_id`, or under the week when it is empty."""
    return (
        environment()
        .get_template("page.html")
        .render(page=page_view(week, library, house, draft=draft, copy_id=copy_id))
    )


def page_view(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str = "") -> PageView:
    """What the template is given, every text cleaned."""
    style, style_hash = inline("paper.css", "page.css")
    script, script_hash = inline("page.js")
    name, programme, cycle = clean(week.runner_name), clean(week.programme), clean(week.cycle_name)
    rests = [f"{clean(title)}: no day this week." for title, _ in week.rest_sessions]
    said = [s for s in map(sentence, (week.aim, *week.notes)) if s]
    conditions = [s for s in map(sentence, week.conditions) if s]
    limits = [s for s in map(sentence, week.cautions) if s]
    lead = [*([cautions.FINDING_WEEK] if week.finding_week else []), *rests]
    when = f"Week of {amounts.day(week.monday)} {week.monday.year}"
    return PageView(
        title=f"{name}: {programme}, week {week.programme_week}",
        name=name,
        week=when,
        programme=sentence(f"{programme}, week {week.programme_week}" + (f": {cycle}" if cycle else "")),
        draft=cautions.DRAFT if draft else "",
        cautions=(*conditions, *limits),
        lead=tuple(lead),
        about=tuple(said),
        sessions=tuple(_session(s, n, library) for n, s in enumerate(week.sessions, 1)),
        flag_head=cautions.RED_FLAG_HEAD,
        flags=cautions.RED_FLAGS,
        flag_tail=cautions.RED_FLAG_TAIL,
        pain=cautions.pain_rule(house),
        usual=cautions.USUAL,
        purpose=cautions.PURPOSE,
        kept=KEPT,
        reach=reach(house),
        link=link(house, f"{cautions.CHANGED.split(',')[0]} ({name}, {when.lower()})"),
        changed=cautions.CHANGED,
        copy_key=clean(copy_id) or f"{clean(week.runner_id)}.{week.monday.isoformat()}",
        style=style,
        style_hash=style_hash,
        script=script,
        script_hash=script_hash,
    )


def _session(session: FittedSession, number_: int, library: Library) -> SessionView:
    anchor = f"s{number_}"
    return SessionView(
        anchor=anchor,
        title=session_title(session),
        link=f"{DAYS[session.day.weekday()]} {session.day.day}: {session_title(session)}",
        date=session.day.isoformat(),
        when=session_when(session),
        fetch=fetch_words(session),
        short=short_of_time(session),
        notes=tuple(s for s in map(sentence, session.notes) if s),
        blocks=tuple(_block(b, f"{anchor}b{n}", library) for n, b in enumerate(session.blocks, 1)),
    )


def _block(block: FittedBlock, anchor: str, library: Library) -> BlockView:
    straight = block.kind == "straight"
    exercises = tuple(_exercise(i, block, f"{anchor}i{n}", library) for n, i in enumerate(block.items, 1))
    return BlockView(
        anchor=anchor,
        title=block_title(block),
        warm=block.kind == "warm-up",
        rest=block_rest(block),
        notes=tuple(s for s in map(sentence, block.notes) if s),
        exercises=exercises,
        track=None if straight or not exercises else _track(anchor, block.rounds, "Round", block.rest_s),
    )


def _exercise(item: FittedItem, block: FittedBlock, key: str, library: Library) -> ExerciseView:
    variant = library.variants.get(item.variant_id)
    words = item_words(item, block, variant)
    drawn = drawing(variant, item.load.place if item.load else None)
    straight = block.kind == "straight"
    rounds_are_dots = not straight and item.sets == block.rounds and not item.per_set
    return ExerciseView(
        words=words,
        svg=Markup("" if drawn is None else drawn.svg),
        wide=drawn is not None and drawn.width > WIDE * drawn.height,
        load=sentence(words.load),
        dose=sentence(words.each if rounds_are_dots else words.dose),
        how=sentence(", ".join(words.how)),
        help=_help(variant),
        cautions=() if variant is None else tuple(sentence(c) for c in variant.cautions),
        track=_track(key, len(item.per_set) or item.sets, "Set", item.rest_s or block.rest_s) if straight else None,
    )


def _help(variant: Variant | None) -> tuple[str, ...]:
    """Setting up, cues, faults and their mending, and what to hold."""
    if variant is None:
        return ()
    said = [variant.setup, *variant.cues, *(f"{clean(f.seen).rstrip('.')}? {clean(f.mend)}" for f in variant.faults)]
    if variant.balance_help:
        said.append(f"If balance fails: {lowered(variant.balance_help)}")
    return tuple(s for s in map(sentence, said) if s)


def _track(key: str, count: int, noun: str, rest: Range | None) -> Track:
    low, high = (rest.low, rest.high) if rest is not None else (0.0, 0.0)
    after = f", rest {amounts.seconds(rest)}" if rest is not None and low > 0 else ""
    return Track(
        key=key,
        count=count,
        noun=noun,
        legend=f"{noun}s done",
        button=f"{noun} done{after}" if count > 1 else "Done",
        of=f"0 of {count} done",
        rest_low=number(low) or "0",
        rest_high=number(high) or "0",
    )
