"""One entry of a phone file -> its fact. Keys and values are those of docs/log.md."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import get_args

from ferrule.library.bands import beyond_thin_kg
from ferrule.model.entry import AwayKind, LoggedSet, LoggedTest, Outcome, Reserve, Stopped, TimeAway
from ferrule.model.fact import Asked, Fact, PainTold, RedFlag, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.squad import RunKind, TestKind
from ferrule.model.words import BANDS, PLACES, REGIONS, Side
from ferrule.record.fields import Fields, Unread
from ferrule.record.sent import asked_of, line_of, load_of, unit_of
from ferrule.squad.place import monday_of

SIDES: tuple[str, ...] = get_args(Side)
FLAGS: tuple[RedFlag, ...] = get_args(RedFlag)
MOST_REPS, MOST_S, MOST_KG = 1000, 7200, 500
MOST_SETS = 60
FOUR_OR_MORE = 4
WHY = ("time", "ill", "pain", "away", "kit", "other")


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of an entry beside its own keys."""

    entry_id: str
    runner_id: str
    recorded_at: datetime
    day: date
    copy_id: str
    week: FittedWeek | None


def fact_of(kind: str, fields: Fields, told: Told) -> Fact:
    """The fact of an entry. Raises Unread when what makes it one is missing."""
    read = _KINDS.get(kind)
    if read is None:
        known = ", ".join(f"`{k}`" for k in _KINDS)
        raise Unread(f"`kind` is {kind or 'not there'!r}; it should be one of {known}")
    return read(fields, told)


def _set(f: Fields, told: Told) -> LoggedSet:
    number, outcome = f.whole("n", 1, MOST_SETS), f.choice("outcome", get_args(Outcome))
    if number is None or outcome is None:
        raise Unread("a set needs its number `n` and its `outcome`")
    base = LoggedSet(
        told.entry_id, told.runner_id, told.day, f.text("session"), f.text("item"), f.text("variant"), number, outcome,
        side=f.choice("side", SIDES) or "both", at=f.clock("time"), copy_id=told.copy_id, recorded_at=told.recorded_at,
        effort_asked=f.yes("effort_asked") or False, stopped=f.choice("stopped", get_args(Stopped)), reserve=_reserve(f),
    )  # fmt: skip
    base = _of_line(f, base, told.week)
    if not base.variant_id:
        raise Unread("it names no exercise, and its line is not in the sent copy")
    return _counted(f, base)


def _of_line(f: Fields, base: LoggedSet, week: FittedWeek | None) -> LoggedSet:
    """The set with what its line says wherever the entry says nothing else."""
    line = None if week is None else line_of(week, base.session_key, base.item_key)
    unit, asked = f.choice("unit", ("reps", "s")), f.number("asked", 0, MOST_S)
    variant_id, load = base.variant_id, None
    if line is not None:
        variant_id = variant_id or line.item.variant_id
        load = load_of(line.item, variant_id)
        unit = unit or unit_of(line.item)
        if asked is None and variant_id == line.item.variant_id:
            asked = asked_of(line.item, base.number, base.side)
        base = replace(base, session_key=line.session.key)
    kg, place, band = f.number("load_kg", 0, MOST_KG), f.choice("place", PLACES), f.choice("band", BANDS)
    base = replace(base, variant_id=variant_id, unit=unit or "reps", asked=asked)
    if band is not None:
        return replace(base, load_kg=beyond_thin_kg(band), place="band", band=band)
    if kg is not None:
        same = load.place if load is not None and load.band is None else None
        return replace(base, load_kg=kg, place=(place or same) if kg else None)
    if load is not None:
        return replace(base, load_kg=load.kg, place=place or load.place, band=load.band)
    return base


def _counted(f: Fields, base: LoggedSet) -> LoggedSet:
    """The set with its count; an outcome that does not go with the count is named and mended downwards."""
    done = f.number("done", 0, MOST_S if base.unit == "s" else MOST_REPS)
    outcome = base.outcome
    if done is not None and outcome in ("tapped", "not said"):
        f.wrong("outcome", outcome, "`counted` or `failed` beside a `done`; it was read as `counted`")
        outcome = "counted"
    if done is None and outcome == "counted":
        f.wrong("done", f.raw.get("done"), "there when counted; the set was read as `not said`")
        outcome = "not said"
    return replace(base, outcome=outcome, done=done, effort_asked=base.effort_asked or base.reserve is not None)


