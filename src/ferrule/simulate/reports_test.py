from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from ferrule.library.reader import load_library
from ferrule.model.entry import Reserve
from ferrule.simulate.reports import Asked, Habits, Happened, perform, told_reserve
from ferrule.simulate.squad import SimulatedSquad, make_squad
from ferrule.simulate.truth import REST, load_for

CLEAN = Habits(missing=0.0, slips=0.0, one_sided=0.0, pain=0.0, stops_early=0.0)


@pytest.fixture(scope="module")
def squad() -> SimulatedSquad:
    return make_squad(load_library()[0], 3, runners=4)


def sets_of(
    squad: SimulatedSquad, habits: Habits, variant: str = "press-up-hands-high", amount: float = 4, seeds: int = 60
) -> list[Happened]:
    found: list[Happened] = []
    asks = squad.world.variants[variant]
    asked = Asked(date(2026, 1, 5), "s1", "l1", variant, 3, amount, 2, 0.0, None)
    for seed in range(seeds):
        body = squad.bodies[seed % 4]
        found += perform(squad.world, body, asks, asked, "S01", REST, habits, np.random.default_rng([seed]))
    return found


def test_reserves_are_told_about_a_repetition_short() -> None:
    # Halperin 2022 (abstract seen): 0.95 repetitions on average; less near failure.
    rng = np.random.default_rng(1)
    writer = replace(CLEAN, writes=True)

    def middle(left: float) -> float:
        told = [told_reserve(left, 1.0, writer, rng) for _ in range(3000)]
        return float(np.mean([r.low if r.high is None else (r.low + r.high) / 2 for r in told]))

    assert 2 - middle(2) == pytest.approx(0.9, abs=0.25)
    assert 0 - middle(0) == pytest.approx(-0.15, abs=0.2)


def test_the_page_has_one_answer_from_four_up() -> None:
    rng = np.random.default_rng(2)
    told = {told_reserve(left, 1.0, CLEAN, rng) for left in (0, 2, 5, 9) for _ in range(200)}
    assert told == {Reserve(0, 0), Reserve(1, 1), Reserve(2, 2), Reserve(3, 3), Reserve(4, None)}


def test_who_taps_is_asked_after_the_last_set_only(squad: SimulatedSquad) -> None:
    for one in sets_of(squad, CLEAN):
        if one.entry.outcome == "failed":
            assert one.possible < 4
            continue
        assert (one.entry.reserve is not None) == (one.number == 3)
        assert one.entry.outcome == ("counted" if one.number == 3 else "tapped")
        assert one.done == one.asked.amount <= one.possible


def test_empty_taps_say_done_and_nothing_else(squad: SimulatedSquad) -> None:
    entries = [h.entry for h in sets_of(squad, replace(CLEAN, empty_taps=1.0))]
    assert {e.outcome for e in entries} <= {"tapped", "failed"}
    assert all(e.done is None and e.reserve is None and not e.effort_asked for e in entries if e.outcome == "tapped")


def test_who_stops_by_effort_leaves_about_what_was_meant(squad: SimulatedSquad) -> None:
    sets = sets_of(squad, replace(CLEAN, stops_early=1.0))
    left = [np.floor(h.possible) - h.done for h in sets if h.possible > 5]
    assert np.mean(left) == pytest.approx(2, abs=0.3)


def test_pain_ends_the_line(squad: SimulatedSquad) -> None:
    sets = sets_of(squad, replace(CLEAN, pain=1.0))
    assert len(sets) == 60
    assert all(h.entry.stopped == "pain" and h.done < h.asked.amount for h in sets)


def test_slips_are_slips_of_the_keyboard(squad: SimulatedSquad) -> None:
    asks = squad.world.variants["split-squat"]
    body, kg = next((b, kg) for b in squad.bodies if (kg := load_for(squad.world, b, asks, 10.5, 60)))
    asked = Asked(date(2026, 1, 5), "s1", "l1", "split-squat", 3, 8, 2, kg, "hands")
    kinds = set()
    for seed in range(200):
        for one in perform(
            squad.world,
            body,
            asks,
            asked,
            "S01",
            REST,
            replace(CLEAN, slips=1.0, writes=True),
            np.random.default_rng(seed),
        ):
            assert one.slip
            load = round(one.entry.load_kg / kg, 2)
            kinds.add(("load", load) if load != 1 else ("done", round((one.entry.done or 0) / max(one.done, 1))))
    assert ("load", 10.0) in kinds
    assert any(what == "load" and 2.1 < ratio < 2.3 for what, ratio in kinds)
    assert ("done", 10) in kinds


def test_sides_told_apart_come_in_pairs(squad: SimulatedSquad) -> None:
    sets = sets_of(squad, replace(CLEAN, one_sided=1.0), "heel-raise-one-leg", 5, 10)
    assert [h.entry.side for h in sets[:2]] == ["left", "right"]
    assert len({h.entry.entry_id for h in sets[:6]}) == 6
