from __future__ import annotations

import numpy as np
import pytest

from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.simulate.world import OFFSET_SD, load_place, make_world, t_like


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()[0]


def test_every_variant_dosed_in_reps_or_holds_is_in_the_world(library: Library) -> None:
    world = make_world(library, np.random.default_rng(1))
    dosed = {v.id for v in library.variants.values() if v.main and v.dose_kind in ("reps", "hold")}
    assert set(world.variants) == dosed
    assert all(t.second != t.group and t.log_q <= 0 for t in world.variants.values())


def test_anchors_ask_what_they_should_and_the_others_are_off(library: Library) -> None:
    world = make_world(library, np.random.default_rng(2))
    anchors = set(library.anchors.values())
    off = {}
    for t in world.variants.values():
        main = t.variant.main
        assert main is not None
        off[t.variant.id] = np.log(t.base / main.base)
    assert all(off[a] == 0 for a in anchors if a in off)
    others = np.array([o for v, o in off.items() if v not in anchors])
    assert 0.5 * OFFSET_SD["number"] < others.std() < 2 * OFFSET_SD["order"]


def test_weight_is_put_where_a_variant_takes_it(library: Library) -> None:
    assert load_place(library.variants["squat"]) in ("hands", "chest", "back")
    assert load_place(library.variants["press-up-knees"]) is None
    assert load_place(library.variants["leg-in-band"]) is None


def test_tails_are_heavier_than_a_gaussian() -> None:
    rng = np.random.default_rng(3)
    draws = np.array([t_like(rng, 5) for _ in range(20_000)])
    assert draws.std() == pytest.approx(1.0, abs=0.05)
    assert (abs(draws) > 3).mean() > 2 * 0.0027
