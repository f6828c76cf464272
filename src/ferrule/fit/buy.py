"""What to buy: each runner's week fitted again with one more thing in their kit, and what that changes. Nothing is guessed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from ferrule.fit.bounds import NO_OWN, Own
from ferrule.fit.runner import fit_runner
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span
from ferrule.model.fitted import FittedItem, FittedWeek, Outcome
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Capacity, KitItem, Runner
from ferrule.squad.cell import Cell
from ferrule.squad.kit_cell import read_kit
from ferrule.squad.place import monday_of
from ferrule.squad.sites import sites_of, with_pieces

COMMON = (
    "mat", "step 20 cm", "step 30 cm", "bench 45 cm", "band thin", "band medium", "band thick",
    "kettlebell 8 kg", "kettlebell 12 kg", "kettlebell 16 kg", "kettlebell 24 kg",
    "dumbbell 4 kg x 2", "dumbbell 8 kg x 2", "dumbbell 12 kg x 2", "dumbbell 20 kg x 2",
    "adjustable dumbbell 2-20 kg in 2 x 2", "rucksack to 15 kg", "doorway bar", "ball 3 kg",
)  # fmt: skip
"""Home kit as a coach would write it in the squad list (common practice, no source)."""
Line = tuple[str, str]
"""Session key and line key."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that could be bought: as it is written in the squad list, and as kit."""

    name: str
    kit: tuple[KitItem, ...]


@dataclass(frozen=True, slots=True)
class LineGain:
    """One line that is better with the thing. was, now: what is done;  how: `as written`, `right` (into the effort meant)
    or `done` (it was left out)."""

    session_key: str
    item_key: str
    written: str
    was: str
    now: str
    how: str