def _reserve(f: Fields) -> Reserve | None:
    if isinstance(f.raw.get("reserve"), list):
        value = f.raw["reserve"]
        f.used.add("reserve")
        if len(value) == 2 and _left(value[0]) and (value[1] is None or (_left(value[1]) and value[0] <= value[1])):
            return Reserve(value[0], value[1])
        f.wrong("reserve", value, "two whole numbers, the smaller first")
        return None
    found = f.whole("reserve", 0, 30)
    if found is None:
        return None
    return Reserve(FOUR_OR_MORE, None) if found >= FOUR_OR_MORE else Reserve(found, found)


def _left(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 30


def _session(f: Fields, told: Told) -> SessionTold:
    outcome = f.choice("outcome", ("did", "part", "none"))
    if outcome is None:
        raise Unread("a session needs its `outcome`")
    return SessionTold(
        told.day, f.text("session"), outcome, f.clock("time"), f.whole("rating", 0, 10), f.number("minutes", 0, 600),
        f.choice("why", WHY) or "", f.text("words"), told.copy_id,
    )  # fmt: skip


def _week(f: Fields, told: Told) -> WeekTold:
    did = f.choice("did", ("all", "some", "none"))
    if did is None:
        raise Unread("the answer for a week needs `did`")
    monday = f.day("monday") or (told.week.monday if told.week is not None else told.day)
    felt = f.choice("felt", ("too easy", "right", "too hard"))
    return WeekTold(monday_of(monday), did, felt, f.yes("pain"), f.text("words"), told.copy_id)


def _pain(f: Fields, told: Told) -> PainTold:
    flags, more = _flags(f)
    words = "; ".join(w for w in (f.text("words"), *more) if w)
    item, session, variant = f.text("item"), f.text("session"), f.text("variant")
    line = line_of(told.week, session, item) if told.week is not None and item else None
    pain = PainTold(
        told.day, f.choice("region", REGIONS), f.choice("side", SIDES) or "both", f.whole("worst", 0, 10),
        f.whole("morning", 0, 10), session, item, variant or (line.item.variant_id if line is not None else ""), flags, words,
    )  # fmt: skip
    if pain.region is None and pain.worst is None and pain.morning is None and not flags and not words:
        raise Unread("it tells no region, no number, no flag and no words")
    return pain


def _flags(f: Fields) -> tuple[tuple[RedFlag, ...], list[str]]:
    """Flags of the list; another one is kept in the runner's words, so that none is lost."""
    f.used.add("flags")
    value = f.raw.get("flags") or []
    told = value if isinstance(value, list) else [value]
    flags: list[RedFlag] = []
    more: list[str] = []
    for one in told:
        known = next((flag for flag in FLAGS if flag == str(one).strip().lower()), None)
        if known is not None:
            flags.append(known)
        else:
            f.wrong("flags", one, "one of " + ", ".join(f"`{flag}`" for flag in FLAGS) + "; it was kept in the words")
            more.append(f"flag told: {str(one)[:200]}")
    return tuple(dict.fromkeys(flags)), more


def _ask(f: Fields, told: Told) -> Asked:
    return Asked(told.day, f.text("words"), f.text("answers"))


def _away(f: Fields, told: Told) -> TimeAway:
    first, last = f.day("first"), f.day("last")
    if first is None or last is None:
        raise Unread("time away needs `first` and `last`")
    if last < first:
        f.wrong("last", last, f"not before {first}; the two were turned")
        first, last = last, first
    kit = f.text("kit") if f.has("kit") else None
    f.used.add("kit")
    return TimeAway(told.runner_id, first, last, f.choice("away", get_args(AwayKind)) or "other", kit)


def _test(f: Fields, told: Told) -> LoggedTest:
    kind, value = f.choice("test", get_args(TestKind)), f.number("value", 0, MOST_REPS)
    if kind is None or value is None:
        raise Unread("a home test needs `test` and `value`")
    return LoggedTest(told.entry_id, told.runner_id, told.day, kind, value, f.choice("side", SIDES) or "both")


def _run(f: Fields, told: Told) -> RunTold:
    distance = f.number("distance_km", 0, 500)
    if distance is None:
        raise Unread("a run needs `distance_km`")
    return RunTold(
        told.day, distance, f.number("minutes", 0, 6000), f.number("climb_m", 0, 30_000), f.clock("time"),
        f.choice("run", get_args(RunKind)) or "", f.whole("rating", 0, 10),
    )  # fmt: skip


def _back(f: Fields, _told: Told) -> TakenBack:
    if not f.has("replaces"):
        raise Unread("it takes something back and does not name what in `replaces`")
    return TakenBack(f.text("why"))


_KINDS: dict[str, Callable[[Fields, Told], Fact]] = {
    "set": _set, "session": _session, "week": _week, "pain": _pain, "ask": _ask, "away": _away, "test": _test, "run": _run,
    "back": _back,
}  # fmt: skip
