"""A small fitted week, and entries of every kind, for the tests and the bench of the record."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from ferrule.model.entry import LoggedSet, LoggedTest, Reserve, TimeAway
from ferrule.model.fact import Asked, Decided, Entry, Fact, PainTold, RunTold, SessionTold, TakenBack, WeekTold
from ferrule.model.fitted import (
    FittedBlock,
    FittedItem,
    FittedSession,
    FittedWeek,
    LevelPrice,
    LoadChoice,
    Prediction,
    Reason,
    Recourse,
)
from ferrule.model.quantity import Range, Tempo
from ferrule.record.uuid7 import milliseconds, uuid7

MONDAY = date(2026, 1, 19)
MOMENT = datetime(2026, 1, 24, 8, 0, 0, 250_000, tzinfo=UTC)


def sample_week(runner_id: str = "R01", *, monday: date = MONDAY, reps: int = 7, lines: int = 2) -> FittedWeek:
    """A week of one session with `lines` lines of `reps` repetitions; every kind of value is in it."""
    load = LoadChoice(12.0, "chest", ("12 kg dumbbell",))
    items = tuple(
        FittedItem(
            item_key=f"c1/s1/b1/i{i}",
            written="Step-up",
            variant_id="step-up",
            name="Step-up",
            sets=4,
            reps=Range(5, reps),
            hold_s=None,
            distance_m=None,
            contacts=None,
            per_side=True,
            alternating=False,
            rir=Range.of(2),
            load=load,
            tempo=Tempo(2, 0, "x"),
            pause_s=None,
            rest_s=Range(75, 90),
            side_rest_s=None,
            notes=("Push through the whole foot – no bounce.",),
            optional=False,
            left_right=(8, 10),
            reasons=(Reason("kit", "no 30 cm step"),),
            prediction=Prediction(0.7, 0.6, 0.8, 2.5, 1.5, 0.9, Range.of(2), "right"),
            too_hard=Recourse("low-step-up", "Low step-up", None, "Low step-up, 7 a side"),
            too_easy=None,
        )
        for i in range(lines)
    )
    block = FittedBlock("pair", "A", 4, Range(75, 90), None, items)
    session = FittedSession(
        uid=f"{runner_id}-w3-s1",
        key="c1/s1",
        name="calf and hip",
        day=monday,
        start=time(18, 30),
        minutes=34.5,
        blocks=(block,),
        fetch=("12 kg dumbbell", "20 cm step"),
        leave_out=(),
        hours_to_key=24.0,
    )
    return FittedWeek(
        runner_id=runner_id,
        runner_name="Arla T",
        programme="Fell-ready",
        programme_week=3,
        cycle_name="Foundations",
        monday=monday,
        sessions=(session,),
        prices=(LevelPrice("effort", 1.25, "reps", True),),
        rest_sessions=(("c1/s3", Reason("days", "no day is left")),),
        aim="own the single-leg positions",
    )


def sample_set(n: int, runner_id: str = "R01", *, recorded_at: datetime = MOMENT, done: float | None = 7) -> Entry:
    """The n-th set of a runner, in an envelope with an id made of both."""
    entry_id = str(uuid7(milliseconds(recorded_at), int.from_bytes(runner_id.encode()[-4:]) << 32 | n))
    day = MONDAY + timedelta(days=n // 20)
    item, number = f"c1/s1/b1/i{n % 5}", 1 + n % 4
    told = LoggedSet(
        entry_id, runner_id, day, "c1/s1", item, "step-up", number, "counted", "reps", 5, done,
        Reserve(2, 2), True, "left", 12.0, "chest", None, None, time(18, 31), "copy", recorded_at,
    )  # fmt: skip
    return Entry(entry_id, runner_id, recorded_at, "page", told)


def sample_facts(runner_id: str = "R01") -> tuple[Fact, ...]:
    """One fact of each other kind, every field in use."""
    return (
        LoggedTest("", runner_id, MONDAY, "heel raises", 24.0, "left"),
        TimeAway(runner_id, MONDAY, MONDAY + timedelta(days=6), "illness", "mat", (0.6, 0.8), "Coach A"),
        PainTold(MONDAY, "calf", "left", 4, 2, "c1/s1", "c1/s1/b1/i1", "step-up", ("pop", "fever"), "=it hurt, a bit"),
        SessionTold(MONDAY, "c1/s1", "part", time(18, 30), 7, 34.5, "time", "-late\nbus", "copy"),
        WeekTold(MONDAY, "some", "right", False, "@home \N{EN DASH} fine", "copy"),
        RunTold(MONDAY, 12.4, 71.5, 430.0, time(7, 5), "long", 6),
        Asked(MONDAY, "'quoted' \"words\"; 1,5", "yes", "Coach A"),
        Decided(MONDAY, "c1/s1", "c1/s1/b1/i1", "hold", "as written", "Coach A", "she slept well"),
        TakenBack("typing slip"),
    )


def sample_entries(runner_id: str = "R01") -> tuple[Entry, ...]:
    """An entry of every kind of fact; the last takes the first back."""
    first = sample_set(1, runner_id)
    others = [
        Entry(
            str(uuid7(milliseconds(MOMENT) + n, int.from_bytes(runner_id.encode()[-4:]))), runner_id, MOMENT, "coach", f
        )
        for n, f in enumerate(sample_facts(runner_id), start=1)
    ]
    return (first, *others[:-1], replace(others[-1], replaces=first.entry_id))