@dataclass(frozen=True, slots=True)
class Gain:
    """What one thing would change in one runner's week.

    better    lines that come back to the text, into the effort meant, or into the week
    worse     the same the other way (one line may be given up for another)
    effort    expected loss that goes away, reps
    possible  there is no week without it
    """

    runner_id: str
    runner_name: str
    thing: str
    better: tuple[LineGain, ...]
    worse: tuple[LineGain, ...]
    effort: float
    possible: bool = False

    @property
    def lines(self) -> int:
        """Lines won, those lost taken away."""
        return len(self.better) - len(self.worse)


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing over everybody asked about. gains: runners for whom it changes something; tied: the next one does as much."""

    thing: str
    gains: tuple[Gain, ...]
    tied: bool = False

    @property
    def weeks(self) -> int:
        """Runners who have a week only with it."""
        return sum(g.possible for g in self.gains)

    @property
    def lines(self) -> int:
        """Lines won over all runners."""
        return sum(g.lines for g in self.gains)

    @property
    def effort(self) -> float:
        """Expected loss that goes away over all runners, reps, to a tenth."""
        return round(sum(g.effort for g in self.gains), 1)


def things(names: Iterable[str] = COMMON) -> tuple[tuple[Thing, ...], tuple[Finding, ...]]:
    """Things by their words, each once, and what could not be read."""
    out, findings = [], []
    for name in dict.fromkeys(" ".join(n.split()) for n in names):
        kit, noticed = read_kit(Cell(name, Span("", 1)))
        findings += noticed
        if kit:
            out.append(Thing(name, kit))
    return tuple(out), tuple(findings)


def what_to_buy(
    programme: Programme, runners: Sequence[Runner], library: Library, house: House, monday: date,
    shop: Sequence[Thing], *, last: Mapping[str, FittedWeek] | None = None,
    beliefs: Mapping[str, Capacity] | None = None, workers: int = 1, site: str = "", own: Mapping[str, Own] = NO_OWN,
) -> Iterator[tuple[Runner, tuple[Gain, ...]]]:  # fmt: skip
    """Each runner with what each thing they do not own would change; things that change nothing are left out.

    last, beliefs, own   as for `fit_squad`: the week sent before, what is believed of each, and what the record makes of the
                    week; lanes and the change budget are left out
    workers         processes; the answer does not depend on it
    site            where the thing would be, by name; "" is the first of each runner. Raises ValueError for a runner who
                    does not train there
    """
    for runner in runners:
        with_pieces(runner, (), site)
    fixed = (library, house, monday_of(monday), tuple(shop), site)
    plans = [own.get(r.id) or Own(programme) for r in runners]
    befores = [(last or {}).get(r.id) for r in runners]
    known = [(beliefs or {}).get(r.id) for r in runners]
    if workers <= 1:
        yield from zip(runners, map(partial(_gains, *fixed), runners, plans, befores, known), strict=True)
        return
    with ProcessPoolExecutor(max_workers=workers, initializer=_begin, initargs=fixed) as pool:
        yield from zip(runners, pool.map(_gains_there, runners, plans, befores, known), strict=True)


_HERE: list[tuple[Library, House, date, tuple[Thing, ...], str]] = []
"""In a process of the pool: what it was started with, so that the library does not travel with every runner."""


def _begin(library: Library, house: House, monday: date, shop: tuple[Thing, ...], site: str) -> None:
    _HERE[:] = [(library, house, monday, shop, site)]


def _gains_there(runner: Runner, own: Own, last: FittedWeek | None, capacity: Capacity | None) -> tuple[Gain, ...]:
    return _gains(*_HERE[0], runner, own, last, capacity)


def ranked(gains: Iterable[Gain]) -> tuple[Advice, ...]:
    """Things by what they do over all runners: weeks that become possible, then lines won, then effort; `tied` where the
    order of the shop alone decides. Things that win nothing are left out."""
    by_thing: dict[str, list[Gain]] = {}
    for gain in gains:
        by_thing.setdefault(gain.thing, []).append(gain)
    found = [Advice(thing, tuple(g)) for thing, g in by_thing.items()]
    found = [a for a in found if a.weeks or a.lines > 0 or (a.lines == 0 and a.effort > 0)]
    found.sort(key=_worth, reverse=True)
    return tuple(replace(a, tied=n + 1 < len(found) and _worth(a) == _worth(found[n + 1])) for n, a in enumerate(found))


def _worth(advice: Advice) -> tuple[int, int, float]:
    return advice.weeks, advice.lines, advice.effort


def _gains(
    library: Library, house: House, monday: date, shop: Sequence[Thing], site: str,
    runner: Runner, own: Own, last: FittedWeek | None, capacity: Capacity | None,
) -> tuple[Gain, ...]:  # fmt: skip
    def fit(more: tuple[KitItem, ...]) -> Outcome:
        richer = with_pieces(runner, more, site)
        return fit_runner(
            own.programme, richer, library, house, monday, last, own.pinned, capacity=capacity, bounds=own.bounds
        )

    now = fit(())
    here = next(s.kit for s in sites_of(runner) if not site or s.name.lower() == site.lower())
    out = []
    for thing in shop:
        if owns(here, thing):
            continue
        then = fit(thing.kit)
        if not isinstance(then, FittedWeek):
            continue
        gain = _gain(runner, thing, now, then)
        if gain.better or gain.worse or gain.effort >= 0.05 or gain.possible:
            out.append(gain)
    return tuple(out)


def owns(kit: Sequence[KitItem], thing: Thing) -> bool:
    """Is everything of `thing` in the kit already, as many of it?"""

    def count(item: KitItem) -> int:
        return sum(k.count for k in kit if replace(k, count=1) == replace(item, count=1))

    return all(count(item) >= item.count for item in thing.kit)


def _gain(runner: Runner, thing: Thing, now: Outcome, then: FittedWeek) -> Gain:
    possible = not isinstance(now, FittedWeek)
    before, after = lines_of(now), lines_of(then)
    better = tuple(_changes(before, after))
    worse = () if possible else tuple(_changes(after, before, back=True))
    effort = 0.0 if possible else effort_of(now) - effort_of(then)
    return Gain(runner.id, runner.name, thing.name, better, worse, round(effort, 2), possible)


def _changes(
    before: Mapping[Line, FittedItem], after: Mapping[Line, FittedItem], *, back: bool = False
) -> Iterator[LineGain]:
    """Lines of `after` that are better than in `before`; `back` when before is the later of the two."""
    for line, item in after.items():
        old = before.get(line)
        how = how_better(old, item)
        if how:
            was, now = ("left out" if old is None else done(old)), done(item)
            yield LineGain(*line, item.written, *((now, was) if back else (was, now)), how)


def how_better(old: FittedItem | None, new: FittedItem) -> str:
    """`done`, `as written` or `right` where `new` is better than `old`; empty where it is not."""
    if old is None:
        return "done"
    if old.departs and not new.departs:
        return "as written"
    right = new.prediction is not None and new.prediction.verdict == "right"
    was_right = old.prediction is None or old.prediction.verdict == "right"
    return "right" if right and not was_right and new.departs <= old.departs else ""


def done(item: FittedItem) -> str:
    """What is done: the exercise, and what is carried."""
    if item.load is None:
        return item.name
    return f"{item.name}, {f'{item.load.kg:g} kg' if item.load.band is None else f'{item.load.band} band'}"


def lines_of(outcome: Outcome | None) -> dict[Line, FittedItem]:
    """The lines of a week, each once however often its session is done."""
    if not isinstance(outcome, FittedWeek):
        return {}
    return {
        (s.key.split(" (")[0], i.item_key): i
        for s in reversed(outcome.sessions) for b in s.blocks for i in b.items
    }  # fmt: skip


def effort_of(outcome: Outcome) -> float:
    """The printed price of effort of a week, reps."""
    prices = outcome.prices if isinstance(outcome, FittedWeek) else ()
    return next((p.value for p in prices if p.level == "effort"), 0.0)
