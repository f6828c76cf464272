"""Next week's proposals: the fitted week beside the last one sent, line by line, each move with its reason.

The fit decides inside what the record allows (`plan`); here it is only said what that comes to. The coach disposes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from ferrule.fit.growth import base_key
from ferrule.fit.runner import capacity_of, fit_runner
from ferrule.fit.verify import verify
from ferrule.model.exercise import Library
from ferrule.model.fact import Entry
from ferrule.model.finding import Finding
from ferrule.model.fitted import FittedBlock, FittedItem, FittedWeek, Held, Impossible, Outcome
from ferrule.model.house import House
from ferrule.model.programme import Item, Named, Programme
from ferrule.model.red_flags import RED_FLAG_HEAD
from ferrule.model.squad import Capacity, Runner
from ferrule.next.conditions import kg_words
from ferrule.next.pain import where_words
from ferrule.next.plan import Plan, flag_words, plan_of
from ferrule.next.ruling import HURT_AT, Key, Move, Ruling, gravest
from ferrule.next.words import asked_words

HAIR = 1e-3
LIGHT = ("warm-up", "cool-down")


GOES_ON = "the text goes on: "
"""How the reason begins of a line that only does what the text says of the next week."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """One line.

    was, now   what it asked last week and asks next, in words; "" when there is none
    ratio      demand next / demand last, on one main group; None where they cannot be compared
    rules      names of the rules behind it, as in docs/next.md;  decided_by: the coach, when it is their word
    """

    session_key: str
    item_key: str
    written: str
    move: Move
    was: str
    now: str
    reasons: tuple[str, ...]
    rules: tuple[str, ...] = ()
    ratio: float | None = None
    decided_by: str = ""


@dataclass(frozen=True, slots=True)
class Proposals:
    """One runner's next week as proposed.

    outcome   the fitted week, or why there is none;  notes: of the whole week;  asks: questions for the coach to answer
    silence   "" where enough was told, else which of the silences it is
    """

    runner_id: str
    runner_name: str
    monday: date
    outcome: Outcome
    lines: tuple[Proposal, ...] = ()
    notes: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    silence: str = ""
    plan: Plan | None = field(default=None, compare=False, repr=False)


def propose(
    programme: Programme, runner: Runner, library: Library, house: House, monday: date, *,
    last: FittedWeek | None, entries: Iterable[Entry], capacity: Capacity | None = None,
) -> tuple[Proposals, tuple[Finding, ...]]:  # fmt: skip
    """The next week of one runner, fitted within what the record allows and verified, with what it says of each line.

    last      the newest copy sent before `monday`;  capacity: what is believed (`beliefs`), None takes the prior
    Same facts, same answer, in any order of arrival. The runner alone: lanes and budgets of a squad are `fit_squad`'s.
    """
    plan = plan_of(programme, runner, library, house, monday, last=last, entries=entries)
    own = plan.own
    outcome = fit_runner(
        own.programme, plan.runner, library, house, monday, last, own.pinned, capacity, None, None, own.bounds
    )
    findings = list(plan.findings)
    if isinstance(outcome, FittedWeek):
        known = capacity_of(plan.runner, monday) if capacity is None else capacity
        wrong = verify(outcome, own.programme, plan.runner, library, house, known, last, None, own.bounds)
        if wrong:
            findings += wrong
            outcome = Impossible(runner.id, runner.name, wrong, ())
    return told(plan, outcome, last, library, monday), tuple(findings)


def told(plan: Plan, outcome: Outcome, last: FittedWeek | None, library: Library, monday: date) -> Proposals:
    """The proposals of one fitted week."""
    runner = plan.runner
    asks = [r.reason for r in plan.rulings if r.move == "ask"]
    asks += [r.reason for r in plan.rulings if r.move == "stop" and r.rule not in ("red flag", HURT_AT)]
    for flag in plan.flags:
        where = "" if flag.region is None else f"{where_words(flag.region, flag.side)}: "
        asks.append(
            f"{RED_FLAG_HEAD.removesuffix(' for any of these:').removesuffix(',')}: {where}{flag_words(flag)} ({flag.day})"
        )
    lines = tuple(_lines(plan, outcome, last, library)) if isinstance(outcome, FittedWeek) else ()
    notes = [r.reason for r in plan.rulings if r.lines is None and r.move != "ask"]
    silence = plan.came.silence if plan.came is not None and isinstance(outcome, FittedWeek) else ""
    return Proposals(
        runner.id, runner.name, monday, outcome, lines,
        tuple(dict.fromkeys((*notes, *_week_notes(outcome, last), *plan.notes))), tuple(dict.fromkeys(asks)), silence, plan,
    )  # fmt: skip


def _week_notes(outcome: Outcome, last: FittedWeek | None) -> Iterator[str]:
    """What is to be said of the place in the programme, and of a week there is not."""
    if isinstance(outcome, FittedWeek):
        if last is not None and outcome.programme_week == last.programme_week:
            yield f"programme week {outcome.programme_week} again"
        if last is not None and outcome.cycle_name != last.cycle_name:
            yield f"a new cycle: {outcome.cycle_name}"
        if outcome.finding_week:
            yield "finding week: effort is asked, margins are wide"
    elif isinstance(outcome, Held):
        yield f"on hold: {outcome.reason}"


def _lines(plan: Plan, outcome: FittedWeek, last: FittedWeek | None, library: Library) -> Iterator[Proposal]:
    """Every line outside the warm-up, in the order of the text; lines that the record left out included."""
    before = _by_line(last) if last is not None and last.cycle_name == outcome.cycle_name else {}
    now = _by_line(outcome)
    assert plan.week is not None  # it was fitted
    for session in plan.week.sessions:
        for block in session.blocks:
            for item in block.items if block.kind not in LIGHT else ():
                key = (session.key, item.key)
                yield _proposal(key, item, plan, now.get(key), before.get(key), outcome, library)


def _by_line(week: FittedWeek) -> dict[Key, tuple[FittedItem, FittedBlock]]:
    """The first time of each line."""
    out: dict[Key, tuple[FittedItem, FittedBlock]] = {}
    for s in week.sessions:
        for b in s.blocks:
            for i in b.items:
                out.setdefault((base_key(s.key), i.item_key), (i, b))
    return out


def _proposal(
    key: Key, item: Item, plan: Plan, now: tuple[FittedItem, FittedBlock] | None,
    was: tuple[FittedItem, FittedBlock] | None, outcome: FittedWeek, library: Library,
) -> Proposal:  # fmt: skip
    rulings = plan.on(key)
    word = plan.words.get(key)
    written = item.exercise.text if isinstance(item.exercise, Named) else f"any {item.exercise.pattern}"
    text_was = "" if was is None else asked_words(*was)
    text_now = "" if now is None else asked_words(*now)
    ratio = None if now is None or was is None else _ratio(now[0], was[0], plan, library)
    if now is None:
        move: Move = "stop" if any(r.move == "stop" for r in rulings) else "leave out"
        reasons = [r.reason for r in rulings if r.move in ("stop", "leave out")] or _why_gone(key, outcome)
        return Proposal(*key, written, move, text_was, "", tuple(reasons), _names(rulings), None, _by(word))
    change = _change(now, was, ratio)
    other = any(r.departs for r in now[0].reasons) and now[0].name != written
    move = _move(rulings, change, grown_by_us=_ours(now[0], was, change), other=other)
    said = [r for r in rulings if r.move != "progress" or r.item is not None]
    reasons = [r.reason for r in said if r.lines is not None or r.binds]
    if move == "progress" and not any(r.move == "progress" for r in rulings):
        reasons.append(f"what was told allows more: {_how(now, was)}")
    elif move == "as written" and change > 0 and was is not None:
        reasons.append(f"{GOES_ON}{_how(now, was)}")
    elif change < 0 and _ours(now[0], was, change) and not any(r.most is not None and r.most < 1 for r in rulings):
        reasons += _why_less(now, was)
    reasons += [r.text for r in now[0].reasons if r.departs]
    return Proposal(
        *key, written, move, text_was, text_now, tuple(dict.fromkeys(reasons)), _names(rulings), ratio, _by(word)
    )


def _why_less(now: tuple[FittedItem, FittedBlock], was: tuple[FittedItem, FittedBlock] | None) -> list[str]:
    """What makes the fit ask less than last week: what it says itself, else the effort."""
    own = [r.text for r in now[0].reasons if r.departs or r.code == "first that fits"]
    effort = not own or any("too hard" in text for text in own)
    return [f"{'nearer to the effort meant' if effort else 'less than last week'}: {_how(now, was)}", *own]


def _by(word: object) -> str:
    return "" if word is None else str(getattr(word, "by", ""))


def _names(rulings: Iterable[Ruling]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(r.rule for r in rulings))


def _why_gone(key: Key, outcome: FittedWeek) -> list[str]:
    """Why the fit has no such line: its session found no day, or there was no time."""
    rest = [r.text for title, r in outcome.rest_sessions if title.split(":")[0] == f"Session {key[0]}"]
    left = [r.text for s in outcome.sessions if base_key(s.key) == key[0] for r in s.reasons if "left out" in r.text]
    return rest or left


def _ratio(now: FittedItem, was: FittedItem, plan: Plan, library: Library) -> float | None:
    mass = 65.0 if plan.runner.mass_kg is None else plan.runner.mass_kg
    asked = []
    for item in (was, now):
        variant = library.variants.get(item.variant_id)
        if variant is None or variant.main is None:
            return None
        kg, place = (0.0, None) if item.load is None else (item.load.kg, item.load.place)
        asked.append((variant.main.group, variant.main.demand(kg, place, mass)))
    return asked[1][1] / asked[0][1] if asked[0][0] == asked[1][0] and asked[0][1] > 0 else None


def _amount(item: FittedItem) -> float:
    value = item.reps or item.hold_s or item.distance_m or item.contacts
    return float(sum(item.per_set)) if item.per_set else 0.0 if value is None else value.high


def _sets(pair: tuple[FittedItem, FittedBlock]) -> int:
    return pair[0].sets if pair[1].kind == "straight" else pair[1].rounds


def _change(
    now: tuple[FittedItem, FittedBlock], was: tuple[FittedItem, FittedBlock] | None, ratio: float | None
) -> int:
    """1 when more is asked than last week, -1 when less, 0 when as much or not comparable: demand first, then amount."""
    if was is None:
        return 0
    if ratio is not None and abs(ratio - 1) > HAIR:
        return 1 if ratio > 1 else -1
    mine, its = (_sets(now), _amount(now[0])), (_sets(was), _amount(was[0]))
    if mine == its or (ratio is None and now[0].variant_id != was[0].variant_id):
        return 0
    return 1 if mine[0] * mine[1] > its[0] * its[1] else -1 if mine[0] * mine[1] < its[0] * its[1] else 0


def _ours(now: FittedItem, was: tuple[FittedItem, FittedBlock] | None, change: int) -> bool:
    """Is the difference of our choosing: another exercise or load where the text leaves them open, or says otherwise?"""
    if was is None or change == 0:
        return False
    loads = [(None if i.load is None else (i.load.kg, i.load.place, i.load.band)) for i in (now, was[0])]
    return now.variant_id != was[0].variant_id or loads[0] != loads[1]


def _move(rulings: tuple[Ruling, ...], change: int, *, grown_by_us: bool, other: bool) -> Move:
    """The gravest ruling names the move, unless nothing came of it."""
    grave = gravest(r for r in rulings if r.binds)
    if grave == "stop":  # it goes on as what does not load the place
        return "another exercise"
    if grave == "hold" and grown_by_us and change < 0:
        return "back off"
    if grave == "back off" and change >= 0 and all(r.sets is not None for r in rulings if r.move == "back off"):
        return "hold"  # other lines of the week have the fewer sets
    if grave is not None:
        return grave
    if any(r.move == "progress" for r in rulings) and change >= 0:
        return "progress"
    if grown_by_us:
        return "progress" if change > 0 else "back off"
    return "another exercise" if other else "as written"


def _how(now: tuple[FittedItem, FittedBlock], was: tuple[FittedItem, FittedBlock] | None) -> str:
    """In which way it differs: another exercise, load, repetitions, sets, tempo."""
    if was is None:
        return "new"
    a, b = was[0], now[0]
    parts = []
    if a.variant_id != b.variant_id:
        parts.append(f"{b.name} after {a.name}")
    kg = [None if i.load is None else (i.load.kg, i.load.band) for i in (a, b)]
    if kg[0] != kg[1] and a.variant_id == b.variant_id:
        parts.append(f"{kg_words(b.load)} after {kg_words(a.load)}")
    if _sets(was) != _sets(now):
        unit = ("set" if now[1].kind == "straight" else "round") + ("" if _sets(now) == 1 else "s")
        parts.append(f"{_sets(now)} {unit} after {_sets(was)}")
    for name in ("reps", "hold_s", "distance_m", "contacts"):
        x, y = getattr(a, name), getattr(b, name)
        if x != y and x is not None and y is not None:
            unit = {"reps": "", "hold_s": " s", "distance_m": " m", "contacts": " contacts"}[name]
            parts.append(f"{y}{unit} after {x}{unit}")
    if a.tempo != b.tempo or a.pause_s != b.pause_s:
        parts.append("another tempo")
    if a.rir != b.rir and a.rir is not None and b.rir is not None:
        parts.append(f"{b.rir} RIR after {a.rir}")
    return ", ".join(parts) or "as much as last week"


def by_runner(proposals: Iterable[Proposals]) -> Mapping[str, Proposals]:
    """Proposals by runner id."""
    return {p.runner_id: p for p in proposals}
