"""Whole cycles: weeks fitted one after another, each from the one before, and what goes on or changes between them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

from ferrule.fit.growth import base_key
from ferrule.fit.squad import fit_squad
from ferrule.model.exercise import Library
from ferrule.model.fitted import FittedItem, FittedWeek, SquadWeek
from ferrule.model.house import House
from ferrule.model.programme import LIGHT, Programme
from ferrule.model.squad import Capacity, Squad
from ferrule.squad.place import monday_of

MOST_WEEKS = 52

WeekProgress = Callable[[int, int, str], None]
"""Called with (runner weeks done, runner weeks in all, name)."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One line in one week. load: in words, empty without;  kept: the exercise is that of the week before in this cycle.

    departs  something differs from the text
    """

    variant_id: str
    name: str
    load: str
    kept: bool
    reasons: tuple[str, ...] = ()
    departs: bool = False


@dataclass(frozen=True, slots=True)
class CycleLine:
    """One written line over the weeks of one cycle: a cell a week, None where it is not done."""

    session_key: str
    item_key: str
    written: str
    cells: tuple[Cell | None, ...]

    @property
    def changes(self) -> int:
        """How often its exercise changed from one week it was done to the next."""
        done = [c for c in self.cells if c is not None]
        return sum(not c.kept for c in done[1:])


@dataclass(frozen=True, slots=True)
class RunnerCycle:
    """The weeks of one cycle as one runner does them, without the warm-up.

    weeks      programme weeks, in order;  mondays: their first days
    gone, new  what the change-over from the cycle before takes away and brings
    """

    runner_id: str
    runner_name: str
    cycle_name: str
    weeks: tuple[int, ...]
    mondays: tuple[date, ...]
    lines: tuple[CycleLine, ...]
    gone: tuple[str, ...] = ()
    new: tuple[str, ...] = ()


def fit_cycle(
    programme: Programme, squad: Squad, library: Library, house: House, monday: date, weeks: int, *,
    last: Mapping[str, FittedWeek] | None = None, beliefs: Mapping[str, Capacity] | None = None,
    workers: int = 1, progress: WeekProgress | None = None,
) -> tuple[SquadWeek, ...]:  # fmt: skip
    """`weeks` calendar weeks from that of `monday`, each fitted as if the one before had been sent.

    last, beliefs  as for `fit_squad`; what is believed is the same in every week, for nothing is logged yet

    A runner without a week (away, held, impossible) begins again from the text. One week takes as long as `fit_squad`.
    Raises ValueError for no weeks or more than 52.
    """
    if not 1 <= weeks <= MOST_WEEKS:
        raise ValueError(f"from 1 to {MOST_WEEKS} weeks, not {weeks}")
    monday = monday_of(monday)
    before = dict(last or {})
    out = []
    for n in range(weeks):
        told = None if progress is None else partial(_told, progress, n, weeks)
        week = fit_squad(
            programme, squad, library, house, monday + timedelta(weeks=n),
            last=before, beliefs=beliefs, workers=workers, progress=told,
        )  # fmt: skip
        out.append(week)
        before = {o.runner_id: o for o in week.outcomes if isinstance(o, FittedWeek)}
    return tuple(out)


def _told(progress: WeekProgress, week: int, weeks: int, done: int, of: int, name: str) -> None:
    progress(week * of + done, weeks * of, name)


def cycles_of(weeks: tuple[SquadWeek, ...], runner_id: str) -> tuple[RunnerCycle, ...]:
    """The fitted weeks of one runner, a value for each cycle in order; `gone` and `new` say the change-over before it.

    gone, new   exercises outside the warm-up of the week before that are not in the first week of this cycle, and the
                other way round
    """
    mine = [o for w in weeks for o in w.outcomes if isinstance(o, FittedWeek) and o.runner_id == runner_id]
    out: list[RunnerCycle] = []
    start = 0
    for n in range(1, len(mine) + 1):
        if n == len(mine) or mine[n].cycle_name != mine[start].cycle_name:
            out.append(_cycle(mine[start:n], mine[start - 1] if start else None))
            start = n
    return tuple(out)


def _cycle(weeks: list[FittedWeek], before: FittedWeek | None) -> RunnerCycle:
    keys: dict[tuple[str, str], str] = {}
    for w in weeks:
        for s in w.sessions:
            for i in (i for b in s.blocks if b.kind not in LIGHT for i in b.items):
                keys.setdefault((base_key(s.key), i.item_key), i.written)
    lines = tuple(CycleLine(*key, written, _cells(key, weeks)) for key, written in keys.items())
    first = weeks[0]
    mine, its = _names(first), {} if before is None else _names(before)
    return RunnerCycle(
        first.runner_id, first.runner_name, first.cycle_name, tuple(w.programme_week for w in weeks),
        tuple(w.monday for w in weeks), lines,
        tuple(name for v, name in its.items() if v not in mine),
        tuple(name for v, name in mine.items() if v not in its) if before is not None else (),
    )  # fmt: skip


def _cells(key: tuple[str, str], weeks: list[FittedWeek]) -> tuple[Cell | None, ...]:
    out: list[Cell | None] = []
    known: str | None = None
    for w in weeks:
        item = next(
            (
                i
                for s in w.sessions
                if base_key(s.key) == key[0]
                for b in s.blocks
                for i in b.items
                if i.item_key == key[1]
            ),
            None,
        )
        if item is None:
            out.append(None)
            continue
        out.append(
            Cell(
                item.variant_id,
                item.name,
                load_text(item),
                item.variant_id == known,
                tuple(r.text for r in item.reasons),
                item.departs,
            )
        )
        known = item.variant_id
    return tuple(out)


def load_text(item: FittedItem) -> str:
    """`8 kg`, or `thin band`; empty without a load."""
    if item.load is None:
        return ""
    return f"{item.load.band} band" if item.load.band is not None else f"{item.load.kg:g} kg"


def _names(week: FittedWeek) -> dict[str, str]:
    return {i.variant_id: i.name for s in week.sessions for b in s.blocks if b.kind not in LIGHT for i in b.items}
