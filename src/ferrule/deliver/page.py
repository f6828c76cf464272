"""The runner's page: one HTML file that works from disk, without network, without script and without a tap."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from ferrule.deliver import amounts, cautions
from ferrule.deliver.block_words import block_notes, block_rest, block_title, counted_by_block, open_count
from ferrule.deliver.contact import link, reach
from ferrule.deliver.figures import drawing, moving
from ferrule.deliver.html import environment, inline
from ferrule.deliver.log_data import item_log, ratings, red_flags
from ferrule.deliver.plain import clean, lowered, sentence
from ferrule.deliver.repeats import Repeated, dayless, each_time, repeated, short_days, when_words
from ferrule.deliver.session_words import fetch_words, short_of_time
from ferrule.deliver.tracks import Clock, Track, clock_of, tracks_of
from ferrule.deliver.wording import ItemWords, item_words
from ferrule.model.exercise import Library, Variant
from ferrule.model.fitted import FittedBlock, FittedItem, FittedWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT
from ferrule.model.quantity import number
from ferrule.model.words import REGIONS


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """One line. wide: the picture lies down, and takes the whole width of a phone. way: the picture moving, with `style`.
    log: what the log has to know of it, JSON."""

    words: ItemWords
    svg: Markup
    way: Markup
    style: str
    wide: bool
    load: str
    dose: str
    how: str
    help: tuple[str, ...]
    cautions: tuple[str, ...]
    tracks: tuple[Track, ...]
    log: str


@dataclass(frozen=True, slots=True)
class BlockView:
    """One block. warm: a warm-up or cool-down. tracks: rounds to tick when they are ticked for the whole block, a track
    for each time of the session. clock: what a block that goes by the clock is timed by."""

    anchor: str
    title: str
    warm: bool
    rest: str
    notes: tuple[str, ...]
    exercises: tuple[ExerciseView, ...]
    clock: Clock | None
    tracks: tuple[Track, ...]


@dataclass(frozen=True, slots=True)
class TimeView:
    """A time of a session that is done several times: its name, its day as ISO 8601, its key in the sent copy."""

    name: str
    date: str
    key: str


@dataclass(frozen=True, slots=True)
class SessionView:
    """One session. link: its words in the list of sessions; dates: ISO 8601, with a space between. times: to choose from,
    empty when it is done once; key and day are those of the first. short: what to leave out when short of time. fetch: what to have ready."""

    anchor: str
    key: str
    day: str
    title: str
    link: str
    dates: str
    when: str
    times: tuple[TimeView, ...]
    fetch: str
    short: str
    notes: tuple[str, ...]
    blocks: tuple[BlockView, ...]


@dataclass(frozen=True, slots=True)
class PageView:
    """All the template gets. cautions: conditions and limits; lead: said openly; about: to open when wanted.

    sent      id of the sent copy, empty for a draft;  copy_key: under which the phone keeps the log
    lost      said when the phone keeps nothing;  pain_stop: the house's `pain-stop`
    """

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
    sent: str
    runner: str
    monday: str
    pain_stop: str
    lost: str
    regions: tuple[str, ...]
    ratings: tuple[str, ...]
    flags_told: tuple[tuple[str, str], ...]
    style: Markup
    style_hash: str
    script: Markup
    script_hash: str


WIDE = 2.0
SCRIPTS = ("page_store.js", "page_sets.js", "page.js", "page_log.js", "page_send.js")
KEPT = (
    "Your ticks and your log stay on this phone until you hand them over; nothing is sent by itself. "
    "A locked phone may hold back the sound, not the time."
)
LOST = (
    "This phone keeps nothing for this page: its storage is full or switched off. "
    "Your log is here while the page stays open. Copy it or send it before you close the page."
)


def runner_page(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str = "") -> str:
    """The page of one runner's week. Ticks are kept on the phone under `copy_id`, or under the week when it is empty."""
    return (
        environment()
        .get_template("page.html")
        .render(page=page_view(week, library, house, draft=draft, copy_id=copy_id))
    )


