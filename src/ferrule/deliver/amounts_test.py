"""Counts, times, loads and dates in words."""

from datetime import date, time

import pytest

from ferrule.deliver import amounts
from ferrule.model.fitted import LoadChoice
from ferrule.model.quantity import Range, Tempo


@pytest.mark.parametrize(
    ("span", "said"),
    [
        (Range(75, 90), "75 to 90 s"),
        (Range.of(45), "45 s"),
        (Range.of(90), "90 s"),
        (Range.of(120), "2 min"),
        (Range.of(150), "2 min 30 s"),
        (Range(120, 180), "2 to 3 min"),
        (Range(60, 120), "1 to 2 min"),
        (Range(90, 150), "90 s to 2 min 30 s"),
        (Range(2.5, 3), "2.5 to 3 s"),
    ],
)
def test_times(span: Range, said: str) -> None:
    assert amounts.seconds(span) == said


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (Tempo(2, 0, 1), "2 s down, no pause, 1 s up"),
        (Tempo(3, 2, "x", 1), "3 s down, 2 s pause, up as fast as you can, 1 s at the top"),
        (Tempo(4, 0, 0), "4 s down, no pause, up at once"),
        (Tempo(2, 1, 1, 0), "2 s down, 1 s pause, 1 s up, no stop at the top"),
    ],
)
def test_tempo(written: Tempo, said: str) -> None:
    assert amounts.tempo(written) == said


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (LoadChoice(12, "chest", ("12 kg dumbbell",)), "12 kg at the chest (12 kg dumbbell)"),
        (LoadChoice(12, "hands", ("6 kg dumbbell", "6 kg dumbbell")), "12 kg in all, one 6 kg dumbbell in each hand"),
        (
            LoadChoice(8, "opposite hand", ("8 kg kettlebell",)),
            "8 kg in the hand opposite the working leg (8 kg kettlebell)",
        ),
        (LoadChoice(9, "back", ("rucksack with 9 kg",)), "9 kg on the back (rucksack with 9 kg)"),
        (LoadChoice(20, "hips", ("10 kg plate", "10 kg plate")), "20 kg on the hips (two times 10 kg plate)"),
        (
            LoadChoice(11, "chest", ("8 kg kettlebell", "3 kg book")),
            "11 kg at the chest (8 kg kettlebell and 3 kg book)",
        ),
        (LoadChoice(0, "ankle", ("medium band",), "medium"), "medium band at the ankle"),
        (LoadChoice(0, "band", ("thin band",), "thin"), "thin band"),
        (LoadChoice(5, "band", ("thick band",), "thick"), "thick band"),
    ],
)
def test_loads(choice: LoadChoice, said: str) -> None:
    assert amounts.load(choice, takes_load=True) == said


def test_no_weight_is_said_only_where_one_could_be_carried() -> None:
    assert amounts.load(None, takes_load=True) == "no weight"
    assert amounts.load(LoadChoice(0, "chest", ()), takes_load=True) == "no weight"
    assert amounts.load(None, takes_load=False) == ""


def test_dates_do_not_ask_the_machine() -> None:
    assert amounts.day(date(2026, 1, 19)) == "Monday 19 January"
    assert amounts.short_date(date(2026, 12, 6)) == "6 December"
    assert amounts.clock(time(7, 5)) == "7:05"


def test_a_small_reserve_is_said_as_people_say_it() -> None:
    assert amounts.either(Range(1, 2)) == "1 or 2"
    assert amounts.either(Range(1, 3)) == "1 to 3"
    assert amounts.either(Range.of(2)) == "2"
