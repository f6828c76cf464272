"""The end of a cycle: a page for each runner and one for the coach. Planned, done, gained, what hurt, what was moved, what next."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from ferrule.deliver import cautions
from ferrule.deliver import review_words as say
from ferrule.deliver.amounts import day as day_words
from ferrule.deliver.amounts import short_date
from ferrule.deliver.document import Block, Box, Document, Item, Items, Para, Section, Table
from ferrule.deliver.plain import clean, sentence
from ferrule.deliver.review_facts import RunnerReview
from ferrule.deliver.rewrite import to_rewrite
from ferrule.deliver.session_words import session_title
from ferrule.model.exercise import Library
from ferrule.model.house import House
from ferrule.model.programme import Cycle, Programme
from ferrule.model.squad import Runner
from ferrule.squad.place import first_monday, last_monday, programme_week

NOTHING = "Nothing was told, so nothing is known. That is no fault: the text itself went on as it is written."


def runner_review(review: RunnerReview, programme: Programme, cycle: Cycle, library: Library, house: House) -> Document:  # noqa: ARG001
    """The page for one runner. It claims no gain that cannot be told from error, and praises and blames nobody."""
    name = clean(review.runner.name)
    return Document(
        title=f"{name}: {cycle_words(cycle)}",
        lead=(clean(programme.title), f"{sentence(say.period(review))} {say.counts(review)}"),
        sections=(
            Section("Planned and done", _planned(review)),
            Section("What changed", _gained(review)),
            Section("What hurt", _hurt(review, house)),
            Section("What was done otherwise, and why", _moved(review)),
            Section("What next", _next(review.runner, programme, cycle, review.last)),
            Section("Before you go on", (red_flags(),)),
        ),
        foot=(cautions.PURPOSE,),
    )


def red_flags() -> Box:
    """The words about harm, as everywhere."""
    return Box(cautions.RED_FLAG_HEAD, cautions.RED_FLAGS, cautions.RED_FLAG_TAIL)


def cycle_words(cycle: Cycle) -> str:
    """`Cycle 1, Foundations`."""
    head = f"Cycle {clean(cycle.key)}" if cycle.key else "Cycle"
    name = clean(cycle.name)
    return head if not name or name.lower() == head.lower() else f"{head}, {name}"


def _planned(review: RunnerReview) -> tuple[Block, ...]:
    blocks: list[Block] = [Para(NOTHING)] if review.silent else []
    mondays = sorted({s.monday for s in review.sessions})
    heads = list(dict.fromkeys(session_title(s.session) for s in review.sessions))
    cells = {(s.monday, session_title(s.session)): say.session_cell(s) for s in review.sessions}
    if not review.silent:
        blocks.append(
            Table(
                "Sessions, week by week, as they were told.",
                ("Week of", *heads),
                tuple((short_date(m), *(cells.get((m, h), "") for h in heads)) for m in mondays),
            )
        )
    blocks += [Para(say.week_told(w)) for w in review.told_weeks]
    blocks += [Para(f"{sentence(say.away_words(a))}") for a in review.away]
    lines = tuple((_line_head(line.key, line.written), *say.line_told(line)) for line in review.lines)
    return (*blocks, Table("Lines, without the warm-up.", ("Line", "Asked", "Told"), lines))


def _gained(review: RunnerReview) -> tuple[Block, ...]:
    if not review.changes and not review.tests:
        return (Para("Too little is known to say. " + say.GAIN_RULE),)
    blocks: list[Block] = [Para(f"From the end of the first week to the end of the last. {say.GAIN_RULE}", "note")]
    told = [c for c in review.changes if c.verdict in ("more", "less")]
    rest = [c for c in review.changes if c.verdict not in ("more", "less")]
    rows = tuple((say.group_words(c), sentence(say.change_words(c))) for c in (*told, *rest))
    blocks.append(Table("What you can do once, by part of the body.", ("Part", "Change"), rows))
    blocks += [Para(sentence(say.test_words(t))) for t in review.tests]
    return tuple(blocks)


def _hurt(review: RunnerReview, house: House) -> tuple[Block, ...]:
    if not review.pains:
        return (Para("No pain was told."),)
    blocks: list[Block] = []
    if any(p.flags for p in review.pains):
        blocks.append(
            Para(
                "You told of something from the list at the end of this page: it stands above all else here.", "strong"
            )
        )
    blocks.append(
        Items(
            tuple(
                Item(place[0].upper() + place[1:], (sentence(text),)) for place, text in say.pain_places(review.pains)
            )
        )
    )
    rows = tuple(
        (
            short_date(p.day),
            say.place_words(p.region, p.side),
            _at(review, p.session_key, p.item_key),
            say.pain_words(p),
        )
        for p in review.pains
    )
    blocks.append(Table("Each time it was told.", ("Day", "Where", "At", "How much"), rows))
    blocks.append(Items(tuple(Item("", (rule,)) for rule in cautions.pain_rule(house))))
    return tuple(blocks)


def _at(review: RunnerReview, session_key: str, item_key: str) -> str:
    """The exercise a pain was told at, empty when at none."""
    for copy in review.weeks:
        for session in copy.week.sessions:
            if session.key == session_key:
                for item in (i for b in session.blocks for i in b.items):
                    if item.item_key == item_key:
                        return clean(item.name)
    return ""


def _moved(review: RunnerReview) -> tuple[Block, ...]:
    items = tuple(
        Item(
            _line_head(line.key, line.written),
            tuple(f"{way}, {say.weeks_words(weeks)}: {why}." for way, why, weeks in say.ways(line)),
        )
        for line in review.lines
        if line.moved
    )
    return (Items(items),) if items else (Para("Everything was given as it is written."),)


def next_cycle(programme: Programme, cycle: Cycle) -> Cycle | None:
    """The cycle that begins after this one ends."""
    later = [c for c in programme.cycles if c.first_week > cycle.last_week]
    return min(later, key=lambda c: c.first_week, default=None)


def monday_of_week(runner: Runner, programme_weeks: int, week: int) -> date | None:
    """The Monday on which a programme week begins for this runner; None when it does not come."""
    first, last = first_monday(runner, programme_weeks), last_monday(runner, programme_weeks)
    if first is None or last is None:
        return None
    mondays = (first + timedelta(weeks=n) for n in range((last - first).days // 7 + 1))
    return next((m for m in mondays if programme_week(runner, programme_weeks, m) == week), None)


def _next(runner: Runner, programme: Programme, cycle: Cycle, after: date) -> tuple[Block, ...]:
    blocks: list[Block] = []
    coming = next_cycle(programme, cycle)
    if coming is None:
        blocks.append(Para("The programme ends with this cycle. What comes after it, your coach says."))
    else:
        monday = monday_of_week(runner, programme.weeks, coming.first_week)
        when = "" if monday is None else f" It begins in the week of {day_words(monday)}."
        weeks = f"weeks {coming.first_week} to {coming.last_week}"
        aim = f" Aim: {sentence(coming.aim)}" if coming.aim else ""
        blocks.append(Para(f"{cycle_words(coming)}, {weeks}.{aim}{when}"))
    races = [r for r in runner.races if r > after]
    if races:
        blocks.append(Para(f"Race: {', '.join(day_words(r) for r in races)}."))
    if runner.tests:
        tests = ", ".join(dict.fromkeys(t.kind for t in runner.tests))
        blocks.append(Para(f"A good time to do the home tests again ({tests}): stop with about two good ones left."))
    return tuple(blocks)


def coach_review(
    reviews: Sequence[RunnerReview], programme: Programme, cycle: Cycle, without: Sequence[tuple[str, str]] = ()
) -> Document:
    """The page for the coach: the squad's cycle as counts, and what to look at before the next one.

    without   runners of whom no week of the cycle was sent, and why
    """
    sent = sum(len(r.sessions) for r in reviews)
    done = sum(r.count("did") + r.count("part") for r in reviews)
    return Document(
        title=f"{cycle_words(cycle)}: the squad",
        lead=(
            clean(programme.title),
            f"{say.many(len(reviews), 'runner')}, {say.many(sent, 'session')} sent, {done} told as done or in part.",
        ),
        sections=(
            Section("Before anything else", _first(reviews)),
            Section("Planned and done", (*_squad_table(reviews), *_without(without))),
            Section("Gained", _squad_gained(reviews)),
            Section("What hurt", _squad_hurt(reviews)),
            Section("What was moved, and why", _squad_moved(reviews)),
            Section("Lines to look at again", _squad_rewrite(reviews)),
            Section("What next", _squad_next(reviews, programme, cycle)),
        ),
        foot=(cautions.PURPOSE,),
    )


def who(review: RunnerReview) -> str:
    """`R07 Runner 07`."""
    return f"{clean(review.runner.id)} {clean(review.runner.name)}"


def _first(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    flagged = [r for r in reviews if any(p.flags for p in r.pains)]
    if not flagged:
        return (Para("Nobody told of a sign from the list that asks for medical help."),)
    items = tuple(
        Item(
            who(r),
            tuple(
                f"{short_date(p.day)}, {say.place_words(p.region, p.side)}: {say.pain_words(p)}"
                for p in r.pains
                if p.flags
            ),
        )
        for r in flagged
    )
    return (
        Para("These told of a sign from the list below. No swap answers it: see that they had medical help.", "strong"),
        Items(items),
        red_flags(),
    )


def _squad_table(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    rows = tuple(
        (
            who(r),
            str(len(r.sessions)),
            str(r.count("did")),
            str(r.count("part")),
            str(r.count("none")),
            str(r.count("not told")),
            say.reasons_not_done(r) or ("; ".join(say.away_words(a) for a in r.away)),
        )
        for r in reviews
    )
    heads = ("Runner", "Sent", "Done", "In part", "Not done", "Not told", "Why not")
    return (Table("Sessions of each runner, as told. Not told is neither done nor missed.", heads, rows, brief=True),)


def _without(without: Sequence[tuple[str, str]]) -> tuple[Block, ...]:
    return (Para("No week of this cycle was sent:"), Items(tuple(Item(n, (w,)) for n, w in without))) if without else ()


def _squad_gained(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    groups = dict.fromkeys(c.group for r in reviews for c in r.changes)
    items = []
    for group in groups:
        changes = [(r, c) for r in reviews for c in r.changes if c.group == group]
        told = [f"{who(r)}: {say.change_words(c)}." for r, c in changes if c.verdict in ("more", "less")]
        same = sum(c.verdict == "no change told" for _, c in changes)
        none = sum(c.verdict == "no information" for _, c in changes)
        rest = [f"{same} with no change that can be told from error"] if same else []
        rest += [f"nothing told by {none}"] if none else []
        items.append(Item(say.group_words(changes[0][1]), (*told, *([sentence(", ".join(rest))] if rest else []))))
    if not items:
        return (Para("Too little is known to say. " + say.GAIN_RULE),)
    tests = tuple(f"{who(r)}, {sentence(say.test_words(t))}" for r in reviews for t in r.tests)
    return (Para(say.GAIN_RULE, "note"), Items(tuple(items)), *map(Para, tests))


def _squad_hurt(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    told = [r for r in reviews if r.pains]
    if not told:
        return (Para("No pain was told."),)
    return (
        Items(
            tuple(
                Item(
                    who(r), tuple(f"{place[0].upper()}{place[1:]}: {text}." for place, text in say.pain_places(r.pains))
                )
                for r in told
            )
        ),
    )


def _squad_moved(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    """Line by line: what was done instead, why, and by whom; then what the coach decided."""
    lines: dict[tuple[tuple[str, str], str], dict[tuple[str, str], list[str]]] = {}
    for review in reviews:
        for line in review.lines:
            for week in line.moved:
                why = ", ".join(
                    dict.fromkeys(say.CODE_WORDS.get(r.code, r.code) for r in week.item.reasons if r.departs)
                )
                names = lines.setdefault((line.key, clean(line.written)), {}).setdefault(
                    (clean(week.item.name), why), []
                )
                names += [who(review)] if who(review) not in names else []
    items = [
        Item(
            _line_head(key, written),
            tuple(f"{name} ({why}): {', '.join(names)}." for (name, why), names in ways.items()),
        )
        for (key, written), ways in sorted(lines.items())
    ]
    items += [
        Item(
            f"{who(r)}: decided by the coach",
            tuple(
                f"Line {clean(d.item_key)}, week of {short_date(d.monday)}: {clean(d.choice)} in place of "
                f"{clean(d.proposed)}, by {clean(d.by)}. {sentence(d.why)}".strip()
                for d in r.decided
            ),
        )
        for r in reviews
        if r.decided
    ]
    return (Items(tuple(items)),) if items else (Para("Everything was given as it is written."),)


def _line_head(key: tuple[str, str], written: str) -> str:
    return f"Session {clean(key[0])}, {clean(key[1])} {clean(written)}"


def _squad_rewrite(reviews: Sequence[RunnerReview]) -> tuple[Block, ...]:
    found = to_rewrite(reviews)
    if not found:
        return (Para("None: no line was done otherwise, or met otherwise than meant, by half of those who had it."),)
    return (
        Items(
            tuple(
                Item(
                    _line_head(r.key, r.written),
                    (" ".join(r.said), " ".join(r.do)),
                )
                for r in found
            )
        ),
    )


def _squad_next(reviews: Sequence[RunnerReview], programme: Programme, cycle: Cycle) -> tuple[Block, ...]:
    coming = next_cycle(programme, cycle)
    blocks: list[Block] = []
    if coming is None:
        blocks.append(Para("The programme ends with this cycle."))
    else:
        aim = f" Aim: {sentence(coming.aim)}" if coming.aim else ""
        blocks.append(Para(f"{cycle_words(coming)}, weeks {coming.first_week} to {coming.last_week}.{aim}"))
    silent = [who(r) for r in reviews if r.silent]
    hurt = [who(r) for r in reviews if r.pains]
    if hurt:
        blocks.append(Para(f"A word about what hurt, before it begins: {', '.join(hurt)}."))
    if silent:
        blocks.append(Para(f"Told nothing in this cycle, ask them: {', '.join(silent)}."))
    return tuple(blocks)
