"""A small fitted week for the tests and the bench of the record."""

from __future__ import annotations

from datetime import date, time

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

MONDAY = date(2026, 1, 19)


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
