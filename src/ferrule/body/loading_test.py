"""The whole reference table of loads: D = d0 body mass + d1 kg for every variant and place, and docs/body.md from it."""

from __future__ import annotations

import pytest

from ferrule.body.accuracy_test import section
from ferrule.body.demand import demand_of, demands_of, held_demand
from ferrule.body.golden_test import movement
from ferrule.body.pelvis import pelvis_moment, pelvis_slope
from ferrule.body.statics import solve
from ferrule.model.words import Place

ANY: tuple[Place, ...] = ("hands", "opposite hand", "same hand", "chest", "back")
ROWS: tuple[tuple[str, str, tuple[Place, ...], float, float, float], ...] = (
    ("press-up on the floor, share", "push_up_floor", ("back",), 0.703, 0.971, 0.72),
    ("press-up on the floor, share", "push_up_floor", ("chest",), 0.703, 0.937, 0.75),
    ("squat, one leg of two", "squat", ANY, 1.616, 2.103, 0.77),
    ("split squat", "split_squat", ANY, 2.641, 3.124, 0.85),
    ("split squat, rear foot raised", "split_squat_rear_raised", ANY, 3.000, 3.479, 0.86),
    ("one-leg squat to a box", "single_leg_squat_box", ANY, 3.705, 4.190, 0.88),
    ("step-up", "step_up", ANY, 3.154, 3.567, 0.88),
    ("hinge, one leg", "hinge_one", ("hands",), 1.516, 4.74, 0.32),
    ("hinge, one leg", "hinge_one", ("chest",), 1.516, 4.29, 0.35),
    ("hinge, one leg", "hinge_one", ("back",), 1.516, 3.96, 0.38),
    ("hinge, one leg", "hinge_one", ("hips",), 1.516, 0.40, 3.8),
    ("heel rise, one leg", "heel_rise_one", ANY, 1.220, 1.226, 0.99),
    ("bridge, one leg (ordered only)", "bridge_one", ("hips",), 0.753, 1.041, 0.72),
)
"""Mechanics study, section 8: d0 per kg of body mass, d1 per kg of load, e = d0 / d1; `any place` in full."""


def of(pose: str, place: Place) -> tuple[float, float]:
    """The front leg of a split squat knows no side in a side view: d1 of either hand is that of both."""
    return demand_of(movement(pose), place=place)


@pytest.mark.parametrize(
    ("what", "pose", "places", "d0", "d1", "e"), ROWS, ids=lambda v: str(v) if isinstance(v, str) else ""
)
def test_the_reference_table(what: str, pose: str, places: tuple[Place, ...], d0: float, d1: float, e: float) -> None:
    assert what
    for place in places:
        found = of(pose, place)
        assert found[0] == pytest.approx(d0, abs=0.0006), place
        assert found[1] == pytest.approx(d1, abs=max(0.0065, 0.002 * d1)), place
        assert found[0] / found[1] == pytest.approx(e, rel=0.016), place


def test_all_places_at_once_are_the_same() -> None:
    squat = movement("squat")
    base, slopes = demands_of(squat, ANY)
    assert {place: (base, slope) for place, slope in slopes.items()} == {p: demand_of(squat, place=p) for p in ANY}


def test_the_worked_example() -> None:
    """70 kg, split squat, 2 x 8 kg, 12 reps to failure: effective load 59.2 + 16 = 75.2 kg, best 105, 46 outside."""
    d0, d1 = of("split_squat", "hands")
    body = d0 / d1 * 70
    assert body == pytest.approx(59.2, abs=0.1)
    best = (body + 16) * (1 + 12 / 30)
    assert best == pytest.approx(105, abs=0.5)
    assert best - body == pytest.approx(46, abs=0.5)


def test_a_weight_in_the_hands_hangs() -> None:
    """The stored squat holds its arms forward; with a weight they hang, the body leans anew, and the sum stays."""
    squat = movement("squat")
    bare, loaded = solve(squat).posture, solve(squat, load_kg=20, place="hands").posture
    assert bare.angles["lead.upper_arm"] != 0
    assert loaded.angles["lead.upper_arm"] == loaded.angles["rear.upper_arm"] == 0
    assert loaded.angles["trunk"] != pytest.approx(bare.angles["trunk"], abs=0.01)
    one = solve(movement("split_squat"), load_kg=10, place="opposite hand").posture
    assert one.angles["rear.upper_arm"] == 0
    assert one.angles["lead.upper_arm"] == solve(movement("split_squat")).posture.angles["lead.upper_arm"]


def test_the_place_in_a_squat_moves_the_back_and_not_the_sum() -> None:
    """20 kg: lower back 1.70 N·m/kg with it on the back, 1.91 at the chest (section 8)."""
    squat = movement("squat")
    found = {place: solve(squat, load_kg=20, place=place).moments for place in ("back", "chest")}
    assert found["back"]["lumbar"] == pytest.approx(1.70, abs=0.006)
    assert found["chest"]["lumbar"] == pytest.approx(1.91, abs=0.006)
    sums = [held_demand(squat, load_kg=20, place=place) for place in ("back", "chest")]
    assert sums[0] == pytest.approx(sums[1], rel=1e-3)


def loading_table() -> str:
    lines = ["| what | place of the load | d0 | d1 | d0 : d1 |", "|---|---|---|---|---|"]
    for what, pose, places, *_ in ROWS:
        found = [of(pose, place) for place in places]
        d0, d1 = found[0][0], sum(d for _, d in found) / len(found)
        where = "hands, one hand, chest, back" if places == ANY else places[0]
        lines.append(f"| {what} | {where} | {d0:.2f} | {d1:.2f} | {d0 / d1:.2f} |")
    for place in ("opposite hand", "hands", "hips", "same hand"):
        word: Place = place
        lines.append(f"| pelvis, standing on one leg | {place} | {pelvis_moment():.2f} | {pelvis_slope(word):+.2f} | |")
    return "\n".join(lines)


def test_the_table_in_the_docs_is_what_is_computed(request: pytest.FixtureRequest) -> None:
    section("loading", loading_table(), update=bool(request.config.getoption("--golden-update")))
