from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from ferrule.capacity import curves
from ferrule.capacity.foretell import foretell, foretell_at
from ferrule.fit.choices import Choice, choices_of
from ferrule.fit.conftest import MONDAY, PLACE, MakeRunner
from ferrule.fit.predict import possible_words, predict, verdict
from ferrule.fit.runner import capacity_of, setting_of
from ferrule.model.exercise import Library
from ferrule.model.house import House
from ferrule.model.programme import Block, Dose, Item, Named
from ferrule.model.quantity import Range
from ferrule.model.squad import Runner


def written(library: Library, runner: Runner, dose: Dose, variant: str = "press-up") -> Choice:
    item = Item("A", Named("the line", variant), dose, PLACE)
    block = Block("straight", "A", Range.of(1), None, None, (item,), PLACE)
    return choices_of(item, block, setting_of(runner, library, House(), MONDAY, False)).written


def test_the_share_is_demand_over_capacity(library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    capacity = capacity_of(runner, MONDAY)
    said = predict(written(library, runner, Dose(reps=Range.of(8), rir=Range.of(2))), 1, capacity)
    assert said is not None
    assert said.share == pytest.approx(1 / math.exp(capacity.mean_log["push"]))
    assert said.share_low < said.share < said.share_high
    middle = curves.reps_at(said.share, curves.K_PRESS) - 8
    one_rep = 1.0
    assert abs(said.reserve - middle) < one_rep


@pytest.mark.parametrize(("reps", "says"), [(3, "too easy"), (13, "right"), (60, "too hard")])
def test_verdicts(library: Library, make_runner: MakeRunner, reps: float, says: str) -> None:
    runner = make_runner(sex="male", level="some")  # the norm of the level: 20 press-ups
    assert verdict(written(library, runner, Dose(reps=Range(reps, reps + 4), rir=Range.of(2)))) == says


def test_without_an_effort_nothing_is_too_easy(library: Library, make_runner: MakeRunner) -> None:
    assert verdict(written(library, make_runner(level="strong"), Dose(reps=Range.of(2)))) == "right"


def test_words_say_what_is_possible_and_what_was_meant(library: Library, make_runner: MakeRunner) -> None:
    words = possible_words(written(library, make_runner(), Dose(reps=Range(6, 8), rir=Range.of(2))))
    assert words.endswith("likely possible, 8-10 meant")
    hold = possible_words(written(library, make_runner(), Dose(hold_s=Range.of(30)), "front-plank"))
    assert hold.endswith("s meant")
    assert "likely possible, at least" in hold


@pytest.mark.parametrize(("low", "high", "said"), [
    (-1.4, -0.2, "none"), (-1.0, 2.0, "0-2"), (3.1, 3.2, "3"), (30.0, 90.0, "30-40 or more"), (50.0, 90.0, "40 or more"),
])  # fmt: skip
def test_words_of_repetitions(low: float, high: float, said: str, library: Library, make_runner: MakeRunner) -> None:
    choice = written(library, make_runner(), Dose(reps=Range(6, 8), rir=Range.of(2)))
    slices = np.array([low] * 5 + [high] * 5)
    assert possible_words(replace(choice, possible=slices)) == f"{said} likely possible, 8-10 meant"


@pytest.mark.parametrize(
    ("low", "high", "said"), [(0.1, 0.2, "less than 5 s"), (5.0, 5.1, "15 s"), (5.0, 10.0, "15-30 s")]
)
def test_words_of_seconds(low: float, high: float, said: str, library: Library, make_runner: MakeRunner) -> None:
    choice = written(library, make_runner(), Dose(hold_s=Range.of(30)), "front-plank")
    slices = np.array([low] * 5 + [high] * 5)
    assert possible_words(replace(choice, possible=slices)).startswith(f"{said} likely possible, at least ")


def test_mobility_has_no_prediction(library: Library, make_runner: MakeRunner) -> None:
    choice = written(library, make_runner(), Dose(reps=Range.of(8)), "ankle-rock")
    assert predict(choice, 1, capacity_of(make_runner(), MONDAY)) is None
    assert verdict(choice) == "right"
    assert possible_words(choice) == ""


@pytest.mark.parametrize("sets", [1, 4])
def test_the_chance_is_that_of_the_first_set(library: Library, make_runner: MakeRunner, sets: int) -> None:
    runner = make_runner()
    capacity = capacity_of(runner, MONDAY)
    said = predict(written(library, runner, Dose(reps=Range(8, 10), rir=Range.of(2))), sets, capacity)
    assert said is not None
    first = foretell(capacity, library.variants["press-up"], 0.0, None, runner.mass_kg or 65.0)
    assert said.p_complete == pytest.approx(first.chance(8))


def test_a_hold_of_what_is_counted_has_the_chance_of_its_seconds(library: Library, make_runner: MakeRunner) -> None:
    runner = make_runner()
    capacity = capacity_of(runner, MONDAY)
    said = predict(written(library, runner, Dose(hold_s=Range.of(20))), 1, capacity)
    assert said is not None
    demand = library.variants["press-up"].main.demand(0.0, None, runner.mass_kg or 65.0)  # type: ignore[union-attr]
    assert said.p_complete == pytest.approx(
        foretell_at(capacity, library.variants["press-up"], demand, hold=True).chance(20)
    )
