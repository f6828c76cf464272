"""Fits broken on purpose, one a rule, for the test that the verifier refuses each of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, time, timedelta

from ferrule.fit.given import Given
from ferrule.model.bound import Bound, Bounds
from ferrule.model.finding import Span
from ferrule.model.fitted import FittedBlock, FittedItem, FittedWeek, LoadChoice, Reason, Recourse
from ferrule.model.house import House
from ferrule.model.quantity import Range, Tempo
from ferrule.model.squad import Absence, Anchor, Hold, Limit, Run, Runner, Site, Sore, Wish

PLACE = Span("squad.csv", 2, 1)


@dataclass(frozen=True, slots=True)
class Case:
    """A fitted week and everything it is held against."""

    week: FittedWeek
    runner: Runner
    house: House = field(default_factory=House)
    last: FittedWeek | None = None
    given: Given | None = None
    bounds: Bounds = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Mutation:
    """One rule broken. code: what the verifier must say;  needs: part of the sound case must be like this."""

    code: str
    name: str
    break_it: Callable[[Case], Case | None]


def with_session(case: Case, n: int, **fields: object) -> Case:
    """Session `n` with some fields changed."""
    s = case.week.sessions
    changed = replace(s[n], **fields)  # type: ignore[arg-type]
    return replace(case, week=replace(case.week, sessions=(*s[:n], changed, *s[n + 1 :])))


def _items(week: FittedWeek) -> Iterator[tuple[int, int, int, FittedItem]]:
    for s, session in enumerate(week.sessions):
        for b, block in enumerate(session.blocks):
            for i, item in enumerate(block.items):
                yield s, b, i, item


Wanted = Callable[[FittedBlock, FittedItem], bool]


def with_item(case: Case, wanted: Wanted, change: Callable[[FittedItem], FittedItem | None]) -> Case | None:
    """The first line that is `wanted` changed (None takes it out); None when there is no such line."""
    for s, b, i, item in _items(case.week):
        block = case.week.sessions[s].blocks[b]
        if wanted(block, item):
            new = change(item)
            items = (*block.items[:i], *(() if new is None else (new,)), *block.items[i + 1 :])
            blocks = case.week.sessions[s].blocks
            return with_session(case, s, blocks=(*blocks[:b], replace(block, items=items), *blocks[b + 1 :]))
    return None


def with_block(case: Case, wanted: Callable[[FittedBlock], bool], **fields: object) -> Case | None:
    """The first block that is `wanted` with some fields changed."""
    for s, session in enumerate(case.week.sessions):
        for b, block in enumerate(session.blocks):
            if wanted(block):
                changed = replace(block, **fields)  # type: ignore[arg-type]
                return with_session(case, s, blocks=(*session.blocks[:b], changed, *session.blocks[b + 1 :]))
    return None


def runner_with(**fields: object) -> Callable[[Case], Case]:
    """The same week for a runner who is otherwise."""
    return lambda c: replace(c, runner=replace(c.runner, **fields))  # type: ignore[arg-type]


def house_with(key: str, value: float) -> Callable[[Case], Case]:
    """The same week under another house rule."""
    return lambda c: replace(c, house=House(changed={**c.house.changed, key: value}))


def item_with(wanted: Wanted, **fields: object) -> Callable[[Case], Case | None]:
    """The first line that is wanted, with some fields changed."""
    return lambda c: with_item(c, wanted, lambda i: replace(i, **fields))  # type: ignore[arg-type]


def any_item(_: FittedBlock, item: FittedItem) -> bool:
    """Any line with an exercise of the library."""
    return bool(item.variant_id)


def work(block: FittedBlock, _: FittedItem) -> bool:
    """A line outside the warm-up."""
    return block.kind not in ("warm-up", "cool-down")


def dosed(_: FittedBlock, item: FittedItem) -> bool:
    """A line with a prediction, in repetitions."""
    return item.prediction is not None and item.reps is not None


def loaded(_: FittedBlock, item: FittedItem) -> bool:
    """A line with a weight."""
    return item.load is not None and item.load.place != "band"


def in_pair(block: FittedBlock, _: FittedItem) -> bool:
    """A line of a pair."""
    return block.kind == "pair"


def named(variant_id: str) -> Wanted:
    """The line done with this variant."""
    return lambda _, item: item.variant_id == variant_id


def _limit(region: str, example: str | None) -> Limit:
    return Limit(region, "both", example, None, "physiotherapist", f"{region}: at most {example}", PLACE)  # type: ignore[arg-type]


def _sore(region: str, worst: int | None) -> Sore:
    return Sore(region, "left", worst, PLACE)  # type: ignore[arg-type]


def _day(n: int, c: Case) -> date:
    return c.week.monday + timedelta(days=n)


def _reversed(c: Case) -> Case:
    return replace(c, week=replace(c.week, sessions=tuple(reversed(c.week.sessions))))


def _gap(c: Case) -> Case | None:
    if len(c.week.sessions) < 2:
        return None
    return with_session(c, 1, day=c.week.sessions[0].day + timedelta(days=1))


def _rest(c: Case) -> Case:
    used = {s.day.weekday() for s in c.week.sessions}
    runs = tuple(Run(d, "easy") for d in range(7) if d not in used)
    return replace(c, runner=replace(c.runner, runs=runs))


def _run_on_the_day(kind: str, start: time) -> Callable[[Case], Case]:
    return lambda c: replace(
        c,
        runner=replace(c.runner, runs=(Run(c.week.sessions[0].day.weekday(), kind, start),)),  # type: ignore[arg-type]
    )


def _run_after(c: Case) -> Case:
    day = (c.week.sessions[0].day.weekday() + 1) % 7
    return replace(c, runner=replace(c.runner, runs=(Run(day, "key", time(5)),)))


def _race_after(c: Case) -> Case:
    return replace(c, runner=replace(c.runner, races=(c.week.sessions[0].day + timedelta(days=1),)))


def _easy_run_at_the_time(c: Case) -> Case:
    case = with_session(c, 0, start=time(18))
    day = c.week.sessions[0].day.weekday()
    return replace(case, runner=replace(c.runner, runs=(Run(day, "easy", time(16, 30)),)))


def _twice(c: Case) -> Case:
    return replace(c, week=replace(c.week, sessions=(*c.week.sessions, c.week.sessions[0])))


def _line_twice(c: Case) -> Case | None:
    blocks = c.week.sessions[0].blocks
    doubled = replace(blocks[-1], items=(*blocks[-1].items, blocks[-1].items[0]))
    return with_session(c, 0, blocks=(*blocks[:-1], doubled))


def _adjustable(c: Case) -> Case | None:
    for s, session in enumerate(c.week.sessions):
        for b, block in enumerate(session.blocks):
            if block.kind == "pair" and len(block.items) > 1:
                loads = [LoadChoice(kg, "hands", (f"adjustable dumbbell at {kg} kg",)) for kg in (8, 12)]
                items = tuple(replace(i, load=x) for i, x in zip(block.items, loads, strict=False))
                blocks = (*session.blocks[:b], replace(block, items=items), *session.blocks[b + 1 :])
                return with_session(c, s, blocks=blocks)
    return None


def _predicted(**fields: float) -> Callable[[Case], Case | None]:
    def change(i: FittedItem) -> FittedItem:
        assert i.prediction is not None
        return replace(i, prediction=replace(i.prediction, **fields))  # type: ignore[arg-type]

    return lambda c: with_item(c, dosed, change)


def _prediction_where_none_is(c: Case) -> Case | None:
    some = next((i.prediction for *_, i in _items(c.week) if i.prediction is not None), None)
    return with_item(c, lambda _, i: i.prediction is None and bool(i.variant_id), lambda i: replace(i, prediction=some))


def _effort_said(c: Case) -> Case:
    prices = tuple(replace(p, value=p.value + 10) if p.level == "effort" else p for p in c.week.prices)
    return replace(c, week=replace(c.week, prices=prices))


def _way(harder: bool, variant_id: str, load: LoadChoice | None = None) -> Callable[[Case], Case | None]:
    way = Recourse(variant_id, variant_id, load, "")
    field = "too_easy" if harder else "too_hard"
    return lambda c: with_item(c, dosed, lambda i: replace(i, **{field: way}))  # type: ignore[arg-type]


def _way_swapped(c: Case) -> Case | None:
    both: Wanted = lambda b, i: dosed(b, i) and i.too_hard is not None and i.too_easy is not None  # noqa: E731
    return with_item(c, both, lambda i: replace(i, too_hard=i.too_easy, too_easy=i.too_hard))


def _lighter_week(c: Case) -> Case | None:
    """The week before, with every weight we chose taken off."""

    def chosen(i: FittedItem) -> bool:
        return i.load is not None and any(r.code == "load chosen" for r in i.reasons)

    if not any(chosen(i) for *_, i in _items(c.week)):
        return None
    sessions = tuple(
        replace(
            s,
            blocks=tuple(
                replace(b, items=tuple(replace(i, load=None) if chosen(i) else i for i in b.items)) for b in s.blocks
            ),
        )
        for s in c.week.sessions
    )
    return replace(c, last=replace(c.week, sessions=sessions))


def _jump(c: Case) -> Case | None:
    """Last week without a weight, this week the heaviest that is owned and was chosen."""
    return _lighter_week(c)


def _the(item: FittedItem) -> Wanted:
    return lambda _, other: other is item


def _held(c: Case, said: str) -> Case | None:
    """Last week as this one; the first line with a prediction may ask half of it, and is told to be held for `said`."""
    for s, b, _, item in _items(c.week):
        if item.prediction is not None and c.week.sessions[s].blocks[b].kind != "warm-up":
            key = (c.week.sessions[s].key.partition(" (")[0], item.item_key)
            told = with_item(c, _the(item), lambda i: replace(i, reasons=(*i.reasons, Reason("held", said))))
            if told is not None:
                return replace(told, last=c.week, bounds={key: Bound("sore the next morning", 0.5)})
    return None


def _one_group(c: Case) -> Case | None:
    for s, session in enumerate(c.week.sessions):
        for b, block in enumerate(session.blocks):
            if block.kind == "pair" and len(block.items) > 1 and block.items[0].prediction is not None:
                first = block.items[0]
                other = replace(block.items[1], variant_id=first.variant_id, name=first.name)
                items = (first, other, *block.items[2:])
                blocks = (*session.blocks[:b], replace(block, items=items), *session.blocks[b + 1 :])
                return with_session(c, s, blocks=blocks)
    return None


def _all_new(c: Case) -> Case:
    """Last week had one exercise that nobody has; the house allows no new one but those of the text."""
    item = replace(next(i for *_, i in _items(c.week)), variant_id="nope")
    sessions = (replace(c.week.sessions[0], blocks=(replace(c.week.sessions[0].blocks[0], items=(item,)),)),)
    tight = House(changed={**c.house.changed, "new-exercises-a-week": 0})
    return replace(c, last=replace(c.week, sessions=sessions), house=tight)


def _fewer_rounds(c: Case) -> Case | None:
    return with_block(
        with_session(c, 0, reasons=()), lambda b: b.kind == "pair" and b.rounds > 1, rounds=1
    )  # the lines keep their sets


def _past(c: Case) -> Case:
    given = Given(c.week, _day(6, c))
    return replace(with_session(c, 0, name="changed"), given=given)


def _on_a_lost_day(c: Case) -> Case:
    return replace(c, given=Given(c.week, c.week.monday, frozenset({c.week.sessions[0].day})))


def _elsewhere(c: Case) -> Case:
    """What they own is at another site than the one they train at on these days."""
    days = tuple(range(7))
    return replace(c, runner=replace(c.runner, sites=(Site("", (), days), Site("far", c.runner.kit, ()))))


def _half_elsewhere(c: Case) -> Case | None:
    """Only on the day of the last time of a session is there no kit."""
    last = next((s for s in reversed(c.week.sessions) if " (" in s.key), None)
    if last is None:
        return None
    day = last.day.weekday()
    home = Site("", c.runner.kit, tuple(d for d in range(7) if d != day))
    return replace(c, runner=replace(c.runner, sites=(home, Site("", (), (day,)))))


def _all_away(c: Case) -> Case:
    """Towards a race the programme does not wait: the same week, and nobody there to do it."""
    race = c.week.monday + timedelta(weeks=6 - c.week.programme_week)
    away = (Absence(c.week.monday, _day(6, c)),)
    return replace(c, runner=replace(c.runner, anchor=Anchor("to race", race, PLACE), away=away))


THICK = LoadChoice(5, "band", ("thick band",), band="thick")
HEAVY = LoadChoice(99, "hands", ("99 kg dumbbell",))
SQUAT = "squat"

MUTATIONS: tuple[Mutation, ...] = (
    # whose week, which week
    Mutation("runner", "another runner", runner_with(id="X")),
    Mutation("held", "a hold", runner_with(holds=(Hold("pregnant", None, None, PLACE),))),
    Mutation("place", "no such week", lambda c: replace(c, week=replace(c.week, programme_week=99))),
    Mutation("place", "another Monday", lambda c: replace(c, week=replace(c.week, monday=_day(7, c)))),
    Mutation("place", "away in all of it", _all_away),
    # days and hours
    Mutation("order", "a session not in the text", lambda c: with_session(c, 0, key="9")),
    Mutation("day", "outside the week", lambda c: with_session(c, 0, day=_day(-1, c))),
    Mutation("day", "not a possible day", lambda c: with_session(c, 0, day=_day(1, c))),
    Mutation("order", "turned round", _reversed),
    Mutation("gap", "the next day", _gap),
    Mutation("rest-day", "no day with neither", _rest),
    Mutation("hours", "on the day of a race", _race_after),
    Mutation("hours", "before a key run on its day", _run_on_the_day("key", time(19))),
    Mutation("hours", "hours before a key run", _run_after),
    Mutation("hours", "hours from an easy run", _easy_run_at_the_time),
    # sessions and lines
    Mutation("sessions", "a session twice", _twice),
    Mutation(
        "sessions", "a session missing", lambda c: replace(c, week=replace(c.week, sessions=c.week.sessions[:-1]))
    ),
    Mutation("line", "a line twice", _line_twice),
    Mutation("line", "a line of another text", item_with(work, item_key="zz")),
    Mutation("line", "a line missing", lambda c: with_item(c, work, lambda _: None)),
    Mutation("line", "another dose", item_with(dosed, reps=Range(30, 30))),
    Mutation("line", "another exercise, no reason", item_with(dosed, variant_id=SQUAT, name="Squat", reasons=())),
    Mutation("line", "another load, no reason", item_with(named("split-squat"), load=None, reasons=())),
    Mutation("line", "another band, no reason", item_with(named("band-side-step"), load=THICK, reasons=())),
    # what is allowed
    Mutation("allowed", "no word on the band", item_with(named("band-side-step"), load=None)),
    Mutation("allowed", "no kit", runner_with(kit=())),
    Mutation("allowed", "the kit of another site", _elsewhere),
    Mutation("allowed", "a session with times at two sites", _half_elsewhere),
    Mutation("printed", "another site", lambda c: with_session(c, 0, where="changed")),
    Mutation("allowed", "a load nobody owns", item_with(dosed, load=HEAVY)),
    Mutation("allowed", "a load where none goes", item_with(named("press-up"), load=LoadChoice(8, "ankle", ("8 kg",)))),
    Mutation("allowed", "a limit without an example", runner_with(limits=(_limit("knee", None),))),
    Mutation("allowed", "a limit by example", runner_with(limits=(_limit("calf", "heel-raise-two-legs"),))),
    Mutation("allowed", "a load on a sore region", runner_with(sore=(_sore("knee", 2),))),
    Mutation("allowed", "a landing on a sore region", runner_with(sore=(_sore("foot", 2),))),
    Mutation("allowed", "pain above the stop", runner_with(sore=(_sore("knee", 9),))),
    Mutation(
        "allowed",
        "end of range of a sore region",
        runner_with(sore=(_sore("knee", 1),)),
    ),
    Mutation("allowed", "a note: no impact", runner_with(wishes=(Wish("no impact", "no hops"),))),
    Mutation(
        "allowed",
        "a note: no pattern",
        runner_with(wishes=(Wish("no pattern", "no heel raises", pattern="heel raise"),)),
    ),
    Mutation("allowed", "a note: no floor", runner_with(wishes=(Wish("no floor", "not on the floor"),))),
    # minutes, contacts, kit inside a pair
    Mutation("minutes", "minutes that are not the plan's", lambda c: with_session(c, 0, minutes=99.0)),
    Mutation("minutes", "more than there are", runner_with(minutes=10)),
    Mutation("contacts", "too many landings", house_with("contacts-a-session", 5)),
    Mutation("pair-kit", "one dumbbell at two loads", _adjustable),
    # effort
    Mutation("prediction", "a prediction for what is no dose", _prediction_where_none_is),
    Mutation("share", "another share", _predicted(share=0.123)),
    Mutation("chance", "another chance", _predicted(p_complete=0.0)),
    Mutation("objective", "another effort", _effort_said),
    Mutation("pair-clash", "one group twice in a pair", _one_group),
    Mutation("new", "too much that is new", _all_new),
    Mutation("growth", "more than a step above last week", _jump),
    Mutation("bound", "more than the record allows", lambda c: _held(c, "sore the next morning")),
    Mutation("bound", "held without a word", lambda c: _held(c, "for no reason")),
    # what is printed
    Mutation("printed", "another session name", lambda c: with_session(c, 0, name="changed")),
    Mutation("printed", "another session's notes", lambda c: with_session(c, 0, notes=("changed",))),
    Mutation(
        "printed", "another runner's calendar id", lambda c: with_session(c, 0, uid="x01.p.week1.session1@ferrule")
    ),
    Mutation("printed", "something to leave out that is not there", lambda c: with_session(c, 0, leave_out=("zz",))),
    Mutation("printed", "nothing to fetch", lambda c: _all_sessions(c, fetch=())),
    Mutation("printed", "other hours to the key run", lambda c: with_session(c, 0, hours_to_key=1.0)),
    Mutation("printed", "no hours to the key run", lambda c: with_session(c, 0, hours_to_key=None)),
    Mutation(
        "printed", "another rest of the block", lambda c: with_block(c, lambda b: b.kind == "pair", rest_s=Range(5, 5))
    ),
    Mutation("printed", "more rounds than written", lambda c: with_block(c, lambda b: b.kind == "pair", rounds=9)),
    Mutation("printed", "fewer rounds without a reason", _fewer_rounds),
    Mutation("printed", "sets that are not the rounds", item_with(in_pair, sets=7)),
    Mutation("printed", "more sets than the line has", item_with(named("bridge-two-legs"), sets=9)),
    Mutation("printed", "other notes", item_with(any_item, notes=("changed",))),
    Mutation("printed", "an exercise nobody knows", item_with(work, variant_id="nope")),
    Mutation("printed", "another name", item_with(any_item, name="Changed")),
    Mutation("printed", "another written name", item_with(any_item, written="Changed")),
    Mutation("printed", "optional", item_with(work, optional=True)),
    Mutation("printed", "effort asked in the warm-up", item_with(lambda b, _: b.kind == "warm-up", ask_effort=True)),
    Mutation("printed", "one side", lambda c: with_item(c, any_item, lambda i: replace(i, per_side=not i.per_side))),
    Mutation(
        "printed", "alternating", lambda c: with_item(c, any_item, lambda i: replace(i, alternating=not i.alternating))
    ),
    Mutation("printed", "another reserve", item_with(dosed, rir=Range(9, 9))),
    Mutation("printed", "another tempo", item_with(dosed, tempo=Tempo(9, 9, 9))),
    Mutation("printed", "another pause", item_with(dosed, pause_s=9.0)),
    Mutation("printed", "another rest of the line", item_with(dosed, rest_s=Range(9, 9))),
    Mutation("printed", "another side rest", item_with(dosed, side_rest_s=99.0)),
    Mutation("printed", "open repetitions", item_with(dosed, open_reps="max")),
    Mutation("printed", "left and right", item_with(dosed, left_right=(1, 2))),
    Mutation("printed", "other ends of the share", _predicted(share_low=0.001)),
    Mutation("printed", "a way out that is not there", _way(True, "no-such-exercise")),
    Mutation("printed", "a way out nobody owns", _way(True, SQUAT, HEAVY)),
    Mutation("printed", "ways out turned round", _way_swapped),
    # a week that was given already
    Mutation("given", "a past session changed", _past),
    Mutation("given", "a session on a lost day", _on_a_lost_day),
)
"""Every mutation. `mutations_test.py` holds that each is refused with its code and that no rule is without one."""


def _all_sessions(c: Case, **fields: object) -> Case:
    sessions = tuple(replace(s, **fields) for s in c.week.sessions)  # type: ignore[arg-type]
    return replace(c, week=replace(c.week, sessions=sessions))
