"""A programme run dry: fitted, done by simulated bodies, told, and decided again week by week, before any human sees it.

The whole way is the real one: `ferrule.next` decides from the entries alone. Only the bodies are invented, and they are
not the model (`simulate.truth`): another curve, a hidden second limit, taps by default, misreporting, pain and drop-out.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from typing import Final, Literal

import numpy as np

from ferrule.fit.growth import base_key
from ferrule.fit.runner import fit_runner
from ferrule.model.exercise import Library
from ferrule.model.fact import Decided, Entry, PainTold
from ferrule.model.fitted import Away, FittedItem, FittedSession, FittedWeek, Held, Impossible, Outcome
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Programme
from ferrule.model.squad import Runner, Squad
from ferrule.next.decided import CLEARED, FLAG
from ferrule.next.squad import next_week, remembered, told_of
from ferrule.record.sent import asked_of
from ferrule.simulate.doing import true_of
from ferrule.simulate.dry_run_life import Life, Nature, live_week, nature_of
from ferrule.simulate.dry_run_rules import Broken, broken_rules, foot_contacts
from ferrule.simulate.dry_run_squad import begins
from ferrule.simulate.fair import fair_body, fair_world, truth_of
from ferrule.simulate.reports import Happened
from ferrule.simulate.squad import home_tests
from ferrule.simulate.truth import Body, make_body, possible
from ferrule.simulate.world import World, make_world

Effort = Literal["too easy", "right", "too hard"]
SLACK_HARD: Final = 1.0
SLACK_EASY: Final = 3.0
"""Repetitions (holds: tenths) outside the band meant that are still right; the same as in a fitted week's verdict."""
CLEARED_AFTER: Final = 14
"""Days after which the simulated coach has had a red flag seen to (an assumption)."""
DRAWS: Final = 20
WEEK: Final = timedelta(days=7)

Key = tuple[str, str]
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class LineDone:
    """One dosed line of one runner's week, as it truly was.

    effort      how the last set truly lies to the band the coach meant, on a day like any other
    spare       truly possible there, less the most asked: repetitions, or tenths of the hold; stated: an effort was written
    said        the verdict the fit gave it;  p_complete: the chance it gave, None where it gave none
    completed   was the least of the range possible in the first set it was done, on that day;  None: not done
    sets, failed  done in the week, and of them not completed;  demand: of the model, on its main group
    outgrown    too easy, and nothing harder is printed for it
    reachable   would the fit put it in the band if it knew the body (fair worlds only, else None)
    """

    runner_id: str
    week: int
    session_key: str
    item_key: str
    written: str
    variant_id: str
    load_kg: float
    demand: float
    effort: Effort
    spare: float
    stated: bool
    said: str
    p_complete: float | None
    completed: bool | None
    sets: int
    failed: int
    outgrown: bool
    reachable: bool | None = None


@dataclass(frozen=True, slots=True)
class WeekDone:
    """One runner's week. outcome: `sent`, or what was instead, and `why`; minutes: of each session, estimated; hurt: most
    true pain."""

    runner_id: str
    week: int
    cycle_name: str
    outcome: str
    lines: tuple[LineDone, ...] = ()
    minutes: tuple[float, ...] = ()
    contacts: tuple[int, ...] = ()
    missed: int = 0
    hurt: float = 0.0
    gone: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class DryRun:
    """Everything of one run. weeks: by week, then in the order of the squad; broken: safety rules that did not hold."""

    programme: str
    seed: int
    fair: bool
    runners: int
    weeks: tuple[WeekDone, ...]
    broken: tuple[Broken, ...]

    @property
    def sent(self) -> tuple[WeekDone, ...]:
        """Weeks that were sent: runner-weeks."""
        return tuple(w for w in self.weeks if w.outcome == "sent")


@dataclass(slots=True)
class _Person:
    runner: Runner
    nature: Nature
    life: Life
    rng: np.random.Generator
    sent: list[FittedWeek] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    late: list[Entry] = field(default_factory=list)
    flagged: list[date] = field(default_factory=list)


