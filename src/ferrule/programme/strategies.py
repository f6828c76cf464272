"""Strategies for programmes, as values and as text. `hypothesis` is needed only where this is imported: in tests."""

from __future__ import annotations

import dataclasses
from typing import Any, get_args

from hypothesis import strategies as st

from ferrule.model.finding import Span
from ferrule.model.programme import (
    Allow,
    Block,
    BlockKind,
    Cycle,
    Dose,
    FrontEntry,
    Item,
    Named,
    Programme,
    Session,
    Slot,
    WeekCell,
    WeekRow,
    WeekTable,
)
from ferrule.model.quantity import Load, Percent, Range, Tempo
from ferrule.model.words import BANDS, PATTERNS, PLACES
from ferrule.programme.sample_library import SAMPLE
from ferrule.programme.strategies_forms import block_more, conditions, cycle_more, forms, session_more
from ferrule.programme.strategies_texts import texts as texts
from ferrule.programme.text import inherited, marked

NOWHERE = Span("p.md", 1)


def without_spans(value: Any) -> Any:
    """The value with every span set to the same one."""
    if isinstance(value, Span):
        return NOWHERE
    if isinstance(value, tuple):
        return tuple(without_spans(v) for v in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return dataclasses.replace(
            value, **{f.name: without_spans(getattr(value, f.name)) for f in dataclasses.fields(value)}
        )
    return value


def ranges(low: int, high: int, step: int = 1) -> st.SearchStrategy[Range]:
    numbers = st.integers(low, high).map(lambda n: float(n * step))
    return st.one_of(numbers.map(Range.of), st.tuples(numbers, numbers).map(lambda p: Range(min(p), max(p))))


PROSE = st.sampled_from(
    [
        "Push through the whole foot",
        "no bounce; soft knees",
        "stop when the form goes",
        "easy does it",
        "both feet, 18:30 sharp",
        "mind the R07",
    ]
)
SIDES = st.sampled_from([None, None, "each", "alternating", "total"])
TEMPO_PART = st.one_of(st.integers(0, 6).map(float), st.just("x"))


@st.composite
def amounts(draw: st.DrawFn) -> dict[str, Any]:
    kind = draw(
        st.sampled_from(
            [
                "none",
                "reps",
                "reps",
                "reps",
                "hold",
                "work",
                "distance",
                "contacts",
                "per_set",
                "cluster",
                "sides",
                "max",
                "pieces",
            ]
        )
    )
    sides = draw(SIDES)
    if kind == "reps":
        return {
            "reps": draw(ranges(1, 30)),
            "sides": sides,
            "reps_open": draw(st.sampled_from([None, None, "at least", "up to"])),
        }
    if kind == "pieces":
        return {"reps": draw(ranges(2, 10)), "distance_m": draw(ranges(5, 100)), "sides": sides}
    if kind == "hold":
        return {"hold_s": draw(ranges(5, 200)), "sides": sides}
    if kind == "work":
        return {"work_s": draw(ranges(1, 12, 10)), "sides": sides}
    if kind == "distance":
        return {"distance_m": draw(ranges(5, 100)), "sides": sides}
    if kind == "contacts":
        return {"contacts": draw(ranges(5, 200)), "sides": sides}
    if kind == "per_set":
        return {"per_set": tuple(draw(st.lists(st.integers(1, 30), min_size=2, max_size=5))), "sides": sides}
    if kind == "cluster":
        return {"cluster": tuple(draw(st.lists(st.integers(1, 8), min_size=2, max_size=4))), "sides": sides}
    if kind == "sides":
        return {"left": draw(st.integers(0, 20)), "right": draw(st.integers(0, 20))}
    return {"reps_open": "max", "sides": sides} if kind == "max" else {}


@st.composite
def loads(draw: st.DrawFn) -> Load:
    kind = draw(st.sampled_from(["none", "kg", "kg", "band"]))
    place = draw(st.sampled_from([None, None, *PLACES]))
    if kind == "none":
        return Load(none=True)
    if kind == "kg":
        return Load(
            kg=draw(st.one_of(ranges(1, 60), st.just(Range(2.5, 7.5)))), each_hand=draw(st.booleans()), place=place
        )
    return Load(band=draw(st.sampled_from(BANDS)), place=place)


@st.composite
def doses(draw: st.DrawFn, *, sets: bool = False) -> Dose:
    fields: dict[str, Any] = draw(amounts())
    if sets and "per_set" not in fields:
        fields["sets"] = draw(st.none() | ranges(1, 6))
    fields["load"] = draw(st.none() | st.none() | loads())
    fields["rir"] = draw(st.none() | ranges(0, 5))
    if fields["rir"] is not None:
        fields["effort_word"] = draw(st.sampled_from(["RIR", "RPE"]))
    if "reps" in fields:
        fields["pause_s"] = draw(st.none() | ranges(1, 6))
    fields["tempo"] = draw(st.none() | st.builds(Tempo, TEMPO_PART, TEMPO_PART, TEMPO_PART, st.none() | TEMPO_PART))
    fields["rest_s"] = draw(st.none() | ranges(0, 12, 15))
    fields["side_rest_s"] = draw(st.none() | ranges(0, 6, 5))
    fields["rm"] = draw(st.none() | st.none() | ranges(1, 20))
    fields["percent"] = draw(
        st.none()
        | st.none()
        | st.builds(Percent, ranges(10, 100), st.sampled_from(["1RM", "body mass", "best hold"]), st.booleans())
    )
    fields["drop"] = draw(st.none() | st.none() | st.integers(1, 20))
    free = draw(st.sampled_from([(), (), (), ("as high as possible",), ("all-out", "lowering only")]))
    if "reps" in fields or fields.get("per_set") or fields.get("hold_s"):
        fields["to_failure"] = draw(st.integers(0, 7)) == 0
    if fields.get("reps_open") == "max":
        fields["work_s"] = draw(st.none() | ranges(1, 12, 10))
    if fields["tempo"] is None and draw(st.integers(0, 5)) == 0:
        fields["down_s"] = draw(ranges(1, 8))
    fields |= draw(forms())
    if fields["rir"] is not None and fields["effort_word"] == "RIR" and draw(st.integers(0, 5)) == 0:
        low, high = 10 - fields["rir"].high, 10 - fields["rir"].low
        fields["rpe"] = Range(low, high + 0.5) if high < 10 else Range(low - 0.5, high)
    return marked(Dose(**fields), free)


NAMED = st.sampled_from([Named(v.name, v.id) for v in SAMPLE.variants.values()])
SLOTS = st.builds(Slot, st.sampled_from(PATTERNS), st.sampled_from([None, 1, 2]))
UNKNOWN = st.sampled_from([Named("Fence step", None), Named("Zercher thing", None)])
EXERCISES: st.SearchStrategy[Named | Slot] = st.one_of(NAMED, NAMED, NAMED, SLOTS, UNKNOWN)
CONDITIONS = conditions()


def few(strategy: st.SearchStrategy[Any], most: int = 2) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(strategy, max_size=most, unique=True).map(tuple)


@st.composite
def items(draw: st.DrawFn, *, sets: bool) -> Item:
    exercise = draw(EXERCISES)
    dose = draw(doses(sets=sets))
    alternatives = []
    for other in draw(st.lists(NAMED, max_size=2)):
        own = draw(doses())
        alternatives.append(Item("", other, inherited(own, dose), NOWHERE, notes=draw(few(PROSE, 1))))
    return Item(
        "",
        exercise,
        dose,
        NOWHERE,
        tuple(alternatives),
        draw(st.booleans()) and bool(alternatives),
        draw(st.booleans()),
        draw(few(PROSE)),
        draw(few(PROSE, 1)),
        draw(few(CONDITIONS, 1)),
        weeks=draw(st.sampled_from([None, None, (2, None), (1, 3)])),
    )


@st.composite
def blocks(draw: st.DrawFn, label: str, weeks: tuple[int, int]) -> Block:
    kind: BlockKind = draw(st.sampled_from(get_args(BlockKind)))
    sets = draw(st.none() | ranges(1, 6))
    made = draw(
        st.lists(
            items(sets=kind == "straight" and sets is None), min_size=1, max_size=3, unique_by=lambda i: i.exercise
        )
    )
    letter = {"warm-up": "W", "cool-down": "Z"}.get(kind, label)
    single = kind == "straight" and len(made) == 1
    keyed = []
    for place, item in enumerate(made):
        key = letter if single else f"{letter}{place + 1}"
        others = tuple(dataclasses.replace(a, key=f"{key}{chr(98 + k)}") for k, a in enumerate(item.alternatives))
        keyed.append(dataclasses.replace(item, key=key, alternatives=others))
    table = None
    if draw(st.booleans()):
        columns = tuple(range(weeks[0], weeks[1] + 1))
        word = "sets" if kind == "straight" else "rounds"
        cells: list[WeekCell | None] = []
        for _ in columns:
            n: int | None = draw(st.none() | st.integers(0, 6))
            if n is None:
                cells.append(None)
            elif n == 0:
                cells.append(WeekCell("-", NOWHERE, leaves_out=True))
            else:
                cells.append(WeekCell(str(n), NOWHERE, sets=Range.of(n)))
        rest: list[WeekCell | None] = [WeekCell("2 min", NOWHERE, rest_s=Range.of(120)), *[None] * (len(columns) - 1)]
        every: list[WeekCell | None] = [
            WeekCell("6", NOWHERE, dose=Dose(reps=Range.of(6))),
            *[None] * (len(columns) - 1),
        ]
        rows = [(word, None, cells), ("rest", None, rest), ("reps", "*", every)]
        table = WeekTable(columns, tuple(WeekRow(w, k, tuple(c), NOWHERE) for w, k, c in rows), NOWHERE)
    return Block(
        kind,
        "" if kind in ("warm-up", "cool-down") else label,
        sets,
        draw(st.none() | ranges(0, 12, 15)),
        draw(st.none() | ranges(0, 12, 5)),
        tuple(keyed),
        NOWHERE,
        table,
        draw(few(PROSE)),
        draw(few(PROSE, 1)),
        draw(few(CONDITIONS, 1)),
        **draw(block_more(kind)),
    )


@st.composite
def programmes(draw: st.DrawFn) -> Programme:
    """A programme as a value; every span is the same."""
    cycles = []
    first = 1
    for number in range(1, draw(st.integers(1, 3)) + 1):
        last = first + draw(st.integers(0, 3))
        sessions = []
        for place in range(1, draw(st.integers(1, 2)) + 1):
            made: list[Block] = []
            more = draw(session_more((first, last)))
            minutes, day = draw(st.none() | st.integers(5, 60)), draw(st.none() | st.integers(1, 7))
            if minutes is not None and minutes > 10 and draw(st.integers(0, 3)) == 0:
                more["minutes_from"] = minutes - 5
            for letter in "ABC"[: draw(st.integers(1, 3))]:
                block = draw(blocks(letter, (first, last)))
                if block.kind not in ("warm-up", "cool-down") or all(b.kind != block.kind for b in made):
                    made.append(block)
            sessions.append(
                Session(
                    f"{place} {more['level']}" if "level" in more else str(place),
                    draw(st.sampled_from(["", "calf and hip", "legs, then trunk"])),
                    minutes,
                    tuple(made),
                    NOWHERE,
                    None if "days" in more else day,
                    draw(few(PROSE)),
                    draw(few(PROSE, 1)),
                    draw(few(CONDITIONS, 1)),
                    **more,
                )
            )
        cycles.append(
            Cycle(
                str(number),
                draw(st.sampled_from(["", "Foundations", "Build, then hold"])),
                first,
                last,
                tuple(sessions),
                NOWHERE,
                draw(st.sampled_from(["", "own the positions."])),
                draw(few(PROSE)),
                draw(few(PROSE, 1)),
                draw(few(CONDITIONS, 1)),
                **draw(cycle_more(last)),
            )
        )
        first = last + 1
    front = (
        FrontEntry("programme", "Fell-ready: part 1", NOWHERE),
        FrontEntry("start", "18:30", NOWHERE),
        FrontEntry("public", "no", NOWHERE),
    )
    allows = draw(few(st.just(Allow("minutes", "the hall closes late", NOWHERE)), 1))
    return Programme(
        "p.md",
        "Fell-ready: part 1",
        first - 1,
        None,
        (),
        front,
        tuple(cycles),
        draw(few(PROSE)),
        draw(few(PROSE, 1)),
        allows,
        draw(few(CONDITIONS, 1)),
    )