def page_view(week: FittedWeek, library: Library, house: House, *, draft: bool, copy_id: str = "") -> PageView:
    """What the template is given, every text cleaned."""
    sessions = tuple(_session(t, n, library) for n, t in enumerate(repeated(week.sessions), 1))
    ways = dict.fromkeys(e.style for s in sessions for b in s.blocks for e in b.exercises if e.style)
    style, style_hash = inline("paper.css", "page.css", more="\n".join(ways))
    script, script_hash = inline(*SCRIPTS)
    name, programme, cycle = clean(week.runner_name), clean(week.programme), clean(week.cycle_name)
    rests = [f"{d.said}: no day this week." for d in dayless(week.rest_sessions)]
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
        sessions=sessions,
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
        sent=clean(copy_id),
        runner=clean(week.runner_id),
        monday=week.monday.isoformat(),
        pain_stop=number(house.value("pain-stop")),
        lost=LOST,
        regions=REGIONS,
        ratings=ratings(),
        flags_told=red_flags(),
        style=style,
        style_hash=style_hash,
        script=script,
        script_hash=script_hash,
    )


def _session(told: Repeated, number_: int, library: Library) -> SessionView:
    anchor, session = f"s{number_}", told.first
    names = each_time(told) if len(told.times) > 1 else ()
    return SessionView(
        anchor=anchor,
        key=session.key,
        day=session.day.isoformat(),
        title=told.title,
        link=f"{short_days(told)}: {told.title}",
        dates=" ".join(dict.fromkeys(s.day.isoformat() for s in told.times)),
        when=when_words(told),
        times=tuple(TimeView(n, s.day.isoformat(), s.key) for n, s in zip(names, told.times, strict=False)),
        fetch=fetch_words(session),
        short=short_of_time(session),
        notes=tuple(s for s in map(sentence, session.notes) if s),
        blocks=tuple(_block(b, f"{anchor}b{n}", names, library) for n, b in enumerate(session.blocks, 1)),
    )


def _block(block: FittedBlock, anchor: str, times: tuple[str, ...], library: Library) -> BlockView:
    straight = block.kind == "straight"
    exercises = tuple(_exercise(i, block, f"{anchor}i{n}", times, library) for n, i in enumerate(block.items, 1))
    count = None if open_count(block) else block.rounds
    rest = block.rest_s or (block.items[-1].rest_s if block.items else None)  # the last line's own rest ends the round
    return BlockView(
        anchor=anchor,
        title=block_title(block),
        warm=block.kind in LIGHT,
        rest=block_rest(block),
        notes=block_notes(block),
        exercises=exercises,
        clock=clock_of(block),
        tracks=() if straight or not exercises else tracks_of(anchor, times, count, "Round", rest),
    )


def _exercise(item: FittedItem, block: FittedBlock, key: str, times: tuple[str, ...], library: Library) -> ExerciseView:
    variant = library.variants.get(item.variant_id)
    words = item_words(item, block, variant)
    place = item.load.place if item.load else None
    drawn, way = drawing(variant, place), moving(variant, place)
    straight = block.kind == "straight"
    dose = words.each if not straight and counted_by_block(item, block) else words.dose
    count = None if open_count(block) and counted_by_block(item, block) else len(item.per_set) or item.sets
    return ExerciseView(
        words=words,
        svg=Markup("" if drawn is None else drawn.svg),
        way=Markup("" if way is None else way.svg),
        style="" if way is None else way.style,
        wide=drawn is not None and drawn.width > WIDE * drawn.height,
        load=sentence(words.load),
        dose=" ".join(s for s in (sentence(dose), words.forms) if s),
        how=sentence(", ".join(words.how)),
        help=_help(variant),
        cautions=() if variant is None else tuple(sentence(c) for c in variant.cautions),
        tracks=tracks_of(key, times, count, "Set", item.rest_s or block.rest_s) if straight else (),
        log=item_log(item, block, variant),
    )


def _help(variant: Variant | None) -> tuple[str, ...]:
    """Setting up, cues, faults and their mending, and what to hold."""
    if variant is None:
        return ()
    said = [variant.setup, *variant.cues, *(f"{clean(f.seen).rstrip('.')}? {clean(f.mend)}" for f in variant.faults)]
    if variant.balance_help:
        said.append(f"If balance fails: {lowered(variant.balance_help)}")
    return tuple(s for s in map(sentence, said) if s)