def dry_run(
    programme: Programme, squad: Squad, library: Library, house: House, weeks: int, *, seed: int = 1, fair: bool = False,
    own_tests: bool = False, progress: Progress | None = None,
) -> DryRun:  # fmt: skip
    """Run `weeks` weeks of the programme on simulated bodies for the runners of `squad`; the same seed, the same run.

    fair        in a fair world (`simulate.fair`);  own_tests: home tests are those of the squad, and the bodies agree
    Weeks beyond the last of the programme are not run.
    """
    world = (fair_world if fair else make_world)(library, np.random.default_rng([seed, 0]))
    monday = begins(squad)
    people = [
        _person(n, r, world, monday.year, seed, fair=fair, own_tests=own_tests) for n, r in enumerate(squad.runners)
    ]
    squad = replace(squad, runners=tuple(p.runner for p in people))
    done: list[WeekDone] = []
    broken: list[Broken] = []
    last_week = min(weeks, programme.weeks)
    for number in range(1, last_week + 1):
        day = monday + (number - 1) * WEEK
        entries = [e for p in people for e in p.entries]
        sent = {p.runner.id: tuple(p.sent) for p in people}
        told = told_of(programme, squad, library, house, day, sent=sent, entries=entries)
        found = next_week(programme, library, house, told)
        for person, outcome in zip(people, found.week.outcomes, strict=True):
            if isinstance(outcome, FittedWeek):
                last = remembered(person.sent) if person.sent else None
                broken += broken_rules(programme, person.runner, library, house, outcome, last, person.entries, number)
            reached = _reached(programme, person, world, library, house, day) if fair else None
            done.append(_live(person, outcome, world, library, number, day, reached))
        if progress is not None:
            progress(number, last_week)
    return DryRun(programme.title or programme.file, seed, fair, len(people), tuple(done), tuple(broken))


def _person(n: int, runner: Runner, world: World, year: int, seed: int, *, fair: bool, own_tests: bool) -> _Person:
    rng = np.random.default_rng([seed, 1, n])
    body: Body
    if fair:
        body = fair_body(runner, world, year, rng)
    elif own_tests and runner.tests:
        drawn = [make_body(runner, world, year, rng) for _ in range(DRAWS)]
        body = min(drawn, key=lambda b: _unlike(b, runner, world))
    else:
        body = make_body(runner, world, year, rng)
        if not own_tests:
            runner = replace(runner, tests=home_tests(world, body, rng))
    return _Person(runner, nature_of(rng, fair=fair), Life(body), np.random.default_rng([seed, 2, n]))


_TESTED: Final[Mapping[str, str]] = {
    "heel raises": "heel-raise-one-leg", "press-ups": "press-up", "side plank": "side-plank", "front plank": "front-plank",
}  # fmt: skip


def _unlike(body: Body, runner: Runner, world: World) -> float:
    """How far a body is from the runner's home tests, log repetitions or seconds."""
    off = [
        abs(math.log(possible(world, body, world.variants[_TESTED[t.kind]], 0.0) / max(t.value, 1.0)))
        for t in runner.tests
        if t.kind in _TESTED
    ]
    return float(np.mean(off)) if off else 0.0


def _live(
    person: _Person, outcome: Outcome, world: World, library: Library, number: int, monday: date,
    reached: Mapping[Key, bool] | None,
) -> WeekDone:  # fmt: skip
    """The runner goes through what was sent; the entries reach the record, late ones a week later."""
    fair = reached is not None
    person.entries += person.late
    person.late = []
    runner = person.runner
    if not isinstance(outcome, FittedWeek):
        return WeekDone(
            runner.id, number, "", type(outcome).__name__.lower(), gone=person.life.gone, why=why_not(outcome)
        )
    before = person.life.body
    lived = live_week(
        person.life, person.nature, outcome, f"{runner.id}-{number}", world, library, person.rng, fair=fair
    )
    person.sent.append(outcome)
    person.life = lived.life
    (person.late if lived.late else person.entries).extend(lived.entries)
    _clear(person, lived.entries, monday + WEEK)
    lines = tuple(_lines(outcome, lived.happened, before, world, runner, library, number))
    if reached is not None:
        lines = tuple(replace(x, reachable=reached.get((x.session_key, x.item_key), False)) for x in lines)
    return WeekDone(
        runner.id, number, outcome.cycle_name, "sent", lines, tuple(s.minutes for s in outcome.sessions),
        tuple(foot_contacts(s, library) for s in outcome.sessions), len(lived.missed),
        max(lived.life.sores.values(), default=0.0), lived.life.gone,
    )  # fmt: skip


def why_not(outcome: Impossible | Held | Away) -> str:
    """Why there is no week, in words."""
    if isinstance(outcome, Impossible):
        return "; ".join(dict.fromkeys(f.what for f in outcome.reasons))
    return outcome.reason


