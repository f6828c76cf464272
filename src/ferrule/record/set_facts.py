"""Sets as typed or tabled -> LoggedSet, held against the line of the sent week where there is one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Literal

from ferrule.library.bands import beyond_thin_kg
from ferrule.model.entry import LoggedSet, Outcome, Reserve, Stopped
from ferrule.model.exercise import Variant
from ferrule.model.fact import PainTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.quantity import Load
from ferrule.model.words import Band, Place, Side
from ferrule.programme.amounts import Slip
from ferrule.record.sent import SentLine, asked_of, lines_of, load_of, unit_of
from ferrule.record.set_words import LineTold, PainWords, SetTold

_Load = tuple[float, Place | None, Band | None]
_NO_LOAD: _Load = (0.0, None, None)


@dataclass(frozen=True, slots=True)
class Where:
    """Whose sets, of which day, and of which line. session_key, item_key: "" when no sent line is meant."""

    runner_id: str
    day: date
    variant: Variant
    line: SentLine | None = None
    copy_id: str = ""
    at: time | None = None

    @property
    def session_key(self) -> str:
        return "" if self.line is None else self.line.session.key

    @property
    def item_key(self) -> str:
        return "" if self.line is None else self.line.item.item_key


def sets_told(told: LineTold, where: Where) -> tuple[tuple[LoggedSet, ...], list[Slip]]:
    """The sets of a line and what is odd in them. `as written` is a bare tap on each set, or a count where effort is told."""
    slips: list[Slip] = []
    if told.sets:
        return tuple(_set(one, where, slips) for one in told.sets), slips
    if told.as_written:
        return _as_written(told, where, slips), slips
    if told.skipped is not None:
        return (_plain(where, 1, "counted", 0.0, stopped=told.skipped),), slips
    return (), slips


def pain_told(pain: PainWords, where: Where) -> PainTold:
    """Pain told with a line."""
    return PainTold(
        where.day, pain.region, pain.side, pain.worst, pain.morning, where.session_key, where.item_key, where.variant.id
    )


def line_for(
    week: FittedWeek, variant_id: str, day: date, session_key: str, taken: frozenset[tuple[str, str]]
) -> SentLine | None:
    """The line a typed name means: of the session named, else of that day, else of the session nearest to that day.

    A line whose exercise was changed is found by the exercise given and by a printed way out of it. `taken` are
    (session, item) keys that earlier lines of the same telling were read as.
    """
    found = [
        x for x in lines_of(week)
        if variant_id in _ways(x) and (not session_key or x.session.key == session_key)
        and (x.session.key, x.item.item_key) not in taken
    ]  # fmt: skip
    return min(found, key=lambda x: _near(x, variant_id, day)) if found else None


def _ways(line: SentLine) -> tuple[str, ...]:
    ways = (line.item.too_hard, line.item.too_easy)
    return (line.item.variant_id, *(way.variant_id for way in ways if way is not None))


def _near(line: SentLine, variant_id: str, day: date) -> tuple[int, bool]:
    return abs((line.session.day - day).days), line.item.variant_id != variant_id


def _set(one: SetTold, where: Where, slips: list[Slip]) -> LoggedSet:
    unit, done = one.unit, one.done
    load = _load_told(one.load, where, slips)
    holds = where.variant.dose_kind == "hold"
    if holds and unit == "reps" and one.done is not None:
        unit = "s"
        slips.append(
            Slip("log-unit", "advice", 0, 0, f"{where.variant.name} is held; {one.done:g} was read as seconds.",
                 "A number without a unit counts repetitions.", f"Write `{one.done:g} s`.")
        )  # fmt: skip
    elif unit == "s" and where.variant.dose_kind == "reps":
        slips.append(
            Slip("log-unit", "advice", 0, 0, f"{where.variant.name} is counted in repetitions, and seconds were told.",
                 "The set is kept, and says nothing about strength.", "Write how many were done.")
        )  # fmt: skip
    if one.total and done is not None and where.variant.sided:
        done = float(done // 2)
        slips.append(
            Slip("log-total", "note", 0, 0, f"{one.done:g} in all were read as {done:g} on each side.",
                 "Sets are kept for each side.", f"Write `{done:g}/side`.")
        )  # fmt: skip
    return _made(
        where, one.number, one.outcome, done, load, side=one.side, stopped=one.stopped, unit=unit, reserve=one.reserve,
        effort_asked=one.effort_asked,
    )  # fmt: skip


def _as_written(told: LineTold, where: Where, slips: list[Slip]) -> tuple[LoggedSet, ...]:
    if where.line is None:
        slips.append(
            Slip("log-as-written", "error", 0, 0, "It was done as written, and no sent week says what was written.",
                 "Nothing was taken.", "Write the sets: `8, 8, 7`.")
        )  # fmt: skip
        return ()
    many, effort = max(1, where.line.rounds), told.effort_asked
    out = []
    for n in range(1, many + 1):
        one = _plain(where, n, "tapped", None)
        if n == many and effort:
            counted = one.asked is not None and told.reserve is not None
            one = replace(
                one, outcome="counted" if counted else "tapped", done=one.asked if counted else None,
                reserve=told.reserve, effort_asked=True,
            )  # fmt: skip
        out.append(one)
    return tuple(out)


def _plain(
    where: Where, number: int, outcome: Outcome, done: float | None, *, stopped: Stopped | None = None
) -> LoggedSet:
    """A set with the load that was sent, and no effort told."""
    return _made(where, number, outcome, done, _load_told(None, where, []), stopped=stopped)


def _made(
    where: Where, number: int, outcome: Outcome, done: float | None, load: _Load, *, side: Side = "both",
    stopped: Stopped | None = None, unit: Literal["reps", "s"] | None = None, reserve: Reserve | None = None,
    effort_asked: bool = False,
) -> LoggedSet:  # fmt: skip
    line, variant = where.line, where.variant
    same = line is not None and line.item.variant_id == variant.id
    of_line: Literal["reps", "s"] = (
        unit_of(line.item) if line is not None and same else ("s" if variant.dose_kind == "hold" else "reps")
    )
    load_kg, place, band = load
    return LoggedSet(
        "", where.runner_id, where.day, where.session_key, where.item_key, variant.id, number, outcome,
        unit=of_line if unit is None else unit,
        asked=asked_of(line.item, number, side) if line is not None and same else None,
        done=done, reserve=reserve, effort_asked=effort_asked, side=side, load_kg=load_kg, place=place, band=band,
        stopped=stopped, at=where.at, copy_id=where.copy_id,
    )  # fmt: skip


def _load_told(load: Load | None, where: Where, slips: list[Slip]) -> _Load:
    """kg, place and band of the load told, or of the one sent when none was told."""
    sent = load_of(where.line.item, where.variant.id) if where.line is not None else None
    if load is None:
        return _NO_LOAD if sent is None else (sent.kg, sent.place, sent.band)
    if load.band is not None:
        return beyond_thin_kg(load.band), "band", load.band
    total = load.total_kg
    if load.none or total is None or not total.low:
        return _NO_LOAD
    places = tuple(p for p in where.variant.loading if p != "band")
    sent_place = sent.place if sent is not None and sent.band is None else None
    if not places:
        slip = Slip("log-load", "advice", 0, 0, f"{where.variant.name} takes no load, and {total} kg was told.",
                    "It is kept as told.", "See whether another exercise was meant.")  # fmt: skip
        if slip not in slips:
            slips.append(slip)
    return total.low, load.place or sent_place or next(iter(places), None), None


def lines_missing(week: FittedWeek, session_key: str, told: Iterator[tuple[str, str]]) -> tuple[SentLine, ...]:
    """The lines of a session that nothing was told of."""
    done = set(told)
    return tuple(
        x for x in lines_of(week) if x.session.key == session_key and (x.session.key, x.item.item_key) not in done
    )
