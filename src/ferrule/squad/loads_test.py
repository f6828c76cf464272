"""Loads made of what is owned, beside a search through every way of picking the pieces up."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.model.fitted import LoadChoice
from ferrule.model.squad import KitItem
from ferrule.model.words import PLACES, Place
from ferrule.squad.cell import Cell
from ferrule.squad.kit_cell import read_kit
from ferrule.squad.loads import MOST_CHOICES, RUCKSACK_KG, load_choices
from ferrule.squad.place_test import SPAN


def kit(text: str) -> tuple[KitItem, ...]:
    items, findings = read_kit(Cell(text, SPAN))
    assert findings == []
    return items


def kgs(text: str, place: Place) -> list[float]:
    return [choice.kg for choice in load_choices(kit(text), place)]


@pytest.mark.parametrize(
    ("text", "place", "expected"),
    [
        ("no kit", "hands", []),
        ("mat; chair; band thin; step 20 cm", "hands", []),
        ("dumbbell 8 kg", "hands", [8]),
        ("dumbbell 8 kg", "opposite hand", [8]),
        ("dumbbell 8 kg", "same hand", [8]),
        ("dumbbell 8 kg", "chest", [8]),
        ("dumbbell 8 kg", "hips", [8]),
        ("dumbbell 8 kg", "back", []),
        ("dumbbell 8 kg x 2", "hands", [8, 16]),
        ("dumbbell 8 kg; dumbbell 8 kg", "hands", [8, 16]),
        ("dumbbell 8 kg; dumbbell 6 kg", "hands", [6, 8]),
        ("dumbbell 8 kg x 2", "same hand", [8]),
        ("adjustable dumbbell 2-8 kg in 2", "chest", [2, 4, 6, 8]),
        ("adjustable dumbbell 2-8 kg in 2 x 2", "hands", [2, 4, 6, 8, 12, 16]),
        ("adjustable dumbbell 2.5-7 kg in 1.5", "chest", [2.5, 4, 5.5, 7]),
        ("kettlebell 12 kg", "chest", [12]),
        ("kettlebell 12 kg", "same hand", [12]),
        ("kettlebell 12 kg", "hips", []),
        ("barbell 20 kg", "back", [20]),
        ("plates 5 kg x 2", "back", []),
        ("barbell 20 kg; plates 5 kg x 3", "back", [20, 30]),
        ("barbell 20 kg; plates 5 kg x 2; plates 2.5 kg x 2", "back", [20, 25, 30, 35]),
        ("barbell 20 kg; plates 5 kg x 2; plates 2.5 kg x 2", "same hand", []),
        ("barbell 20 kg; plates 5 kg x 2", "hips", [5, 20, 30]),
        ("barbell 20 kg", "chest", []),
        ("rucksack to 4 kg", "back", [1, 2, 3, 4]),
        ("rucksack to 6 kg in 2", "chest", [2, 4, 6]),
        ("rucksack", "back", []),
        ("rucksack; heavy book 1 kg x 2; water bottle 1.5 kg", "back", [1, 1.5, 2, 2.5, 3.5]),
        ("heavy book 1 kg x 4", "chest", [1, 2]),
        ("water bottles 1.5 kg x 4", "hands", [1.5, 3]),
        ("water bottles 1.5 kg x 4", "chest", []),
        ("ball", "chest", []),
        ("ball 4 kg", "chest", [4]),
        ("dumbbell 8 kg x 2; kettlebell 12 kg; barbell 20 kg; plates 5 kg x 2; rucksack to 12 kg", "ankle", []),
    ],
)
def test_a_kit_by_hand(text: str, place: Place, expected: list[float]) -> None:
    assert kgs(text, place) == expected


@pytest.mark.parametrize(
    ("text", "place", "kg", "pieces"),
    [
        ("dumbbell 8 kg x 2", "hands", 8, ("8 kg dumbbell",)),
        ("dumbbell 8 kg x 2", "hands", 16, ("two 8 kg dumbbells",)),
        ("dumbbell 8 kg x 2; kettlebell 16 kg", "hands", 16, ("16 kg kettlebell",)),
        ("kettlebell 12 kg; dumbbell 12 kg", "chest", 12, ("12 kg dumbbell",)),
        ("adjustable dumbbell 2-20 kg in 2; dumbbell 8 kg", "chest", 8, ("8 kg dumbbell",)),
        ("adjustable dumbbell 2-20 kg in 2", "chest", 6, ("adjustable dumbbell at 6 kg",)),
        ("barbell 20 kg; plates 5 kg x 4; plates 10 kg x 2", "back", 40, ("20 kg barbell", "two 10 kg plates")),
        ("barbell 20 kg; plates 5 kg x 4", "back", 40, ("20 kg barbell", "four 5 kg plates")),
        ("rucksack to 12 kg", "back", 6, ("rucksack with 6 kg",)),
        ("rucksack; heavy book 1 kg x 3", "back", 2, ("rucksack with two 1 kg heavy books",)),
    ],
)
def test_the_plainest_pieces_are_told(text: str, place: Place, kg: float, pieces: tuple[str, ...]) -> None:
    found = {choice.kg: choice.pieces for choice in load_choices(kit(text), place)}
    assert found[kg] == pieces


RACK = "barbell 20 kg; plates 25/20/15/10/5/2.5/1.25 kg x 4; dumbbells 2/4/6/8/10/12/14/16/18/20/22/24/26/28/30 kg x 2"


def test_a_whole_gym_is_thinned_to_forty_over_its_range() -> None:
    light = load_choices(kit(RACK), "back", 50.0)
    heavy = load_choices(kit(RACK), "back", 90.0)
    for choices, most in ((light, 75.0), (heavy, 135.0)):
        steps = [b.kg - a.kg for a, b in pairwise(choices)]
        assert len(choices) <= MOST_CHOICES
        assert (choices[0].kg, choices[-1].kg) == (20, most)
        assert max(steps) <= 2 * (most - 20) / (MOST_CHOICES - 1) + 2.5
    assert load_choices(kit(RACK), "back") == load_choices(kit(RACK), "back", 65.0)


WEIGHTS = st.sampled_from([1.0, 1.25, 2.0, 2.5, 5.0, 7.5, 10.0])
PLATES = st.lists(st.tuples(WEIGHTS, st.integers(1, 5)), max_size=3, unique_by=lambda p: p[0])


@given(PLATES)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_a_barbell_makes_exactly_the_totals_of_a_full_search(plates: list[tuple[float, int]]) -> None:
    items = (KitItem("barbell", kg=20.0), *(KitItem("plate", count=n, kg=kg) for kg, n in plates))
    totals: dict[float, int] = {}
    for counts in product(*(range(n // 2 + 1) for _, n in plates)):
        total = 20 + sum(2 * n * kg for n, (kg, _) in zip(counts, plates, strict=True))
        totals[total] = min(sum(counts), totals.get(total, 99))
    choices = load_choices(items, "back", 400.0)
    assert {c.kg for c in choices} <= set(totals)
    if len(totals) <= MOST_CHOICES:
        assert [c.kg for c in choices] == sorted(totals)


@given(st.lists(st.tuples(WEIGHTS, st.integers(1, 4)), max_size=3, unique_by=lambda p: p[0]))
@settings(max_examples=60, derandomize=True, deadline=None)
def test_a_rucksack_makes_exactly_the_totals_of_a_full_search(books: list[tuple[float, int]]) -> None:
    items = (KitItem("rucksack", kg=0.0), *(KitItem("heavy book", count=n, kg=kg) for kg, n in books))
    sums = {
        sum(n * kg for n, (kg, _) in zip(counts, books, strict=True))
        for counts in product(*(range(n + 1) for _, n in books))
    }
    choices = load_choices(items, "back")
    assert [c.kg for c in choices] == sorted(s for s in sums if 0 < s <= RUCKSACK_KG)


ITEMS = st.builds(
    KitItem,
    st.sampled_from(["dumbbell", "kettlebell", "barbell", "plate", "rucksack", "heavy book", "water bottle", "mat"]),
    count=st.integers(1, 6),
    kg=st.one_of(st.none(), WEIGHTS),
    up_to_kg=st.one_of(st.none(), st.just(12.0)),
    step_kg=st.one_of(st.none(), st.just(2.0)),
)


@given(st.lists(ITEMS, max_size=7).map(tuple), st.sampled_from(PLACES), st.sampled_from([None, 40.0, 90.0]))
@settings(max_examples=200, derandomize=True, deadline=None)
def test_choices_are_sorted_single_and_few(items: tuple[KitItem, ...], place: Place, mass_kg: float | None) -> None:
    choices = load_choices(items, place, mass_kg)
    totals = [c.kg for c in choices]
    assert totals == sorted(set(totals))
    assert len(totals) <= MOST_CHOICES
    assert all(c.kg > 0 and c.pieces and c.place == place and c.band is None for c in choices)


@given(st.lists(ITEMS, max_size=4).map(tuple), ITEMS, st.sampled_from(PLACES))
@settings(max_examples=150, derandomize=True, deadline=None)
def test_owning_more_takes_no_load_away(items: tuple[KitItem, ...], more: KitItem, place: Place) -> None:
    before, after = load_choices(items, place), load_choices((*items, more), place)
    if len(after) < MOST_CHOICES:
        assert {c.kg for c in before} <= {c.kg for c in after}


def test_every_band_of_known_thickness_is_a_load_thinnest_first() -> None:
    kit = (KitItem("band", band="thick"), KitItem("band"), KitItem("band", band="thin"), KitItem("dumbbell", kg=5))
    assert load_choices(kit, "band") == (
        LoadChoice(0.0, "band", ("thin band",), "thin"),
        LoadChoice(5.0, "band", ("thick band",), "thick"),
    )
    assert load_choices((KitItem("band"),), "band") == ()