def _clear(person: _Person, entries: Iterable[Entry], monday: date) -> None:
    """Red flags told two weeks ago have been seen to by a human."""
    person.flagged += [e.fact.day for e in entries if isinstance(e.fact, PainTold) and e.fact.flags]
    old = [d for d in person.flagged if d <= monday - timedelta(days=CLEARED_AFTER)]
    if old:
        person.flagged = [d for d in person.flagged if d not in old]
        at = datetime(monday.year, monday.month, monday.day, 6, tzinfo=UTC)
        word = Decided(monday, "", FLAG, "", CLEARED, "the simulated coach")
        person.entries.append(Entry(f"{person.runner.id}-cleared-{monday}", person.runner.id, at, "coach", word))


def _reached(
    programme: Programme, person: _Person, world: World, library: Library, house: House, monday: date
) -> Mapping[Key, bool]:
    """By line: is it in the band when the fit knows the body, and nothing was sent before?"""
    runner, body = person.runner, person.life.body
    week = fit_runner(programme, runner, library, house, monday, None, frozenset(), truth_of(runner, world, body))
    if not isinstance(week, FittedWeek):
        return {}
    lines = _lines(week, {}, body, world, runner, library, 0)
    return {(x.session_key, x.item_key): x.effort == "right" for x in lines}


def _lines(
    week: FittedWeek, happened: Mapping[str, tuple[Happened, ...]], body: Body, world: World, runner: Runner,
    library: Library, number: int,
) -> Iterable[LineDone]:  # fmt: skip
    for session in week.sessions:
        done = happened.get(session.key, ())
        for block in session.blocks:
            for item in block.items if block.kind not in LIGHT else ():
                line = _line(session, item, done, body, world, runner, library, number)
                if line is not None:
                    yield line


def _line(
    session: FittedSession, item: FittedItem, done: tuple[Happened, ...], body: Body, world: World,
    runner: Runner, library: Library, number: int,
) -> LineDone | None:  # fmt: skip
    asks, least = true_of(world, item, library), asked_of(item, 1)
    if asks is None or least is None or item.alternating or item.left_right is not None:
        return None
    band = band_of(item)
    if band is None:
        return None
    load = 0.0 if item.load is None else item.load.kg
    can = possible(world, body, asks, load, "both", sets_before=item.sets - 1)
    unit = 1.0
    if item.hold_s is not None:
        unit = item.hold_s.high / 10
    reach = can / unit if item.hold_s is not None else math.floor(can)
    low, high, most = band
    effort: Effort = "too hard" if reach < low - SLACK_HARD else "too easy" if reach > high + SLACK_EASY else "right"
    own = [h for h in done if h.asked.item_key == item.item_key and not h.pain]
    first = [h for h in own if h.number == 1]
    main = library.variants[item.variant_id].main
    place = None if item.load is None else item.load.place
    mass = 65.0 if runner.mass_kg is None else runner.mass_kg
    return LineDone(
        runner.id, number, base_key(session.key), item.item_key, item.written, item.variant_id, load,
        0.0 if main is None else main.demand(load, place, mass), effort, reach - most, item.rir is not None,
        "" if item.prediction is None else item.prediction.verdict,
        None if item.prediction is None else item.prediction.p_complete,
        all(math.floor(h.possible) >= least for h in first) if first else None, len({h.number for h in own}),
        len({h.number for h in own if h.done < h.asked.amount}), effort == "too easy" and item.too_easy is None,
    )  # fmt: skip


def band_of(item: FittedItem) -> tuple[float, float, float] | None:
    """(least, most meant to be possible in the last set, most asked): repetitions, or tenths of the printed seconds.

    Written out again from the notation (a range with RIR: least + RIR to most + RIR; one number with one RIR: a repetition
    either way; without effort: one left at least), so that it is not the fit's own idea of it. None without a dose.
    """
    rir = item.rir
    if item.hold_s is not None:
        low = 10.0 * item.hold_s.low / item.hold_s.high + (rir.low if rir else 1.0)
        return low, (11.0 + rir.high if rir else math.inf), 10.0
    if item.reps is None and not item.per_set:
        return None
    few = float(max(item.per_set)) if item.per_set else float(item.reps.low if item.reps else 0)
    many = few if item.per_set or item.reps is None else float(item.reps.high)
    if rir is None:
        return many + 1.0, math.inf, many
    wide = 1.0 if few == many and rir.low == rir.high else 0.0
    return few + rir.low, many + rir.high + wide, many
