from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Literal

import pytest

from ferrule.deliver import sample
from ferrule.deliver.dose_words import asked_words, told_words
from ferrule.model.entry import LoggedSet, Outcome, Stopped
from ferrule.model.fitted import FittedItem
from ferrule.model.quantity import Range

STEP = sample.library().variants["step-up"]
ITEM = sample.item("A", "step-up", "Step-up", sets=3, reps=Range(8, 10))


@pytest.mark.parametrize(
    ("item", "said"),
    [
        (ITEM, "3 x 8-10, no weight"),
        (sample.step_up(), "4 x 5-7 a side, 12 kg at chest"),
        (replace(ITEM, reps=None, hold_s=Range.of(30), per_side=True), "3 x 30 s a side"),
        (replace(ITEM, reps=None, contacts=Range.of(20)), "3 x 20 contacts, no weight"),
        (replace(ITEM, reps=None, distance_m=Range.of(40)), "3 x 40 m, no weight"),
        (replace(ITEM, per_set=(12, 10, 8)), "12, 10, 8, no weight"),
        (replace(ITEM, left_right=(8, 10)), "3 x left 8, right 10, no weight"),
        (replace(ITEM, open_reps="max"), "3 x as many as you can, no weight"),
        (replace(ITEM, open_reps="at least"), "3 x at least 8-10, no weight"),
        (replace(ITEM, reps=None), "3 x no number given, no weight"),
    ],
)
def test_asked(item: FittedItem, said: str) -> None:
    assert asked_words(item, STEP) == said


def told(
    number: int,
    outcome: Outcome = "counted",
    done: float | None = 8,
    stopped: Stopped | None = None,
    hold: bool = False,
) -> LoggedSet:
    unit: Literal["reps", "s"] = "s" if hold else "reps"
    return LoggedSet(
        f"e{number}", "R01", date(2026, 1, 5), "1", "A", "x", number, outcome, unit, done=done, stopped=stopped
    )  # fmt: skip


@pytest.mark.parametrize(
    ("sets", "said"),
    [
        ([told(2, done=7), told(1)], "8, 7"),
        ([told(n, "tapped", None) for n in (1, 2, 3)], "3 as asked"),
        ([told(1, "tapped", None), told(2)], "as asked, 8"),
        ([told(1, "failed", 6)], "6 (failed)"),
        ([told(1, done=4, stopped="pain")], "4 (stopped: pain)"),
        ([told(1, "not said", None), told(2)], "-, 8"),
        ([told(1, "not said", None, "kit")], "- (stopped: kit)"),
        ([told(1, done=30, hold=True), told(2, done=25, hold=True)], "30, 25 s"),
        ([told(1, "tapped", None, hold=True)], "1 as asked"),
        ([], ""),
    ],
)
def test_told(sets: list[LoggedSet], said: str) -> None:
    assert told_words(sets) == said
