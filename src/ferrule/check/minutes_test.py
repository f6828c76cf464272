"""Times worked by hand; the pair against straight ratio is checked against published bounds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.check.minutes import (
    block_minutes,
    block_seconds,
    clock_seconds,
    dose_seconds,
    session_minutes,
    set_seconds,
)
from ferrule.model.exercise import Library
from ferrule.model.finding import Span
from ferrule.model.programme import Block, BlockKind, Dose, Item, Slot
from ferrule.model.quantity import Range, Tempo

A_SECOND = 1.0
EMPTY = Library({}, {}, {}, {})


def test_a_set_each_side() -> None:
    # 6 reps of 3 s, both sides, 5 s to change: 18 + 5 + 18
    assert set_seconds(6, 3.0, 2) == 41
    # 30 s hold each side, 10 s between
    assert set_seconds(None, 3.0, 2, 30, 10) == 70
    assert set_seconds(10, 2.5) == 25


def test_a_pair_by_hand() -> None:
    # setups 20 + 30; 4 rounds of (41 + 36 + 10); 3 rests of 75: 50 + 348 + 225 = 623 s
    assert block_minutes("pair", 4, [(41, 20, None), (36, 30, None)], 75, 10) == pytest.approx(623 / 60)


def test_straight_sets_by_hand() -> None:
    # 20 + 3 x 24 + 2 x 120 = 332; 20 + 2 x 30 + 1 x 60 (own rest) = 140; 60 between: 532 s
    items = [(24.0, 20.0, None), (30.0, 20.0, 60.0)]
    assert block_minutes("straight", [3, 2], items, 120) == pytest.approx(532 / 60)


def test_a_warm_up_and_a_session_by_hand() -> None:
    # setups 10 + 10, one round 40 + 40 + 5: 105 s
    warm = block_minutes("warm-up", 1, [(40, 10, None), (40, 10, None)])
    assert warm == pytest.approx(105 / 60)
    assert session_minutes([warm, 10.0]) == pytest.approx(105 / 60 + 10 + 1)
    assert session_minutes([]) == 0
    assert block_minutes("circuit", 3, []) == 0


def test_pairs_take_the_published_share_of_straight_sets() -> None:
    """Paired sets took 0.60-0.67 of the time of straight sets and more when rests are kept (Burke 2024, Zhang 2025)."""
    items = [(40.0, 20.0, None), (40.0, 20.0, None)]
    straight = block_minutes("straight", 3, items, 120)
    pair = block_minutes("pair", 3, items, 120)
    assert 0.60 <= pair / straight <= 0.80


@pytest.mark.parametrize(
    ("dose", "seconds"),
    [
        (Dose(reps=Range(5, 7), sides="each", tempo=Tempo(2, 0, 1)), 2 * 6 * 3 + 5),
        (Dose(reps=Range.of(10), pause_s=Range.of(2)), 10 * (3 + 2)),
        (Dose(reps=Range.of(4), tempo=Tempo(3, 0, "x")), 4 * 3.5),
        (Dose(hold_s=Range(20, 40)), 30),
        (Dose(hold_s=Range.of(30), sides="each", side_rest_s=Range.of(15)), 75),
        (Dose(distance_m=Range.of(20)), 20),
        (Dose(contacts=Range.of(40)), 28),
        (Dose(per_set=(12, 10, 8)), 30),
        (Dose(left=10, right=8), 18 * 3 + 5),
        (Dose(cluster=(2, 2, 2)), 6 * 3 + 2 * 15),
        (Dose(reps=Range.of(8), drop=8), 48),
        (Dose(work_s=Range.of(40)), 40),
        (Dose(rm=Range.of(8)), 24),
        (Dose(), 30),
    ],
)
def test_a_written_dose(dose: Dose, seconds: float) -> None:
    assert dose_seconds(dose, None) == pytest.approx(seconds, abs=A_SECOND / 1000)


def test_a_written_block() -> None:
    at = Span("x.md", 1)
    item = Item("A1", Slot("hinge", 1), Dose(reps=Range.of(8), sides="each", sets=Range.of(3)), at)
    block = Block("straight", "A", None, Range.of(120), None, (item,), at)
    # 20 setup + 3 x (48 + 5) + 2 x 120
    assert block_seconds(block, EMPTY) == pytest.approx(20 + 159 + 240)


@settings(max_examples=200, derandomize=True, deadline=None)
@given(
    kind=st.sampled_from(["warm-up", "straight", "pair", "circuit"]),
    rounds=st.integers(1, 6),
    sets=st.lists(st.tuples(st.floats(1, 200), st.floats(0, 60), st.none()), min_size=1, max_size=6),
    rest=st.floats(0, 300),
)
def test_more_work_is_never_shorter(
    kind: BlockKind, rounds: int, sets: list[tuple[float, float, None]], rest: float
) -> None:
    base = block_minutes(kind, rounds, sets, rest)
    assert block_minutes(kind, rounds + 1, sets, rest) > base
    assert block_minutes(kind, rounds, [*sets, (10.0, 5.0, None)], rest) > base
    assert block_minutes(kind, rounds, sets, rest + 1) >= base


def test_blocks_by_the_clock() -> None:
    """Heiskanen 2021 (programmes reference, seen): four rounds of six stations, 40 s on, 20 s off, 60 s between rounds."""
    place = Span("programme.md", 1)
    circuit = Block("circuit", "A", Range.of(4), Range.of(60), None, (), place, on_s=Range.of(40), off_s=Range.of(20))
    assert clock_seconds(circuit, 4, 6) == 4 * 6 * 60 + 3 * 60
    assert clock_seconds(replace(circuit, minutes=12), 4, 6) == 12 * 60
    assert clock_seconds(replace(circuit, on_s=None, every_s=90), 4, 6) == 4 * 90
    assert clock_seconds(replace(circuit, kind="straight", on_s=None, every_s=90), 4, 2) == 4 * 90 * 2
    assert clock_seconds(replace(circuit, on_s=None), 4, 6) is None
